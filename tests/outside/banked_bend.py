#!/usr/bin/env python3
"""A car on four unlike springs in a banked bend, solved as one set of linear equations in the horizontal and the
vertical, without a line of this project's code: four tyre loads, the side force, two rises and roll.

    python3 tests/outside/banked_bend.py            writes banked_bend.json
    python3 tests/outside/banked_bend.py --check    recomputes, compares; exit 1 on disagreement

Statics of a rigid body on springs (text-books of mechanics, from memory). Wheels are guided straight up, so the
roll centres lie on the road; an anti-roll bar in front twists by the difference of the wheels' travels over its arm.
"""

import json
import sys
from pathlib import Path

import numpy as np

GRAVITY = 9.80665
MASS, HEIGHT, BASE, TRACK = 1000.0, 0.5, 2.5, 1.2
FRONT, LEFT, CROSS = 0.55, 0.56, 0.53
SPRINGS = [34e3, 27e3, 18e3, 23e3]
BAR_RATE, BAR_ARM = 900.0, 0.25
# Horizontal acceleration to the left, m/s2, and banking, degrees, + = the road falls to the left.
CASES = [(0.0, 0.0), (6.0, 0.0), (6.0, 15.0), (14.0, 24.0), (-5.0, 8.0), (0.0, 10.0), (8.0, -6.0)]
STORED = Path(__file__).parent / "banked_bend.json"
ACROSS = np.array([0.5, -0.5, 0.5, -0.5]) * TRACK  # front left, front right, rear left, rear right


def static_loads():
    sums = np.array([[1, 1, 1, 1], [1, 1, 0, 0], [1, 0, 1, 0], [0, 1, 1, 0]], float)
    return np.linalg.solve(sums, MASS * GRAVITY * np.array([1.0, FRONT, LEFT, CROSS]))


def solved(acceleration, degrees):
    """Unknowns: tyre loads N (4), side force S of all tyres, rises front and rear, roll."""
    stand = static_loads()
    aside = float(stand @ ACROSS) / (MASS * GRAVITY)
    sine, cosine = np.sin(np.radians(degrees)), np.cos(np.radians(degrees))
    a, b = np.zeros((8, 8)), np.zeros(8)
    # The road's unit vectors, horizontal (to the left) and vertical: along (cosine, -sine), onto (sine, cosine).
    a[0, :4], a[0, 4], b[0] = sine, cosine, MASS * acceleration
    a[1, :4], a[1, 4], b[1] = cosine, -sine, MASS * GRAVITY
    # Fore and aft the mass stands where the front wheels carry their share of all load.
    a[2, :2], a[2, 2:4] = 1.0 - FRONT, -FRONT
    # Moments about the car's axis on the road: loads at the tyres, all of it back at the mass, which has moved
    # aside by height times roll; the side force acts on the road, the mass above it. The load that moves the
    # leaning mass is what the bend presses with, so that the equation is linear for a given bend.
    onto = MASS * (GRAVITY * cosine + acceleration * sine)
    along = MASS * (acceleration * cosine - GRAVITY * sine)
    a[3, :4], a[3, 7], b[3] = ACROSS, onto * HEIGHT, onto * aside - along * HEIGHT
    # Springs and bar: each tyre's load falls as the body rises over it.
    for wheel in range(4):
        rise = np.zeros(8)
        rise[5 + wheel // 2], rise[7] = 1.0, ACROSS[wheel]
        a[4 + wheel, wheel] = 1.0
        a[4 + wheel] += SPRINGS[wheel] * rise
        if wheel < 2:
            # Twist of the bar per roll, and the force at the wheel for it.
            a[4 + wheel, 7] += BAR_RATE / BAR_ARM**2 * TRACK * (1.0 if wheel == 0 else -1.0)
        b[4 + wheel] = stand[wheel]
    x = np.linalg.solve(a, b)
    assert abs(x[4] - along) < 1e-8, "the side force is what is along the road"
    return {"acceleration": acceleration, "banking_deg": degrees, "loads": list(x[:4]), "front": x[5], "rear": x[6],
            "roll": x[7]}


def main():
    fresh = {"static_loads": list(static_loads()), "springs": SPRINGS, "left": LEFT, "cross": CROSS,
             "cases": [solved(*case) for case in CASES]}
    if "--check" not in sys.argv[1:]:
        STORED.write_text(json.dumps(fresh, indent=1) + "\n", encoding="utf-8")
        print(f"wrote {STORED}")
        return 0
    stored = json.loads(STORED.read_text(encoding="utf-8"))
    flat = lambda one: [v for v in one.values() if not isinstance(v, list)] + one["loads"]
    pairs = [(x, y) for a, b in zip(stored["cases"], fresh["cases"], strict=True) for x, y in zip(flat(a), flat(b))]
    worst = max(abs(x - y) / max(1.0, abs(y)) for x, y in pairs)
    print(f"{len(pairs)} numbers compared with {STORED.name}, largest difference {worst:.1e}")
    return 0 if worst < 1e-10 else 1


if __name__ == "__main__":
    sys.exit(main())
