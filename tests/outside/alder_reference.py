"""Solves the demo car Alder without the project's code and stores, or checks, the results.

    python3 tests/outside/alder_reference.py            writes alder_reference.json
    python3 tests/outside/alder_reference.py --check    recomputes, compares, exit 1 on disagreement
"""

import argparse
import json
import math
import platform
import sys
from pathlib import Path

import mujoco
import numpy as np
import scipy

import car_points
from body_solver import BodyCorner
from car_points import REAL, degrees, radians
from corner_readings import rates, readings
from rod_solver import RodCorner

HERE = Path(__file__).resolve().parent
CAR = HERE.parents[1] / "demo-cars" / "alder.ron"
STORED = HERE / "alder_reference.json"

TRAVEL_MM = range(-40, 41, 10)
RACK_MM = (-30, -15, 0, 15, 30)
STEER_SWEEP_MM = tuple(s for s in range(-40, 41, 5) if s)
MICROMETRE = REAL("1e-6")

# What a solver in double precision should meet, by the ending of a number's name.
TOLERANCE = {
    "_m": 1e-11,
    "_deg": 1e-9,
    "_deg_per_m": 1e-8,
    "_per_m": 1e-9,
    "percent": 1e-6,
    "other ratios": 1e-10,
}
# What a second run of this file must meet, on any machine.
RECOMPUTED_WITHIN = 1e-9
# The two solvers against each other, and MuJoCo's twist against finite differences.
SOLVERS_WITHIN = 1e-12
TWISTS_WITHIN = 1e-11


def plain(value):
    if isinstance(value, np.ndarray):
        return [plain(v) for v in value]
    # Adding zero turns -0.0, which a mirrored zero is, into 0.0.
    return float(value) + 0.0


class Worst:
    """The largest value seen under each name."""

    def __init__(self):
        self.seen = {}

    def note(self, name, value):
        self.seen[name] = max(self.seen.get(name, 0.0), float(np.max(np.abs(value))))


def grid(corner, worst, with_bodies=True):
    """Every pose of one corner, both ways, and its readings: values as [rack][travel]."""
    rods = RodCorner(corner)
    bodies = BodyCorner(corner) if with_bodies else None
    racks = RACK_MM if corner.rack_axis is not None else (0,)
    points, values = {}, {}

    def keep(table, name, value):
        table.setdefault(name, [[] for _ in racks])[i].append(plain(value))

    for i, rack_mm in enumerate(racks):
        for travel_mm in TRAVEL_MM:
            travel, rack = REAL(travel_mm) / 1000, REAL(rack_mm) / 1000
            ends = rods.ends(travel, rack)
            pose = rods.pose(ends, rack)
            seen, numbers = readings(corner, pose)
            slopes, doubts = rates(rods, ends, travel, rack, seen["contact_point"], pose["wheel_centre"])
            for name, doubt in doubts.items():
                worst.note("differences_" + name, doubt)
            for name, value in (pose | seen).items():
                if isinstance(value, np.ndarray):
                    keep(points, name, value)
            for name, value in (numbers | slopes).items():
                keep(values, name, value)
            if bodies is not None:
                other = bodies.solve(travel, rack)
                compare(pose, slopes, other, worst)
    return {
        "travel_m": [t / 1000 for t in TRAVEL_MM],
        "rack_m": [s / 1000 for s in racks],
        "points": points,
        "readings": values,
    }


def compare(pose, slopes, other, worst):
    for name, value in pose.items():
        kind = "angles_rad" if name.endswith("_angle") else "positions_m"
        worst.note("solvers_" + kind, value - other[name])
    w, v = other["angular_velocity"], other["centre_velocity"]
    twist = [w[0] - slopes["front_view_swing_arm_w_x_per_m"], w[1] - slopes["side_view_swing_arm_w_y_per_m"],
             w[2] - slopes["spin_w_z_per_m"], v[0] - slopes["wheel_centre_v_x"],
             v[1] - slopes["wheel_centre_v_y"], other["damper_rate"] + slopes["motion_ratio"]]
    worst.note("solvers_twists", np.array(twist))


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


def steer_sweep(car, corners):
    """Inner and outer wheel at zero travel over the rack, and the ideal outer for the inner."""
    left, right = RodCorner(corners["front_left"]), RodCorner(corners["front_right"])
    look = lambda solver, rack: readings(solver.corner, solver.solve(REAL(0), rack))
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


def axles(car, corners, results):
    leverage = float(car["wheelbase"] / car["centre_of_gravity_height"])
    share = float(car["brake_share_front"])
    front, rear = results["front_left"], results["rear_left"]
    return {
        "front": {
            "roll_centre_height_m": roll_centre_height(front, results["front_right"]),
            "anti_dive_percent": 100 * share * leverage * at_design(front, "contact_v_x_over_v_z"),
            "steer_sweep": steer_sweep(car, corners),
        },
        "rear": {
            "roll_centre_height_m": roll_centre_height(rear, results["rear_right"]),
            "anti_squat_percent": -100 * leverage * at_design(rear, "wheel_centre_v_x"),
            "anti_lift_percent": -100 * (1 - share) * leverage * at_design(rear, "contact_v_x_over_v_z"),
        },
    }


def controls(corners, results, worst):
    """One point moved by a micrometre: what a comparison has to be able to see."""
    out = {}
    for name in (corners["front_left"].link_inner, corners["front_left"].link_outer):
        moved = grid(corners["front_left"].with_point_moved(name, [0, 0, MICROMETRE]), worst)
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
    car, corners = car_points.load(CAR)
    worst = Worst()
    results = {name: grid(corner, worst) for name, corner in corners.items()}
    reference = {
        "meta": {
            "car": "demo-cars/alder.ron",
            "made_with": {
                "python": platform.python_version(),
                "numpy": np.__version__,
                "scipy": scipy.__version__,
                "mujoco": mujoco.__version__,
                "extended_precision_bits": int(np.finfo(REAL).nmant) + 1,
            },
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
        "axles": axles(car, corners, results),
        "controls": controls(corners, results, worst),
    }
    reference["meta"]["achieved"] = worst.seen
    return reference


def compared(stored, fresh, where, wrong):
    """Every number of the two trees against each other; what is only noise or naming is left out."""
    if isinstance(stored, dict) and isinstance(fresh, dict):
        if stored.keys() != fresh.keys():
            wrong.append((math.inf, f"{where}: {sorted(stored.keys() ^ fresh.keys())} on one side only"))
        return sum(compared(stored[k], fresh[k], f"{where}/{k}", wrong) for k in stored.keys() & fresh.keys())
    if isinstance(stored, list) and isinstance(fresh, list):
        if len(stored) != len(fresh):
            wrong.append((math.inf, f"{where}: {len(stored)} stored, {len(fresh)} computed"))
        return sum(compared(a, b, f"{where}[{i}]", wrong) for i, (a, b) in enumerate(zip(stored, fresh)))
    # Not "difference > limit": a NaN must count as wrong.
    if not abs(stored - fresh) <= RECOMPUTED_WITHIN:
        wrong.append((abs(stored - fresh), f"{where}: stored {stored!r}, computed {fresh!r}"))
    return 1


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


def pretty(reference):
    """One line a row of a table, so that a changed number is a changed line."""
    def lines(value, indent):
        pad = "  " * indent
        if isinstance(value, dict):
            inside = ",\n".join(f'{pad}  {json.dumps(k)}: {lines(v, indent + 1)}' for k, v in value.items())
            return "{\n" + inside + "\n" + pad + "}"
        if isinstance(value, list) and value and isinstance(value[0], list):
            return "[\n" + ",\n".join(f"{pad}  {json.dumps(v)}" for v in value) + "\n" + pad + "]"
        return json.dumps(value)
    return lines(reference, 0) + "\n"


if __name__ == "__main__":
    sys.exit(main())
