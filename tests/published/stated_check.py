"""Converts stated torques and pressures again, in fractions, sharing nothing
with the program but the definitions of the units.

Reads the program's figures as JSON on standard input, one object a figure:
what was stated (`unit`, `tolerance`, `numbers` as decimal texts), and what is
shown of it (`to`, `decimals`, `nominal`, and `low` and `high` where a range is
stated). Exits 0 if all agree, 1 if any does not, 2 if the input can't be read.
Needs nothing but Python 3.

Definitions: NIST SP 811 (2008), Appendix B.8: pound 0.45359237 kg, standard
gravity 9.80665 m/s2, foot 0.3048 m, inch 0.0254 m. The nominal is to the
nearest, but never outside the range; the range is rounded inward, and shown
with more decimals where fewer than two values would be left.
"""

import json
import math
import sys
from collections import Counter
from fractions import Fraction

POUND = Fraction("0.45359237") * Fraction("9.80665")
KILOGRAM = Fraction("9.80665")
FOOT, INCH = Fraction("0.3048"), Fraction("0.0254")
UNITS = {
    "N*m": Fraction(1),
    "ft*lbf": POUND * FOOT,
    "in*lbf": POUND * INCH,
    "kgf*m": KILOGRAM,
    "psi": POUND / INCH**2,
    "kPa": Fraction(1000),
    "bar": Fraction(100_000),
    "kgf/cm2": KILOGRAM / Fraction("0.01") ** 2,
}


def limits(kind, numbers):
    """Nominal and range as stated, in the stated unit."""
    first, *rest = (Fraction(number) for number in numbers)
    if kind == "none":
        return first, None
    if kind == "percent":
        side = first * rest[0] / 100
        return first, (first - side, first + side)
    if kind == "plus_minus":
        return first, (first - rest[0], first + rest[0])
    if kind == "minus_plus":
        return first, (first - rest[0], first + rest[1])
    assert kind == "range", kind
    return (first + rest[0]) / 2, (first, rest[0])


def shown(figure):
    ratio = UNITS[figure["unit"]] / UNITS[figure["to"]]
    nominal, ends = limits(figure["tolerance"], figure["numbers"])
    decimals = figure["asked"]
    if ends:
        while True:
            scale = 10**decimals
            low = math.ceil(ends[0] * ratio * scale)
            high = math.floor(ends[1] * ratio * scale)
            if low < high or decimals == 6:
                break
            decimals += 1
    scale = 10**decimals
    # Halves go up, as on paper; Python's own round goes to the even.
    nearest = math.floor(nominal * ratio * scale + Fraction(1, 2))
    if ends:
        nearest = min(max(nearest, low), high)
        return decimals, [Fraction(n, scale) for n in (nearest, low, high)]
    return decimals, [Fraction(nearest, scale)]


def main():
    figures = json.load(sys.stdin)
    seen, wrong = Counter(), 0
    for figure in figures:
        decimals, numbers = shown(figure)
        theirs = [Fraction(figure[name]) for name in ("nominal", "low", "high") if name in figure]
        seen[figure["tolerance"]] += 1
        seen["more decimals"] += decimals > figure["asked"]
        if (decimals, numbers) != (figure["decimals"], theirs):
            wrong += 1
            print(f"{figure}\n  here {decimals} {[float(n) for n in numbers]}")
    print(f"{len(figures)} figures, {wrong} differ; {dict(seen)}")
    return 1 if wrong else 0


if __name__ == "__main__":
    try:
        sys.exit(main())
    except (ValueError, KeyError, AssertionError) as error:
        print(f"bad input: {error!r}", file=sys.stderr)
        sys.exit(2)
