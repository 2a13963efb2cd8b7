"""The solver by distances against the calibration cars: five cars solved by others in 40-digit arithmetic.

    python3 tests/outside/calibration_cars.py    prints the largest differences, exit 1 where one is too large
"""

import json
import sys
from pathlib import Path

import numpy as np

from axle_readings import roll_centre_of_beam
from car_points import REAL, Axle, Corner
from corner_readings import STEP, Twist, contact_of, readings, steer_rates, travel_rates
from distances import unit
from linkages import beam_assembly, corner_assembly, followed
from stored import Worst

HERE = Path(__file__).resolve().parents[1] / "calibration"
CORNERS = ("dw01_front_rack_behind", "st10_front_rack_behind", "fl14_rear", "sa17_rear_15deg")
BEAMS = ("ba20_panhard_three_link",)
LINKAGES = {"double_wishbone": "DoubleWishbone", "strut": "Strut", "five_link": "FiveLink",
            "semi_trailing": "TrailingArm"}
CARRIERS = {"lower": "LowerWishbone", "upper": "UpperWishbone", "upright": "Upright", "arm": "Upright"}
# Ours, theirs.
READINGS = {
    "camber_deg": "camber", "steer_deg": "steer", "toe_deg": "toe", "caster_deg": "caster",
    "steering_axis_inclination_deg": "kpi", "scrub_radius_m": "scrub_radius", "trail_m": "mech_trail",
    "half_track_m": "half_track", "wheelbase_change_m": "recession", "damper_length_m": "damper_length",
    "bar_arm_angle_deg": "arb_angle",
}
RATES = {
    "bump_steer_deg_per_m": "bump_toe", "camber_gain_deg_per_m": "camber_gain", "motion_ratio": "motion_ratio",
    "contact_v_y_over_v_z": "dydz_cp", "contact_v_x_over_v_z": "dxdz_cp", "bar_arm_rate_deg_per_m": "arb_ratio",
    "front_view_swing_arm_w_x_per_m": None, "steer_gain_deg_per_m": "steer_gain",
}
LIMITS = {"positions": 1e-15, "readings": 1e-13, "rates": 1e-11}


def vector(values):
    return np.array(values, dtype=REAL)


def corner_of(words, car):
    """A corner of the project's words from one of the calibration file's."""
    p = {"wheel_centre": vector(words["wheel"]["centre"])}
    for which in ("upper", "lower"):
        if which in words:
            p |= {f"{which}_wishbone_{at}": vector(words[which][at]) for at in ("front", "rear")}
            p[f"{which}_ball_joint"] = vector(words[which]["outer"])
    if "strut" in words:
        p |= {f"strut_{at}": vector(words["strut"][at]) for at in ("top", "bottom")}
    for link in words.get("links", []):
        p |= {f"{link['name']}_link_{at}": vector(link[at]) for at in ("inner", "outer")}
    steered = car["steering"]["type"] != "fixed"
    if "tie_rod" in words:
        name = "tie_rod" if steered else "toe_link"
        p |= {f"{name}_{at}": vector(words["tie_rod"][at]) for at in ("inner", "outer")}
    if "arm" in words:
        p |= {"arm_pivot_outboard": vector(words["arm"]["a"]), "arm_pivot_inboard": vector(words["arm"]["b"])}
    springing = "Strut" if words["damper"]["type"] == "strut" else None
    if words["damper"]["type"] == "direct":
        springing = {"kind": "Direct", "on": CARRIERS[words["damper"]["on"]]}
        p |= {"damper_rocker": vector(words["damper"]["outer"]), "damper_body": vector(words["damper"]["chassis"])}
    bar = words.get("arb")
    if bar:
        p |= {"drop_link_outer": vector(bar["outer"]), "drop_link_bar": vector(bar["arm_end"]),
              "bar_pivot": vector(bar["bar_point"]), "bar_axis": vector(bar["bar_point"]) + vector(bar["bar_axis"])}
    return Corner(
        side=1 if words["side"] == "left" else -1, linkage=LINKAGES[words["topology"]], steered=steered, points=p,
        spin_axis=unit(vector(words["wheel"]["axis"])), tyre_radius=REAL(words["wheel"]["radius"]),
        shoulder_radius=REAL(0), springing=springing, spring=None, drop_link_on=CARRIERS[bar["on"]] if bar else None)


def name_here(corner, theirs):
    fixed = {"damper_moving_end": "damper_rocker" if "damper_rocker" in corner.points else "strut_bottom",
             "arb_outer": "drop_link_outer", "tie_rod_outer": corner.link_outer, "tie_rod_inner": corner.link_inner,
             "upper_outer": "upper_ball_joint", "lower_outer": "lower_ball_joint", "strut_bottom": "strut_bottom"}
    return fixed.get(theirs) or theirs.replace("_outer", "_link_outer")


def check_corner(corner, stored, worst):
    assembly, part = corner_assembly(corner)
    lateral = vector([0, 1, 0])
    ends = lambda s: ({corner.link_inner: corner.points[corner.link_inner] + s * lateral}
                      if corner.link_inner in corner.points else {})
    metrics = stored["metrics"]

    def note(kind, name, here, i, j):
        if name in metrics and metrics[name][i][j] is not None:
            worst.note(kind, here - vector(metrics[name][i][j]))

    # Every other pose of a chessboard, and rates of a few: it is the formulas that are on trial.
    for i, steer in enumerate(stored["steer_input"]):
        for j, travel in enumerate(stored["travel"]):
            if (i + j) % 4:
                continue
            travel, steer = REAL(travel), REAL(steer)
            pose = followed(assembly, [travel], ends, steer)
            seen, values = readings(corner, assembly.design, pose, {})
            note("positions", "wc", pose["wheel_centre"], i, j)
            note("positions", "cp", seen["contact_point"], i, j)
            note("positions", "spin_axis", pose["spin_axis"], i, j)
            for name, rows in metrics["points"].items():
                worst.note("positions", pose[name_here(corner, name)] - vector(rows[i][j]))
            for ours, theirs in READINGS.items():
                if ours in values:
                    note("readings", theirs, values[ours], i, j)
            if (i + j) % 8 == 0:
                moving = Twist(corner, assembly.design, part, pose,
                               lambda h: assembly.solve([travel + h], ends(steer), pose), STEP, {})
                rates = travel_rates(moving, seen["contact_point"], pose["wheel_centre"])
                if corner.steered:
                    turning = Twist(corner, assembly.design, part, pose,
                                    lambda h: assembly.solve([travel], ends(steer + h), pose), STEP, {})
                    level = contact_of(corner, pose["spin_axis"], pose["wheel_centre"])[1]
                    rates |= steer_rates(turning, corner, seen["contact_point"], pose["wheel_centre"], level, "m")
                    note("rates", "vsa_dir", turning.w * np.sign(turning.w[2]) / np.sqrt(turning.w @ turning.w), i, j)
                for ours, theirs in RATES.items():
                    if ours in rates:
                        note("rates", theirs, rates[ours], i, j)


def beam_of(car):
    own, corners = {}, {}
    words = car["beam"]
    for side, sign in (("left", 1), ("right", -1)):
        wheel = words["wheels"][side]
        corners[side] = Corner(side=sign, linkage="BeamAxle", steered=False, points={"wheel_centre": vector(wheel["centre"])},
                               spin_axis=unit(vector(wheel["axis"])), tyre_radius=REAL(wheel["radius"]),
                               shoulder_radius=REAL(0), springing=None, spring=None, drop_link_on=None)
    for link in words["links"]:
        ends = vector(link["inner"]), vector(link["outer"])
        which, _, side = link["name"].partition("_")
        if side:
            corners[side].points |= dict(zip((f"{which}_link_inner", f"{which}_link_outer"), ends))
        else:
            names = {"upper": ("top_link_inner", "top_link_outer"), "panhard": ("panhard_rod_body", "panhard_rod_axle")}
            own |= dict(zip(names[which], ends))
    return Axle(left=corners["left"], right=corners["right"], mirrored=False, linkage="BeamAxle", steering="Fixed",
                points=own, words={})


def check_beam(axle, states, worst):
    assembly, part = beam_assembly(axle)
    for state in states:
        travels = [REAL(state["travel_left"]), REAL(state["travel_right"])]
        pose = followed(assembly, travels, lambda steer: {}, 0)
        for side, corner in axle.sides.items():
            worst.note("positions", pose[f"{side}.wheel_centre"] - vector(state[side]["wc"]))
            worst.note("positions", pose[f"{side}.spin_axis"] - vector(state[side]["spin_axis"]))
            for name, signs in (("heave", (1, 1)), ("roll", (1, -1))):
                twist = Twist(corner, assembly.design, part, pose,
                              lambda h: assembly.solve([t + h * s for t, s in zip(travels, signs)], {}, pose),
                              STEP, {}, side + ".")
                worst.note("rates", twist.rates["steer_deg"] - REAL(state[side][f"bump_steer_{name}"]))
                worst.note("rates", twist.rates["camber_deg"] - REAL(state[side][f"camber_gain_{name}"]))
                rolling = twist if (side, name) == ("left", "roll") else None
                if rolling:
                    values = roll_centre_of_beam(axle, pose, rolling)
                    for ours, theirs in (("roll_centre_y_m", "rc_y"), ("roll_centre_z_m", "rc_z"),
                                         ("roll_centre_height_m", "rc_height"), ("roll_centre_lateral_m", "rc_lateral"),
                                         ("track_m", "track"), ("ground_angle_deg", "ground_angle")):
                        worst.note("readings", values[ours] - REAL(state[theirs]))


def complaints():
    for name in CORNERS + BEAMS:
        file = json.loads((HERE / f"{name}.json").read_text(encoding="utf-8"))
        worst = Worst()
        if name in BEAMS:
            check_beam(beam_of(file["car"]), file["expected"]["beam_states"], worst)
        else:
            for words in file["car"]["corners"]:
                check_corner(corner_of(words, file["car"]), file["expected"]["corner_grid"][words["side"]], worst)
        print(f"{name}: " + "  ".join(f"{kind} {value:.1e}" for kind, value in worst.seen.items()))
        for kind, value in worst.seen.items():
            if not value <= LIMITS[kind]:
                yield f"{name}: {kind} differ by {value:.3g}, more than {LIMITS[kind]:.0e}"


def main():
    wrong = list(complaints())
    for line in wrong:
        print("error:", line, file=sys.stderr)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
