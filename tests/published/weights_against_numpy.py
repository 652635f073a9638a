"""Solves random ticket sets again with numpy's least squares.

Usage: weights_against_numpy.py target/weights.json

`cargo test --test published_weights` writes that file; `make weights` does both.
What a plate shows is worked out here from wheel loads, not from rows of a
matrix; the rows are had by trying each unknown alone.
"""

import json
import sys

import numpy as np

TOLERANCE = 1e-6  # kg
RANK = 1e-8

# Stated in src/calc/weights/estimate.rs; here once more.
AS_BUILT, LOADED, BALL = 0.05, 0.10, 0.20
FRONT_SHARE, BALL_SHARE = (0.55, 0.07), (0.10, 0.05)


def wheel_loads(of, unknowns, hitched):
    """Mass on each wheel, by (axle, side): moments about the vehicle's axles."""
    corners = dict(zip([("front", 0), ("front", 1), ("rear", 0), ("rear", 1)], unknowns[:4]))
    ball, relief = unknowns[4:6]
    if of["measured"]:
        relief = ball * of["overhang"] / of["wheelbase"]
    if hitched:
        for side in (0, 1):
            corners["front", side] -= relief / 2
            corners["rear", side] += (ball + relief) / 2
    for line in range(of["lines"]):
        for side in (0, 1):
            corners[f"line {line}", side] = unknowns[6 + 2 * line + side]
    return corners, ball


def plate(of, unknowns, weighing, wheels):
    trailer = [f"line {line}" for line in range(of["lines"])]
    on = {
        "front alone": ["front"],
        "rear alone": ["rear"],
        "vehicle alone": ["front", "rear"],
        "front hitched": ["front"],
        "rear hitched": ["rear"],
        "vehicle hitched": ["front", "rear"],
        "trailer axles": trailer,
        "rear and trailer": ["rear"] + trailer,
        "combination": ["front", "rear"] + trailer,
        "trailer whole": trailer,
        "ball": [],
        "trailer line 0": ["line 0"],
        "trailer line 1": ["line 1"],
        "trailer line 2": ["line 2"],
    }[weighing]
    loads, ball = wheel_loads(of, unknowns, not weighing.endswith("alone"))
    sides = {"both": (0, 1), "left": (0,), "right": (1,)}[wheels]
    shown = sum(loads[axle, side] for axle in on for side in sides)
    return shown + (ball if weighing in ("trailer whole", "ball") else 0)


def row(of, weighing, wheels):
    return np.array([plate(of, unit, weighing, wheels) for unit in np.eye(12)])


def estimates(of):
    """What stands in for tickets, with its doubt."""
    found = []
    for whole_name, lever_name, whole, part, share, doubt, aboard, length in (
        ("vehicle alone", "front alone", of["unladen"], of["front"], FRONT_SHARE, AS_BUILT, False, of["wheelbase"]),
        ("trailer whole", "ball", of["tare"], of["ball"], BALL_SHARE, BALL, True, of["drawbar"]),
    ):
        if whole is None:
            continue
        items = [(mass, at / length) for trailer, mass, at in of["items"] if trailer == aboard]
        levered = share[0] * whole if part is None else part
        levered_doubt = share[1] * whole if part is None else doubt * part
        found.append((whole_name, whole + sum(mass for mass, _ in items),
                      AS_BUILT * whole + LOADED * sum(mass for mass, _ in items)))
        found.append((lever_name, levered + sum(mass * at for mass, at in items),
                      levered_doubt + LOADED * sum(abs(mass * at) for mass, at in items)))
    return [(row(of, name, "both"), mass, max(off, 1.0)) for name, mass, off in found]


def solve(readings):
    """Gains and null space of weighted least squares."""
    if not readings:
        return np.zeros((12, 0)), np.eye(12)
    rows = np.array([reading[0] for reading in readings])
    doubts = np.array([reading[2] for reading in readings])
    weighted = rows / doubts[:, None]
    gains = np.linalg.pinv(weighted, rcond=RANK) / doubts
    _, singular, basis = np.linalg.svd(weighted)
    rank = int((singular > RANK * singular[0]).sum())
    return gains, basis[rank:].T


def main(path):
    with open(path, encoding="utf-8") as file:
        data = json.load(file)
    counts = {"from tickets": 0, "estimated": 0, "open": 0, "residuals": 0}
    worst = {"likely": 0.0, "doubt": 0.0, "residual": 0.0, "explained": 0.0}
    wrong = []

    def compare(what, ours, theirs, context):
        off = abs(ours - theirs)
        worst[what] = max(worst[what], off)
        if not off <= TOLERANCE:
            wrong.append(f"{context} {what}: {ours} {theirs}")

    for number, of in enumerate(data["sets"]):
        read = [(row(of, t["weighing"], t["wheels"]), t["mass"], t["step"]) for t in of["tickets"]]
        extra = estimates(of)
        gains, free = solve(read)
        y = np.array([reading[1] for reading in read])
        # numpy's own least squares, for what the tickets determine.
        likely = np.zeros(12)
        if read:
            doubts = np.array([reading[2] for reading in read])
            rows = np.array([reading[0] for reading in read])
            likely = np.linalg.lstsq(rows / doubts[:, None], y / doubts, rcond=RANK)[0]
        # Rounding must not pass for what an estimate says of an open direction.
        along = [np.where(np.abs(e[0] @ free) < RANK, 0, e[0] @ free) for e in extra]
        along = [(np.pad(a, (0, 12 - a.size)), e[1], e[2]) for a, e in zip(along, extra)]
        second, _ = solve(along)
        fill = free @ second[: free.shape[1]]
        rows2 = np.array([e[0] for e in extra]).reshape(len(extra), 12)
        y2 = np.array([e[1] for e in extra])
        all_gains = np.hstack([gains - fill @ rows2 @ gains, fill])
        all_likely = likely + fill @ (y2 - rows2 @ likely)
        all_doubts = np.array([r[2] for r in read + extra])
        _, all_free = solve(read + extra)
        for weighing, wheels, ours in of["figures"]:
            c = row(of, weighing, wheels)
            context = f"set {number} {weighing} {wheels}"
            known = np.abs(c @ all_free).max(initial=0) < 1e-6
            if known != (ours is not None):
                wrong.append(f"{context}: known {known}, ours {ours}")
                continue
            if ours is None:
                counts["open"] += 1
                continue
            estimated = np.abs(c @ free).max(initial=0) >= 1e-6
            counts["estimated" if estimated else "from tickets"] += 1
            if estimated != ours["estimated"]:
                wrong.append(f"{context}: estimated {estimated}")
            compare("likely", ours["likely"], c @ all_likely, context)
            compare("doubt", ours["doubt"], np.abs(c @ all_gains) @ all_doubts, context)
        if len(of["residuals"]) != len(read):
            wrong.append(f"set {number}: {len(of['residuals'])} residuals")
        for i, (off, explained) in enumerate(of["residuals"]):
            counts["residuals"] += 1
            compare("residual", off, y[i] - read[i][0] @ likely, f"set {number} ticket {i}")
            spread = np.eye(len(read))[i] - read[i][0] @ gains
            compare("explained", explained, np.abs(spread) @ doubts, f"set {number} ticket {i}")

    print(f"numpy {np.__version__}, {len(data['sets'])} ticket sets, seed {data['seed']}")
    for name, count in counts.items():
        print(f"{name:14} {count}")
        if count < 100:
            wrong.append(f"only {count} {name}: the sets are not random enough")
    for name, off in worst.items():
        print(f"greatest difference, {name:10} {off:.1e} kg (within {TOLERANCE:.0e})")
    for line in wrong[:20]:
        print(line)
    print(f"{len(wrong)} differ")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
