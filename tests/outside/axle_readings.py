"""Readings of two wheels together: the ground they share, track, roll centre."""

import numpy as np

from car_points import REAL, degrees
from corner_readings import contact_of
from distances import cross


def normal_at(angle):
    return np.array([0 * angle, -np.sin(angle), np.cos(angle)])


def common_ground(axle, wheels):
    """Angle about X at which both tyres' lowest points are level: secant from level, then from a little off.

    `wheels` holds spin axis and wheel centre by side.
    """
    def step(angle):
        normal = normal_at(angle)
        heights = [contact_of(axle.sides[side], spin, centre, normal)[0] @ normal
                   for side, (spin, centre) in wheels.items()]
        return heights[0] - heights[1]

    before, angle = REAL(0), REAL(1) / 100
    miss = step(before)
    for _ in range(30):
        now = step(angle)
        if now == miss:
            break
        before, angle, miss = angle, angle - now * (angle - before) / (now - miss), now
        if abs(angle - before) < REAL(1e-18):
            break
    return angle


def on_ground(axle, wheels):
    """Ground angle, contacts by side, and what follows from them alone."""
    angle = common_ground(axle, wheels)
    normal = normal_at(angle)
    contacts = {side: contact_of(axle.sides[side], spin, centre, normal)[0] for side, (spin, centre) in wheels.items()}
    along = cross(normal, np.array([1, 0, 0], dtype=REAL))
    values = {
        "ground_angle_deg": degrees(angle),
        "track_m": (contacts["left"] - contacts["right"]) @ along,
    }
    for side, (spin, _) in wheels.items():
        values[f"{side}_camber_to_ground_deg"] = -degrees(np.arcsin(spin @ normal))
    return normal, along, contacts, values


def pair_readings(axle, solved):
    """Two corners of their own, `solved` being pose and twist by side, on the ground they share."""
    wheels = {side: (pose["spin_axis"], pose["wheel_centre"]) for side, (pose, _) in solved.items()}
    normal, along, contacts, values = on_ground(axle, wheels)
    middle = (contacts["left"] + contacts["right"]) / 2
    # Each line holds the points whose offset from the contact is square to the contact's velocity,
    # written in the body's own y and z.
    rows, right = [], []
    for side, (pose, twist) in solved.items():
        u = twist.at(contacts[side] - pose["wheel_centre"])
        rows.append(u[1:])
        right.append(u[1:] @ contacts[side][1:])
    (a, b), (c, d) = rows
    whole = a * d - b * c
    if abs(whole) > REAL(1e-6):
        place = np.array([0, right[0] * d - b * right[1], a * right[1] - c * right[0]]) / whole
        offset = place - middle * np.array([0, 1, 1])
        values["roll_centre_height_m"] = offset @ normal
        values["roll_centre_lateral_m"] = offset @ along
    return values


def roll_centre_of_beam(axle, pose, rolling):
    """The point, in the plane across the car through the middle of the axle, that stands still in roll."""
    wheels = {side: (pose[f"{side}.spin_axis"], pose[f"{side}.wheel_centre"]) for side in axle.sides}
    normal, along, contacts, values = on_ground(axle, wheels)
    centre = (pose["left.wheel_centre"] + pose["right.wheel_centre"]) / 2
    v, w = rolling.at(centre - pose["left.wheel_centre"]), rolling.w
    # v + w x r has no y and z part for r = (0, -v_z, v_y) / w_x.
    place = centre + np.array([0 * v[0], -v[2], v[1]]) / w[0]
    offset = (place - (contacts["left"] + contacts["right"]) / 2) * np.array([0, 1, 1])
    return values | {
        "roll_centre_y_m": place[1],
        "roll_centre_z_m": place[2],
        "roll_centre_height_m": offset @ normal,
        "roll_centre_lateral_m": offset @ along,
    }


def pitch_readings(car, end, axle, slopes):
    """Anti-dive, anti-lift and anti-squat in percent at design; `slopes` by where the torque is taken, for
    both wheels rising together, mean of both sides: of the contact, of the wheel centre."""
    if "centre_of_gravity_height" not in car:
        return {}
    lever = 100 * car["wheelbase"] / car["centre_of_gravity_height"]
    share = car["brake_share_front"] if end == "front" else 1 - car["brake_share_front"]
    braking = slopes["contact" if axle.words["brakes"] == "Outboard" else "centre"] * lever * share
    if end == "front":
        return {"anti_dive_percent": braking}
    out = {"anti_lift_percent": -braking}
    if axle.words["drive"] != "None" and car["front"]["drive"] == "None":
        out["anti_squat_percent"] = -slopes["contact" if axle.words["drive"] == "Unsprung" else "centre"] * lever
    return out
