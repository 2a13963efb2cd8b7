"""What the springs of a beam axle make of its wheels, by the balance of forces and moments on the axle.

Every link is a rod that can only push or pull along its line; the springs push along theirs. Six equations of
balance leave the four rods and two more forces: in the design pose the springs, under the weight on the tyres;
in any other pose the upright forces at the wheel centres that hold the springs as they are then. Rates are
differences of those. No velocity and no energy has a part in it.
"""

import numpy as np

from axle_solutions import PAIR_MM, Table, metres
from car_points import REAL
from corner_readings import STEP, contact_of
from distances import cross, length, refined, unit
from linkages import beam_assembly, followed

GRAVITY = REAL("9.80665")
UP = np.array([0, 0, 1], dtype=REAL)
# Both wheels together, opposite ways, one alone: this wheel's travel, then the other's.
MOTIONS = {"heave": (1, 1), "roll": (1, -1), "own": (1, 0)}


def wrench(force, at):
    return np.concatenate([force, cross(at, force)])


class Balance:
    """The axle's rods and springs, by the names of their ends; body first."""

    def __init__(self, axle):
        self.axle = axle
        self.assembly, _ = beam_assembly(axle)
        design = self.assembly.design
        names = [(f"{side}.{which}_inner", f"{side}.{which}_outer")
                 for side in axle.sides for which in ("lower_link", "upper_link")]
        names += [("top_link_inner", "top_link_outer"), ("panhard_rod_body", "panhard_rod_axle")]
        self.rods = [pair for pair in names if pair[1] in design]
        if len(self.rods) != 4:
            raise ValueError(f"four rods hold a beam axle, not {len(self.rods)}")
        self.springs = [(f"{side}.damper_body", f"{side}.damper_rocker") for side in axle.sides]
        self.rates = [corner.spring["rate_n_per_mm"] * 1000 for corner in axle.sides.values()]

    def lines(self, pose, pairs):
        """The wrench on the axle of a newton in each, pushing."""
        return [wrench(unit(pose[moving] - pose[fixed]), pose[moving]) for fixed, moving in pairs]

    def balanced(self, pose, pairs_or_wrenches, known):
        columns = self.lines(pose, self.rods) + pairs_or_wrenches
        return refined(np.column_stack(columns), -known)[4:]

    def design_loads(self, weights):
        """Force of each spring under these weights on the tyres, newtons, by side."""
        pose = self.assembly.solve([0, 0])
        known = np.zeros(6, dtype=REAL)
        for side, corner in self.axle.sides.items():
            contact, _ = contact_of(corner, pose[f"{side}.spin_axis"], pose[f"{side}.wheel_centre"])
            known = known + wrench(weights[side] * UP, contact)
        return self.balanced(pose, self.lines(pose, self.springs), known)

    def wheel_forces(self, pose, loads):
        """The upright force at each wheel centre that balances the springs, newtons."""
        known = np.zeros(6, dtype=REAL)
        for (fixed, moving), rate, load, line in zip(self.springs, self.rates, loads, self.lines(pose, self.springs)):
            design = self.assembly.design
            shorter = length(design[moving] - design[fixed]) - length(pose[moving] - pose[fixed])
            known = known + (load + rate * shorter) * line
        # The road pushes up on the wheel as the springs push down on the axle.
        return self.balanced(pose, [wrench(UP, pose[f"{side}.wheel_centre"]) for side in self.axle.sides], known)


def slopes(function, step):
    """First and second derivative at zero by Richardson's differences."""
    here = function(REAL(0))
    first, second = [], []
    for halving in range(4):
        h = step / 2**halving
        up, down = function(h), function(-h)
        first.append((up - down) / (2 * h))
        second.append((up - 2 * here + down) / (h * h))
    for row in (first, second):
        weight = 1
        while len(row) > 1:
            weight *= 4
            row[:] = [(weight * fine - coarse) / (weight - 1) for coarse, fine in zip(row, row[1:])]
    return first[0], second[0]


def springs_of_beam(car, end, axle):
    """Loads of the springs at design, and the wheels' rates and their gains over both travels; empty where the car
    file does not say rates and weights."""
    known = all(corner.spring and "rate_n_per_mm" in corner.spring for corner in axle.sides.values())
    if not known or "mass_kg" not in car or "weight_share_front" not in car:
        return {}
    share = car["weight_share_front"] if end == "front" else 1 - car["weight_share_front"]
    balance = Balance(axle)
    if "wheel_loads_kg" in car:
        weights = {side: car["wheel_loads_kg"][f"{end}_{side}"] * GRAVITY for side in axle.sides}
    else:
        weights = {side: car["mass_kg"] * GRAVITY * share / 2 for side in axle.sides}
    loads = balance.design_loads(weights)
    tables = {side: Table() for side in axle.sides}
    for i, left in enumerate(PAIR_MM):
        for right in PAIR_MM:
            travels = [metres(left), metres(right)]
            pose = followed(balance.assembly, travels, lambda steer: {}, 0)
            for place, side in enumerate(axle.sides):
                values = {}
                for name, (own, other) in MOTIONS.items():
                    shares = (own, other) if place == 0 else (other, own)

                    def force(h):
                        moved = [t + h * s for t, s in zip(travels, shares)]
                        return balance.wheel_forces(balance.assembly.solve(moved, {}, pose), loads)[place]

                    rate, gain = slopes(force, STEP)
                    values |= {f"wheel_rate_{name}_n_per_mm": rate / 1000,
                               f"wheel_rate_gain_{name}_n_per_mm2": gain / 1000000}
                tables[side].keep(i, values)
    return {"springs": {
        "loads_n": [float(load) for load in loads],
        "wheel_rates": {side: table.rows for side, table in tables.items()},
    }}
