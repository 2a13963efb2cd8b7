"""A steering column of Cardan joints, by the crosses' pins: each square to its own shaft, and to each other.

No ratio of tangents is used: the driven pin is where the plane square to the driven shaft meets the
plane square to the driving pin.
"""

import numpy as np

from car_points import REAL, degrees, radians
from distances import cross, unit

SWEEP_DEG = range(-540, 541, 45)


def driven(bend, phase, turn):
    """Turn of the driven shaft from straight ahead, radians, for a turn of the driving one; without jumps."""
    # The shafts point up the column; the bend lies in the plane of x and z.
    after = np.array([np.sin(bend), 0 * bend, np.cos(bend)])

    def pin(angle):
        return unit(cross(after, np.array([np.cos(angle), np.sin(angle), 0 * angle])))

    start, steps = pin(phase), max(1, int(np.ceil(abs(float(turn)) / 0.5)))
    out, before = REAL(0), start
    for k in range(1, steps + 1):
        now = pin(phase + turn * k / steps)
        out = out + np.arctan2(cross(before, now) @ after, before @ now)
        before = now
    return out


def sweep(axle):
    """Turn of the shaft that enters rack or box over that of the steering wheel, degrees, + = left."""
    out = []
    for wheel in SWEEP_DEG:
        turn = radians(REAL(wheel))
        for joint in axle.words["column"]["joints"]:
            turn = driven(radians(joint["bend_deg"]), radians(joint["phase_deg"]), turn)
        out.append(float(degrees(turn)) + 0.0)
    return {"steering_wheel_deg": list(SWEEP_DEG), "shaft_deg": out}
