"""The slow turn that the front wheels ask for, by rolling: no line is cut with another.

The middle between the rear contacts goes square to the rear wheels' mean axis, at a metre a second. The car
turns about it at some rate; a front wheel asks for the rate at which its contact has no speed along its axis.
A rate per metre of way is a curvature; the turn has the mean of both, and its centre stands still.
"""

import numpy as np

from axle_readings import on_ground
from axle_solutions import SWEEP_SHARES, CornerWay, steers
from distances import cross, unit
from stored import plain


def turns(front, rear):
    """Curvatures, turn centre and circles over the steering input, both axles at zero travel."""
    at_design = {side: (corner.spin_axis, corner.points["wheel_centre"]) for side, corner in rear.sides.items()}
    _, _, rear_contacts, _ = on_ground(rear, at_design)
    middle = (rear_contacts["left"] + rear_contacts["right"]) / 2
    leftward = lambda axle, spins: {side: spin * axle.sides[side].side for side, spin in spins.items()}
    rear_axes = leftward(rear, {side: spin for side, (spin, _) in at_design.items()})
    ways = {side: CornerWay(front, side) for side in front.sides}
    out = {"steer": steers(front, SWEEP_SHARES), "left_curvature_per_m": [], "right_curvature_per_m": [],
           "curvature_per_m": [], "turn_centre_y_m": [], "left_contact_circle_m": [], "right_contact_circle_m": []}
    for steer in out["steer"]:
        poses = {side: way.pose(0, steer) for side, way in ways.items()}
        wheels = {side: (pose["spin_axis"], pose["wheel_centre"]) for side, pose in poses.items()}
        normal, left, contacts, _ = on_ground(front, wheels)
        flat = lambda v: v - (v @ normal) * normal
        axes = leftward(front, {side: spin for side, (spin, _) in wheels.items()})
        line = unit(flat(rear_axes["left"] + rear_axes["right"]))
        # Forward, square to the rear wheels' line.
        speed = cross(line, normal)
        rates = {}
        for side, axis in axes.items():
            turning = cross(normal, flat(contacts[side] - middle))
            rates[side] = -(speed @ axis) / (turning @ flat(axis))
        mean = (rates["left"] + rates["right"]) / 2
        # The point that the motion leaves where it is: the speed of the middle, turned back by a quarter.
        centre = flat(middle) + cross(normal, speed) / mean
        for side in front.sides:
            out[f"{side}_curvature_per_m"].append(plain(rates[side]))
            reach = flat(contacts[side]) - centre
            out[f"{side}_contact_circle_m"].append(plain(2 * np.sqrt(reach @ reach)))
        out["curvature_per_m"].append(plain(mean))
        out["turn_centre_y_m"].append(plain(centre @ left))
    return out
