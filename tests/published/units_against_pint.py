"""Compares every torque, pressure and mass factor, and those of what fields take
in other units, with pint's, in exact fractions.

Usage: units_against_pint.py target/units.json

`cargo test --test published_torque` writes that file; `make units` does both. A factor given as its
decimal digits must equal pint's; one given as a float must be the float nearest
to pint's, one that a field's text goes through within two last digits of it: it
is multiplied twice on the way.
"""

import json
import sys
from fractions import Fraction

import pint

# Every unit that may occur, and so must: a unit left out is a failure.
PINT = {
    "torque_exact": {
        "N*m": "newton * meter",
        "ft*lbf": "foot * force_pound",
        "in*lbf": "inch * force_pound",
        "kgf*m": "force_kilogram * meter",
    },
    "pressure": {
        "psi": "force_pound / inch ** 2",
        "kPa": "kilopascal",
        "bar": "bar",
    },
    "mass": {
        "lb": "pound",
        "kg": "kilogram",
    },
}
PINT["torque"] = PINT["torque_exact"]
BASE = {"torque_exact": "newton * meter", "torque": "newton * meter", "pressure": "pascal", "mass": "kilogram"}
# Of a field's text: the unit, and that of the field's limits.
TYPED = {
    "Psi": ("force_pound / inch ** 2", "kilopascal"),
    "Bar": ("bar", "kilopascal"),
    "KilogramForcePerSquareCentimetre": ("force_kilogram / centimeter ** 2", "kilopascal"),
    "Pound": ("pound", "kilogram"),
    "Tonne": ("metric_ton", "kilogram"),
    "MilePerHour": ("mile / hour", "kilometer / hour"),
    "Foot": ("foot", "meter"),
    "CubicFootPerMinute": ("foot ** 3 / minute", "liter / minute"),
    "FootPound": ("foot * force_pound", "newton * meter"),
    "InchPound": ("inch * force_pound", "newton * meter"),
    "KilogramMetre": ("force_kilogram * meter", "newton * meter"),
}
PINT["typed"] = {name: unit for name, (unit, _) in TYPED.items()}
LAST_DIGIT = Fraction(1, 2**52)


def main(path):
    with open(path, encoding="utf-8") as file:
        ours = json.load(file)
    registry = pint.UnitRegistry(non_int_type=Fraction)
    passed = failed = 0
    for group, units in PINT.items():
        if set(ours.get(group, {})) != set(units):
            print(f"{group}: expected {sorted(units)}, got {sorted(ours.get(group, {}))}")
            failed += 1
            continue
        for name, expression in units.items():
            one = Fraction(1) * registry.parse_units(expression)
            base = TYPED[name][1] if group == "typed" else BASE[group]
            theirs = Fraction(one.to(registry.parse_units(base)).magnitude)
            written = ours[group][name]
            if group == "torque_exact":
                same = Fraction(written) == theirs
            elif group == "typed":
                same = abs(Fraction(float(written)) / theirs - 1) <= 2 * LAST_DIGIT
            else:
                same = float(written) == theirs.numerator / theirs.denominator
            print(f"{group:12} {name:32} {written:20} {float(theirs)!r:20} {'ok' if same else 'DIFFERS'}")
            passed += same
            failed += not same
    print(f"pint {pint.__version__}")
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
