"""Works the footprint out again, sharing nothing with the program but the papers.

Reads the program's figures as JSON on standard input, prints both side by side
where they differ, and exits 0 if all agree, 1 if any does not, 2 if the input
can't be read. Needs nothing but Python 3.

Stiffness: Rhyne 2005 (coefficients from memory). Contact: Besselink, Schmeitz,
Pacejka 2010 (coefficients as read in open tyre-model code). The area is found
by adding up strips of the superellipse, the bounds from the tyre's circle and
from the carcass pressure, each by its own definition.
"""

import json
import math
import sys
from fractions import Fraction

AGREE = 1e-6  # The strips are good to about 1e-7.

INCH = Fraction("25.4")
GRAVITY = Fraction("9.80665")


def stiffness_line(section, aspect, rim):
    """Slope (kgf/mm per kPa) and constant (kgf/mm) of stiffness over pressure."""
    overall = section * aspect / 50 + rim * INCH
    inside = (Fraction("1.03") - Fraction("0.004") * aspect) * section * overall
    return 0.00028 * math.sqrt(inside), 3.45


def strips(a, b, count=200_000):
    """Area within |x/a|^3 + |y/b|^3 = 1: four quarters, by the midpoint of each
    strip. x = a(1 - u^3) spreads the strips so that the steep end is even."""
    total = 0.0
    for i in range(count):
        u = (i + 0.5) / count
        x = 1 - u**3
        total += (1 - x**3) ** (1 / 3) * 3 * u * u / count
    return 4 * a * b * total


UNIT_AREA = strips(1.0, 1.0)


def footprint(given, pressure):
    section, aspect, rim = (Fraction(str(given[k])) for k in ("section_mm", "aspect_pct", "rim_in"))
    slope, constant = stiffness_line(section, aspect, rim)
    k = slope * pressure + constant
    height = section * aspect / 100
    radius = rim * INCH / 2 + height
    deflection = given["load_kg"] / k
    x = deflection / float(radius)
    a = float(radius) * (0.733 * x + 0.671 * x**0.5)
    b = float(section) * (1.059 * x ** (1 / 3) - 1.1878 * x)
    area = UNIT_AREA * a * b
    newtons = given["load_kg"] * float(GRAVITY)
    return {
        "stiffness_kgf_per_mm": k,
        "deflection_mm": deflection,
        "deflection_share": deflection / float(height),
        "loaded_radius_mm": float(radius) - deflection,
        "length_mm": 2 * a,
        "width_mm": 2 * b,
        "area_cm2": area / 100,
        "ground_pressure_kpa": newtons / area * 1000,
    }, float(radius)


def chord(radius, deflection):
    """By the angle that the ground plane cuts off the circle."""
    return 2 * radius * math.sin(math.acos((radius - deflection) / radius))


def again(given):
    before, radius = footprint(given, given["before_kpa"])
    after, _ = footprint(given, given["after_kpa"])
    slope, constant = stiffness_line(
        *(Fraction(str(given[k])) for k in ("section_mm", "aspect_pct", "rim_in"))
    )
    carcass = constant / slope
    membrane = (given["before_kpa"] + carcass) / (given["after_kpa"] + carcass)
    length_only = chord(radius, after["deflection_mm"]) / chord(radius, before["deflection_mm"])
    return {
        "before": before,
        "after": after,
        "growth": {
            "least": min(membrane, length_only),
            "estimate": after["area_cm2"] / before["area_cm2"],
            "greatest": max(membrane, length_only),
        },
        "clearance_lost_mm": before["loaded_radius_mm"] - after["loaded_radius_mm"],
    }


def flat(tree, path=""):
    for key, value in tree.items():
        if isinstance(value, dict):
            yield from flat(value, f"{path}{key}.")
        else:
            yield path + key, value


def main():
    cases = json.load(sys.stdin)
    compared = differing = 0
    for case in cases:
        given = case.pop("given")
        ours, theirs = dict(flat(again(given))), dict(flat(case))
        if ours.keys() != theirs.keys():
            print("different figures:", sorted(ours.keys() ^ theirs.keys()))
            return 1
        for key, value in ours.items():
            compared += 1
            if not abs(value - theirs[key]) <= AGREE * abs(value):
                differing += 1
                print(f"{given}: {key} is {theirs[key]}, here {value}")
    print(f"{compared} figures compared, {differing} differ")
    return 1 if differing or not compared else 0


if __name__ == "__main__":
    try:
        sys.exit(main())
    except (ValueError, KeyError, TypeError) as error:
        print(f"input: {error!r}")
        sys.exit(2)
