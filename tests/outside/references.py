"""Solves cars without the project's code and stores, or checks, the results: one file a car.

    python3 tests/outside/references.py            writes references/NAME.json
    python3 tests/outside/references.py --check    recomputes, compares, exit 1 on disagreement
    python3 tests/outside/references.py rowan      only cars with "rowan" in their path
"""

import argparse
import json
import sys
import time
from pathlib import Path

import numpy as np

import calibration_cars
import car_points
import column
from axle_solutions import beam, corners, pitch, steer_sweep
from between import pairs
from car_points import REAL
from statics import springs_of_beam
from stored import RECOMPUTED_WITHIN, TOLERANCE, Worst, compared, made_with, pretty
from turns import turns

ROOT = Path(__file__).resolve().parents[2]
STORED = Path(__file__).resolve().parent / "references"

# Which axles of which car, and a point of each whose move by a micrometre must show.
CARS = {
    "demo-cars/rowan.ron": {"front": ("left", "strut_bottom"), "rear": ("left", "upper_rear_link_outer")},
    "demo-cars/hazel.ron": {"front": ("right", "tie_rod_outer"), "rear": ("right", "lower_link_outer")},
    "demo-cars/sorrel.ron": {"front": ("left", "lower_ball_joint"), "rear": ("left", "wheel_centre")},
    "examples/linkages/h_arm.ron": {"rear": ("left", "h_arm_outer_rear")},
    "examples/linkages/trailing_arm.ron": {"rear": ("left", "damper_rocker")},
    "examples/linkages/semi_trailing.ron": {"rear": ("left", "drop_link_outer")},
    "examples/linkages/watt_on_axle.ron": {"rear": ("axle", "watt_lever_left")},
    "examples/linkages/watt_on_body.ron": {"rear": ("axle", "watt_rod_right")},
    "examples/linkages/triangulated_four_link.ron": {"rear": ("left", "upper_link_outer")},
    "examples/linkages/torque_arm.ron": {"rear": ("axle", "torque_arm_link_axle")},
    "examples/linkages/steered_five_link.ron": {"front": ("left", "lower_front_link_outer")},
    "examples/linkages/steering_box.ron": {"front": ("right", "damper_rocker")},
    "examples/linkages/pullrod_t_bar.ron": {"front": ("left", "pushrod_outer")},
}
MICROMETRE = REAL("1e-6")
# The two solvers against each other, and MuJoCo's velocities against finite differences.
LIMITS = {
    "solvers_positions_m": 1e-12,
    "solvers_angles_rad": 1e-12,
    "solvers_twists": 1e-11,
    "differences_degrees_per_m": TOLERANCE["_deg_per_m"],
    "differences_ratio": TOLERANCE["other ratios"],
}


def name_of(car):
    return Path(car).stem


def solved(axle, worst):
    if axle.linkage == "BeamAxle":
        return {"linkage": axle.linkage} | beam(axle, worst)
    found = {"linkage": axle.linkage, "steering": axle.kind_of_steering} | corners(axle, worst)
    found["pairs"] = pairs(axle, worst)
    if axle.kind_of_steering != "Fixed":
        found["steer_sweep"] = steer_sweep(axle)
    if "column" in axle.words:
        found["column"] = column.sweep(axle)
    return found


def largest_move(axle, before, place, name):
    """One point a micrometre higher, every length taken from the points again: what a comparison has to see."""
    moved = axle.with_point_moved(place, name, [0, 0, MICROMETRE])
    noise = Worst()
    after = beam(moved, noise, False) if axle.linkage == "BeamAxle" else corners(moved, noise, False, [place])
    seen = Worst()
    if axle.linkage == "BeamAxle":
        tables = [(before["points"], after["points"])]
    else:
        tables = [(before["corners"][place]["points"], after["corners"][place]["points"])]
    for old, new in tables:
        for point, rows in new.items():
            if not point.endswith(("spin_axis", "axis_at_ground")):
                seen.note(point, np.array(rows) - np.array(old[point]))
    return {"corner" if place != "axle" else "of": place, "point": name, "z_m": 1e-6, "largest_difference": seen.seen}


def compute(car, wanted):
    words, axles = car_points.load(ROOT / car)
    worst, out, moves = Worst(), {}, {}
    for end, (place, name) in wanted.items():
        out[end] = solved(axles[end], worst) | {"pitch": pitch(words, end, axles[end])}
        if axles[end].linkage == "BeamAxle":
            out[end] |= springs_of_beam(words, end, axles[end])
        if end == "front" and axles[end].kind_of_steering != "Fixed":
            out[end]["turns"] = turns(axles[end], axles["rear"])
        moves[end] = largest_move(axles[end], out[end], place, name)
    return {
        "meta": {
            "car": car,
            "made_with": made_with(),
            "units": "m, deg, deg/m; rates per metre of wheel-centre travel (steer gain: per unit of steering)",
            "order": "corners: NAME[steer][travel]; pairs and beams: NAME[travel_left][travel_right]",
            "tolerance": TOLERANCE,
            "achieved": worst.seen,
        },
        "axles": out,
        "controls": moves,
    }


def complaints(reference):
    """What must hold whatever is stored: two solvers agree, and a micrometre shows."""
    for name, value in reference["meta"]["achieved"].items():
        if not value <= LIMITS[name]:
            yield f"{name}: {value:.3g} is more than {LIMITS[name]:.0e}"
    for end, control in reference["controls"].items():
        moved = max(control["largest_difference"].values())
        if not 0.5e-6 < moved < 4e-6:
            yield f"control {end}: a micrometre shows as {moved:.3g} m"


def main():
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("--check", action="store_true", help="compare with the stored files instead of writing them")
    arguments.add_argument("only", nargs="*", help="parts of the paths of the cars wanted; all where none is given")
    asked = arguments.parse_args()
    if np.finfo(REAL).nmant < 63:
        sys.exit("error: NumPy's long double is no wider than a double on this machine\n"
                 "hint: run on Linux, x86-64 or arm64, where it is")
    wrong = [] if asked.only else list(calibration_cars.complaints())
    STORED.mkdir(exist_ok=True)
    for car, wanted in CARS.items():
        if asked.only and not any(part in car for part in asked.only):
            continue
        wrong += one(car, wanted, asked.check)
    for line in wrong:
        print("error:", line, file=sys.stderr)
    return 1 if wrong else 0


def one(car, wanted, check):
    start = time.perf_counter()
    fresh = compute(car, wanted)
    wrong = [f"{car}: {line}" for line in complaints(fresh)]
    achieved = "  ".join(f"{name} {value:.1e}" for name, value in fresh["meta"]["achieved"].items())
    path = STORED / f"{name_of(car)}.json"
    if check:
        stored = json.loads(path.read_text(encoding="utf-8")) if path.exists() else {"axles": {}, "controls": {}}
        differing = []
        count = sum(compared(stored[k], fresh[k], f"{car}/{k}", differing) for k in ("axles", "controls"))
        print(f"{count} numbers compared with {path.name}, {len(differing)} differ by more than {RECOMPUTED_WITHIN:.0e}")
        wrong += [line for _, line in sorted(differing, key=lambda d: -d[0])[:10]]
    elif not wrong:
        path.write_text(pretty(fresh), encoding="utf-8")
        print(f"wrote {path}")
    print(f"  {achieved}  ({time.perf_counter() - start:.1f} s)")
    return wrong


if __name__ == "__main__":
    sys.exit(main())
