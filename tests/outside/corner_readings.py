"""Readings of one wheel from its solved pose, and their rates by Richardson's differences.

Formulas are chosen to be other ones than the obvious, where there are two: the contact point
by angle around the tyre, camber by atan2, angular velocity from three marked points.
The ground here is the plane parallel to the body's XY through the contact point.
"""

import numpy as np

from car_points import REAL, degrees

UP = np.array([0, 0, 1], dtype=REAL)
# First step of the differences, halved three times: m.
STEP = REAL(2) / 1000


def unit(v):
    return v / np.sqrt(v @ v)


def readings(corner, pose):
    """Lengths in metres, angles in degrees, signs as everywhere in the project."""
    side, spin, centre = corner.side, pose["spin_axis"], pose["wheel_centre"]
    # Two axes in the wheel's plane, level and steepest; the lowest point is straight down the latter.
    level = unit(np.cross(spin, UP)) * side
    steepest = np.cross(level, spin) * side
    contact = centre - corner.tyre_radius * steepest
    steer = np.arctan2(level[1], level[0])
    outboard = side * np.array([-np.sin(steer), np.cos(steer), 0], dtype=REAL)
    lower = pose["lower_ball_joint"]
    axis = pose["upper_ball_joint"] - lower
    at_height = lambda z: lower + axis * ((z - lower[2]) / axis[2])
    ground, hub = at_height(contact[2]), at_height(centre[2])
    return {
        "contact_point": contact,
        "axis_at_ground": ground,
    }, {
        "camber_deg": -degrees(np.arctan2(spin[2], np.hypot(spin[0], spin[1]))),
        "steer_deg": degrees(steer),
        "toe_deg": -side * degrees(steer),
        "caster_deg": degrees(np.arctan2(-axis[0], axis[2])),
        "steering_axis_inclination_deg": degrees(np.arctan2(-side * axis[1], axis[2])),
        "scrub_radius_m": (contact - ground) @ outboard,
        "trail_m": (ground - contact) @ level,
        "wheel_centre_offset_lateral_m": (centre - hub) @ outboard,
        "wheel_centre_offset_longitudinal_m": (hub - centre) @ level,
        "half_track_m": side * contact[1],
        "wheelbase_change_m": corner.points["wheel_centre"][0] - centre[0],
        "damper_length_m": pose["damper_length"],
        "bar_arm_angle_deg": degrees(pose["bar_arm_angle"]),
    }


def marked(corner, pose):
    """Everything to be differentiated, in one row: readings, wheel centre, three points of the upright."""
    values = readings(corner, pose)[1]
    scalars = [values[k] for k in ("toe_deg", "camber_deg", "damper_length_m", "bar_arm_angle_deg", "steer_deg")]
    points = [pose["wheel_centre"], pose["upper_ball_joint"], pose["lower_ball_joint"], pose[corner.link_outer]]
    return np.concatenate([np.array(scalars), *points])


def richardson(function):
    """Slope at zero, and how far the last two extrapolations are apart."""
    steps = [STEP, STEP / 2, STEP / 4, STEP / 8]
    row = [(function(h) - function(-h)) / (2 * h) for h in steps]
    weight = 1
    while len(row) > 1:
        weight *= 4
        before, row = row, [(weight * fine - coarse) / (weight - 1) for coarse, fine in zip(row, row[1:])]
    return row[0], np.abs(row[0] - before[1])


def angular_velocity(points, velocities):
    """The w of v_i = v + w x r_i, by least squares over three points: exact for a rigid body."""
    p, v = points - points[0], velocities - velocities[0]
    matrix = sum((e @ e) * np.eye(3, dtype=REAL) - np.outer(e, e) for e in p[1:])
    right = sum(np.cross(e, d) for e, d in zip(p[1:], v[1:]))
    inverse = np.linalg.inv(matrix.astype(float)).astype(REAL)
    w = inverse @ right
    for _ in range(4):
        w = w + inverse @ (right - matrix @ w)
    return w


def rates(solver, ends, travel, rack, contact, centre):
    """Rates per metre of travel with the rack held, and per metre of rack with the height held."""
    corner = solver.corner
    by_travel = lambda h: marked(corner, solver.solve(travel + h, rack, ends))
    slope, doubt = richardson(by_travel)
    points = np.array([ends[0], ends[1], ends[2]])
    w = angular_velocity(points, slope[8:17].reshape(3, 3))
    v = slope[5:8]
    patch = v + np.cross(w, contact - centre)
    values = {
        "bump_steer_deg_per_m": slope[0],
        "camber_gain_deg_per_m": slope[1],
        "motion_ratio": -slope[2],
        "bar_arm_rate_deg_per_m": slope[3],
        # With v_z = 1 these are 1 / horizontal distance to the front- and side-view instant centres,
        # up to sign: y = W_y - 1/w_x, x = W_x + 1/w_y.
        "front_view_swing_arm_w_x_per_m": w[0],
        "side_view_swing_arm_w_y_per_m": w[1],
        "spin_w_z_per_m": w[2],
        "wheel_centre_v_x": v[0],
        "wheel_centre_v_y": v[1],
        "contact_v_x_over_v_z": patch[0] / patch[2],
        "contact_v_y_over_v_z": patch[1] / patch[2],
    }
    doubts = {"degrees_per_m": np.max(doubt[[0, 1, 3]]), "ratio": np.max(doubt[[2, 5, 6, 7, 8, 9]])}
    if corner.rack_axis is not None:
        slope, doubt = richardson(lambda h: marked(corner, solver.solve(travel, rack + h, ends)))
        values["steer_gain_deg_per_m"] = slope[4]
        doubts["degrees_per_m"] = max(doubts["degrees_per_m"], doubt[4])
    return values, doubts
