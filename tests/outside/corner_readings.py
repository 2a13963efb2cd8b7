"""Readings of one wheel from its solved pose, and their rates by Richardson's differences.

Formulas are chosen to be other ones than the obvious, where there are two: the contact point
by angle around the tyre, camber by atan2, angular velocity from three marked points.
The ground here is the plane parallel to the body's XY through the contact point.
"""

import numpy as np

from car_points import REAL, degrees
from distances import cross, unit

UP = np.array([0, 0, 1], dtype=REAL)
# First step of the differences, halved three times: m.
STEP = REAL(2) / 1000
# The pitman arm's first step: rad.
STEP_TURN = REAL(8) / 1000


def contact_of(corner, spin, centre, ground=UP):
    """Lowest point of the tyre toward the ground, and the wheel's level heading."""
    level = unit(cross(spin, ground)) * corner.side
    # In the wheel's plane square to the level heading: straight up the wheel.
    steepest = cross(level, spin) * corner.side
    shoulder = corner.shoulder_radius
    return centre - (corner.tyre_radius - shoulder) * steepest - shoulder * ground, level


def turn_of(design, pose, part):
    """Angle a hinged part has turned since the design pose, right-handed about its first two points."""
    a, b = (unit(at[part[1]] - at[part[0]]) for at in (design, pose))
    before, now = (at[part[2]] - at[part[0]] for at in (design, pose))
    if np.max(np.abs(a - b)) > 1e-15:
        raise ValueError(f"{part}: the hinge line itself has moved")
    return np.arctan2(cross(before, now) @ a, before @ now - (before @ a) * (now @ a))


def about_axis(side, steps, centre, contact, level, point, along):
    """Offsets of a wheel from a steering axis, in the wheel's own axes."""
    outboard = side * np.array([-level[1], level[0], 0], dtype=REAL)
    at_height = lambda z: point + along * ((z - point[2]) / along[2])
    ground, hub = at_height(contact[2]), at_height(centre[2])
    return ground, {
        "caster_deg": degrees(np.arctan2(-along[0], along[2])),
        "steering_axis_inclination_deg": degrees(np.arctan2(-side * along[1], along[2])),
        "scrub_radius_m": (contact - ground) @ outboard,
        "trail_m": (ground - contact) @ level,
    } | ({} if steps else {
        "wheel_centre_offset_lateral_m": (centre - hub) @ outboard,
        "wheel_centre_offset_longitudinal_m": (hub - centre) @ level,
    })


def steering_axis(corner, pose, prefix=""):
    """The line between ball joints, or from ball joint to strut top; None for other linkages."""
    top = {"DoubleWishbone": "upper_ball_joint", "Strut": "strut_top"}.get(corner.linkage)
    if top is None:
        return None
    lower = pose[prefix + "lower_ball_joint"]
    return lower, pose[prefix + top] - lower


def springing_readings(corner, design, pose, signs, prefix=""):
    """Lengths of damper and spring, angles of rocker and bar arm: metres and degrees."""
    p, at = corner.points, lambda name: pose[prefix + name]
    apart = lambda a, b: np.sqrt((at(a) - at(b)) @ (at(a) - at(b)))
    out = {}
    if "damper_rocker" in p:
        out["damper_length_m"] = apart("damper_rocker", "damper_body")
    if corner.springing == "Strut":
        out["damper_length_m"] = apart("strut_top", "strut_bottom")
    if "spring_moving" in p:
        out["spring_length_m"] = apart("spring_moving", "spring_body")
    hinges = {"rocker_angle_deg": ("rocker_pivot", "rocker_axis", "pushrod_inner"),
              "bar_arm_angle_deg": ("bar_pivot", "bar_axis", "drop_link_bar")}
    for name, part in hinges.items():
        if part[0] in p:
            part = tuple(prefix + n for n in part)
            out[name] = signs.get(name, 1) * degrees(turn_of(design, pose, part))
    return out


def readings(corner, design, pose, signs, prefix=""):
    """Lengths in metres, angles in degrees, signs as everywhere in the project."""
    side, spin, centre = corner.side, pose[prefix + "spin_axis"], pose[prefix + "wheel_centre"]
    contact, level = contact_of(corner, spin, centre)
    steer = np.arctan2(level[1], level[0])
    points = {"contact_point": contact}
    values = {
        "camber_deg": -degrees(np.arctan2(spin[2], np.hypot(spin[0], spin[1]))),
        "steer_deg": degrees(steer),
        "toe_deg": -side * degrees(steer),
    }
    axis = steering_axis(corner, pose, prefix)
    if axis is not None:
        points["axis_at_ground"], offsets = about_axis(side, False, centre, contact, level, *axis)
        values |= offsets
    values |= {
        "half_track_m": side * contact[1],
        "wheelbase_change_m": corner.points["wheel_centre"][0] - centre[0],
    }
    return points, values | springing_readings(corner, design, pose, signs, prefix)


def richardson(function, step):
    """Slope at zero, and how far the last two extrapolations are apart."""
    steps = [step, step / 2, step / 4, step / 8]
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
    right = sum(cross(e, d) for e, d in zip(p[1:], v[1:]))
    inverse = np.linalg.inv(matrix.astype(float)).astype(REAL)
    w = inverse @ right
    for _ in range(4):
        w = w + inverse @ (right - matrix @ w)
    return w


class Twist:
    """How everything about one wheel moves per unit of an input, by differences of `pose_at`."""

    def __init__(self, corner, design, part, pose, pose_at, step, signs, prefix=""):
        names = None
        self.values = readings(corner, design, pose, signs, prefix)[1]

        def marked(h):
            nonlocal names
            moved = pose_at(h)
            values = readings(corner, design, moved, signs, prefix)[1]
            names = list(values)
            points = [moved[n] for n in (prefix + "wheel_centre", *part)]
            return np.concatenate([np.array([values[n] for n in names]), *points])

        slope, doubt = richardson(marked, step)
        count = len(names)
        self.rates = dict(zip(names, slope[:count]))
        self.v = slope[count:count + 3]
        self.w = angular_velocity(np.array([pose[n] for n in part]), slope[count + 3:].reshape(3, 3))
        in_degrees = np.array([n.endswith("_deg") for n in names])
        self.doubts = {"degrees": np.max(doubt[:count][in_degrees]),
                       "lengths": max(np.max(doubt[:count][~in_degrees]), np.max(doubt[count:]))}

    def at(self, offset):
        """Velocity of the point of the upright that stands there, seen from the wheel centre."""
        return self.v + cross(self.w, offset)


def travel_rates(twist, contact, centre):
    """Rates per metre of travel with the steering held."""
    patch = twist.at(contact - centre)
    w, v, rates = twist.w, twist.v, twist.rates
    out = {
        "bump_steer_deg_per_m": rates["toe_deg"],
        "camber_gain_deg_per_m": rates["camber_deg"],
    }
    for name, length in (("motion_ratio", "damper_length_m"), ("spring_ratio", "spring_length_m")):
        if length in rates:
            out[name] = -rates[length]
    for name, angle in (("rocker_rate_deg_per_m", "rocker_angle_deg"), ("bar_arm_rate_deg_per_m", "bar_arm_angle_deg")):
        if angle in rates:
            out[name] = rates[angle]
    return out | {
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


def steer_rates(twist, corner, contact, centre, level, per):
    """Rates per unit of the steering input with the wheel centre's height held, and the axis really turned about."""
    out = {f"steer_gain_deg_per_{per}": twist.rates["steer_deg"]}
    w2 = twist.w @ twist.w
    if w2 > REAL(1e-12):
        _, offsets = about_axis(corner.side, True, centre, contact, level,
                                centre + cross(twist.w, twist.v) / w2, twist.w * np.sign(twist.w[2]))
        out |= {"virtual_" + name: value for name, value in offsets.items()}
    return out
