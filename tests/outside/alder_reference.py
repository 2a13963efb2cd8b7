"""Solves the demo car Alder without the project's code and stores, or checks, the results.

    python3 tests/outside/alder_reference.py            writes alder_reference.json
    python3 tests/outside/alder_reference.py --check    recomputes, compares, exit 1 on disagreement
"""

import argparse
import json
import sys
from pathlib import Path

import numpy as np

import car_points
from axle_solutions import CornerWay, compare_angles, compare_points, compare_twist, moving_points
from bodies import BodyAxle
from car_points import REAL, degrees, radians
from corner_readings import readings
from stored import RECOMPUTED_WITHIN, TOLERANCE, Worst, compared, made_with, plain, pretty

HERE = Path(__file__).resolve().parent
CAR = HERE.parents[1] / "demo-cars" / "alder.ron"
STORED = HERE / "alder_reference.json"

TRAVEL_MM = range(-40, 41, 10)
RACK_MM = (-30, -15, 0, 15, 30)
STEER_SWEEP_MM = tuple(s for s in range(-40, 41, 5) if s)
MICROMETRE = REAL("1e-6")
# The two solvers against each other, and MuJoCo's twist against finite differences.
SOLVERS_WITHIN = 1e-12
TWISTS_WITHIN = 1e-11
# What this file leaves to the references of the other cars.
LEFT_OUT = ("rocker_angle_deg", "rocker_rate_deg_per_m")


def grid(axle, side, worst, with_bodies=True):
    """Every pose of one corner, both ways, and its readings: values as [rack][travel]."""
    way = CornerWay(axle, side)
    bodies = BodyAxle(axle) if with_bodies else None
    racks = RACK_MM if way.corner.steered else (0,)
    points, values = {}, {}

    def keep(table, name, value):
        table.setdefault(name, [[] for _ in racks])[i].append(plain(value))

    for i, rack_mm in enumerate(racks):
        for travel_mm in TRAVEL_MM:
            travel, rack = REAL(travel_mm) / 1000, REAL(rack_mm) / 1000
            pose = way.pose(travel, rack)
            seen, numbers, moving, _ = way.all_readings(pose, travel, rack, worst)
            moved = moving_points(way.assembly, pose, [way.corner.link_inner])
            for name, value in (moved | seen).items():
                keep(points, name, value)
            for name, value in numbers.items():
                if name not in LEFT_OUT and not name.startswith("virtual_"):
                    keep(values, name, value)
            if bodies is not None:
                other = bodies.solve((travel, travel), rack)
                compare_points(moved, other, side + ".", worst)
                compare_angles(side, numbers, bodies, way.signs, worst)
                compare_twist(side, moving, bodies.motion()[side], way.signs, worst)
    return {
        "travel_m": [t / 1000 for t in TRAVEL_MM],
        "rack_m": [s / 1000 for s in racks],
        "points": points,
        "readings": values,
    }


def at_design(result, name):
    i, j = result["rack_m"].index(0), result["travel_m"].index(0)
    return (result["points"] if name in result["points"] else result["readings"])[name][i][j]


def roll_centre_height(left, right):
    """Where the two lines through the contacts, square to the contacts' velocities, cross; above the ground."""
    lines = []
    for result in (left, right):
        p, slope = at_design(result, "contact_point"), at_design(result, "contact_v_y_over_v_z")
        # Square to the velocity (slope, 1): y slope + z = const.
        lines.append(([slope, 1.0], p[1] * slope + p[2]))
    _, z = np.linalg.solve(np.array([l[0] for l in lines]), np.array([l[1] for l in lines]))
    return float(z) - at_design(left, "contact_point")[2]


def steer_sweep(car, axle):
    """Inner and outer wheel at zero travel over the rack, and the ideal outer for the inner."""
    left, right = CornerWay(axle, "left"), CornerWay(axle, "right")
    look = lambda way, rack: readings(way.corner, way.assembly.design, way.pose(REAL(0), rack), way.signs)
    base = car["wheelbase"] / 1000
    axes = look(left, REAL(0))[0]["axis_at_ground"] - look(right, REAL(0))[0]["axis_at_ground"]
    width = np.hypot(axes[0], axes[1])
    rows = {k: [] for k in ("rack_m", "inner_deg", "outer_deg", "outer_ideal_deg", "error_deg", "ackermann_percent")}
    for rack_mm in STEER_SWEEP_MM:
        rack = REAL(rack_mm) / 1000
        both = [look(s, rack)[1]["steer_deg"] for s in (left, right)]
        # The inner wheel is the one on the side turned to; angles counted into the turn.
        inner, outer = (both[0], both[1]) if rack > 0 else (-both[1], -both[0])
        ideal = degrees(np.arctan2(base * np.sin(radians(inner)),
                                   base * np.cos(radians(inner)) + width * np.sin(radians(inner))))
        for name, value in zip(rows, (rack, inner, outer, ideal, outer - ideal,
                                      100 * (inner - outer) / (inner - ideal))):
            rows[name].append(float(value))
    return {"wheelbase_m": float(base), "steering_axes_apart_at_ground_m": float(width)} | rows


def axles(car, front, results):
    leverage = float(car["wheelbase"] / car["centre_of_gravity_height"])
    share = float(car["brake_share_front"])
    ahead, behind = results["front_left"], results["rear_left"]
    return {
        "front": {
            "roll_centre_height_m": roll_centre_height(ahead, results["front_right"]),
            "anti_dive_percent": 100 * share * leverage * at_design(ahead, "contact_v_x_over_v_z"),
            "steer_sweep": steer_sweep(car, front),
        },
        "rear": {
            "roll_centre_height_m": roll_centre_height(behind, results["rear_right"]),
            "anti_squat_percent": -100 * leverage * at_design(behind, "wheel_centre_v_x"),
            "anti_lift_percent": -100 * (1 - share) * leverage * at_design(behind, "contact_v_x_over_v_z"),
        },
    }


def controls(front, results, worst):
    """One point moved by a micrometre: what a comparison has to be able to see."""
    out = {}
    for name in (front.left.link_inner, front.left.link_outer):
        moved = grid(front.with_point_moved("left", name, [0, 0, MICROMETRE]), "left", worst)
        seen = Worst()
        for point, rows in moved["points"].items():
            if point not in ("spin_axis", "axis_at_ground"):
                seen.note(point, np.array(rows) - np.array(results["front_left"]["points"][point]))
        for reading in ("toe_deg", "bump_steer_deg_per_m"):
            seen.note(reading, np.array(moved["readings"][reading])
                      - np.array(results["front_left"]["readings"][reading]))
        out[f"front_left_{name}_z_plus_1um"] = {"largest_difference": seen.seen} | moved
    return out


def compute():
    if np.finfo(REAL).nmant < 63:
        sys.exit("error: NumPy's long double is no wider than a double on this machine\n"
                 "hint: run on Linux, x86-64 or arm64, where it is")
    car, ends = car_points.load(CAR)
    worst = Worst()
    results = {f"{end}_{side}": grid(axle, side, worst) for end, axle in ends.items() for side in axle.sides}
    reference = {
        "meta": {
            "car": "demo-cars/alder.ron",
            "made_with": made_with(),
            "units": "m, deg, deg/m; rates per metre of wheel-centre travel (steer gain: per metre of rack)",
            "order": "points.NAME[rack][travel] = [x, y, z]; readings.NAME[rack][travel]",
            "ground": "each corner alone: the plane parallel to the body's XY through its contact point",
            "inputs": "every corner of an axle gets the same rack travel, + toward the left",
            "bar_arm_angle": "from the design pose; right-handed about bar_pivot to bar_axis on the left corner, "
                             "about the opposite on the right, so that equal travels give equal angles",
            "swing_arms": "with v_z = 1: front-view instant centre y = W_y - 1/w_x, side-view x = W_x + 1/w_y",
            "ackermann_percent": "100 (inner - outer) / (inner - outer_ideal), angles counted into the turn",
            "tolerance": TOLERANCE,
            "achieved": {},
        },
        "corners": results,
        "axles": axles(car, ends["front"], results),
        "controls": controls(ends["front"], results, worst),
    }
    reference["meta"]["achieved"] = worst.seen
    return reference


def complaints(reference):
    """What must hold whatever is stored: two solvers agree, and a micrometre shows."""
    achieved = reference["meta"]["achieved"]
    limits = {"solvers_positions_m": SOLVERS_WITHIN, "solvers_angles_rad": SOLVERS_WITHIN,
              "solvers_twists": TWISTS_WITHIN, "differences_degrees_per_m": TOLERANCE["_deg_per_m"],
              "differences_ratio": TOLERANCE["other ratios"]}
    for name, limit in limits.items():
        if not achieved[name] <= limit:
            yield f"{name}: {achieved[name]:.3g} is more than {limit:.0e}"
    for name, control in reference["controls"].items():
        largest = control["largest_difference"]
        moved = max(v for k, v in largest.items() if not k.endswith(("_deg", "_per_m")))
        if not 0.5e-6 < moved < 2e-6:
            yield f"control {name}: a micrometre shows as {moved:.3g} m"


def main():
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("--check", action="store_true", help="compare with the stored file instead of writing it")
    check = arguments.parse_args().check

    fresh = compute()
    wrong = list(complaints(fresh))
    for name, value in fresh["meta"]["achieved"].items():
        print(f"{name:28} {value:.2e}")
    if check:
        stored = json.loads(STORED.read_text(encoding="utf-8"))
        differing = []
        count = sum(compared(stored[k], fresh[k], k, differing) for k in ("corners", "axles", "controls"))
        print(f"{count} numbers compared with {STORED.name}, {len(differing)} differ by more than {RECOMPUTED_WITHIN:.0e}")
        wrong += [line for _, line in sorted(differing, key=lambda d: -d[0])[:20]]
    elif not wrong:
        STORED.write_text(pretty(fresh), encoding="utf-8")
        print(f"wrote {STORED}")
    for line in wrong:
        print("error:", line, file=sys.stderr)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
