"""A steered beam axle solved in two ways without the project's code, over both wheels' travels and the steering.

    python3 tests/outside/steered_beam.py            writes steered_beam_axle.json
    python3 tests/outside/steered_beam.py --check    recomputes, compares, exit 1 on disagreement

First as points at fixed distances in extended precision (`distances.py`): the axle is three of its points, a knuckle
is its king pin and the track rod's end. Then as three rigid bodies, each a place and a rotation vector, closed by
SciPy's least squares. Rates are Richardson's differences of the first.
"""

import argparse
import json
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

import car_points
from axle_solutions import metres, moving_points, with_way
from car_points import REAL
from corner_readings import STEP, STEP_TURN, Twist, about_axis, contact_of, readings, steer_rates, travel_rates
from distances import Assembly
from linkages import Steering, followed, inside, springing_of
from stored import RECOMPUTED_WITHIN, TOLERANCE, Worst, compared, made_with, plain, pretty

ROOT = Path(__file__).resolve().parents[2]
CAR = "examples/linkages/steered_beam_axle.ron"
STORED = Path(__file__).resolve().parent / "steered_beam_axle.json"
PAIRS_MM = ((0, 0), (40, 40), (-40, -40), (35, -35), (-30, 45), (25, 0))
SHARES = (-1, -0.6, -0.2, 0, 0.4, 0.8, 1)
SIDES = ("left", "right")
# Two ways of solving the same axle: metres; MuJoCo is not asked here.
TWO_WAYS_WITHIN = 1e-10


class SteeredBeam:
    def __init__(self, axle):
        self.axle = axle
        design = dict(axle.points)
        for side, corner in axle.sides.items():
            design |= {f"{side}.{name}": at for name, at in corner.points.items()}
        assembly = Assembly(design)
        pins = {side: (f"{side}.king_pin_lower", f"{side}.king_pin_upper") for side in SIDES}
        # Widely apart, and none on the line of the other two.
        self.beam = (pins["left"][0], pins["right"][0], "top_link_outer")
        self.knuckles = {side: (*pins[side], f"track_rod_{side}") for side in SIDES}
        self.rods = [(f"{side}.lower_link_inner", f"{side}.lower_link_outer") for side in SIDES]
        self.rods += [("top_link_inner", "top_link_outer"), ("panhard_rod_body", "panhard_rod_axle")]
        on_beam = [pins[side][1] for side in SIDES] + [rod[1] for rod in self.rods]
        for name in on_beam:
            if name not in self.beam:
                assembly.carry(name, self.beam)
        for side, corner in axle.sides.items():
            assembly.carry(f"{side}.wheel_centre", self.knuckles[side])
            assembly.carry(f"{side}.spin_axis", self.knuckles[side], corner.spin_axis)
        self.steering_arm = next(n for n in ("drag_link_left", "drag_link_right") if n in design)
        assembly.carry(self.steering_arm, self.knuckles[self.steering_arm.removeprefix("drag_link_")])
        held = [(pin, f"track_rod_{side}") for side in SIDES for pin in pins[side]]
        self.steering_rods = [("drag_link_inner", self.steering_arm), ("track_rod_left", "track_rod_right")]
        self.wheels = [f"{side}.wheel_centre" for side in SIDES]
        assembly.stage([*self.beam, "track_rod_left", "track_rod_right"],
                       inside(self.beam) + self.rods + held + self.steering_rods, driven=self.wheels)
        for side, corner in axle.sides.items():
            springing_of(corner, assembly, {"Axle": self.beam}, side + ".")
        self.assembly = assembly
        # The steering carries the drag link's end as it would a tie rod's.
        ended = {side: replace(corner, points=corner.points | {"tie_rod_inner": axle.points["drag_link_inner"]})
                 for side, corner in axle.sides.items()}
        self.steering = Steering(replace(axle, **ended))
        self.signs = {side: {} for side in SIDES}
        start = self.pose((0, 0), 0)
        for side in SIDES:
            rates = self.twist(side, start, (0, 0), 0, (1, 1)).rates
            self.signs[side] = {n: np.sign(r) for n, r in rates.items() if n == "bar_arm_angle_deg"}

    def given(self, steer):
        return {"drag_link_inner": self.steering.inner_ends(steer)["left"]["tie_rod_inner"]}

    def pose(self, travels, steer):
        return followed(self.assembly, travels, self.given, steer)

    def twist(self, side, pose, travels, steer, shares):
        """Per metre of travels that grow by these shares; where they are None per unit of steering."""
        if shares is None:
            at, step = lambda h: self.assembly.solve(travels, self.given(REAL(steer) + h), pose), STEP_TURN
        else:
            given = self.given(steer)
            at = lambda h: self.assembly.solve([t + h * s for t, s in zip(travels, shares)], given, pose)
            step = STEP
        corner = self.axle.sides[side]
        return Twist(corner, self.assembly.design, self.knuckles[side], pose, at, step, self.signs[side], side + ".")

    def readings(self, side, pose):
        """With the king pin as the steering axis."""
        corner = self.axle.sides[side]
        seen, values = readings(corner, self.assembly.design, pose, self.signs[side], side + ".")
        lower, upper = (pose[name] for name in self.knuckles[side][:2])
        centre = pose[f"{side}.wheel_centre"]
        contact, level = contact_of(corner, pose[f"{side}.spin_axis"], centre)
        _, offsets = about_axis(corner.side, False, centre, contact, level, lower, upper - lower)
        return seen | {"wheel_centre": centre, "spin_axis": pose[f"{side}.spin_axis"]}, values | offsets

    def as_bodies(self, travels, steer, near):
        """The points of `near` again, from three rigid bodies in double precision."""
        design = {name: at.astype(float) for name, at in self.assembly.design.items()}
        parts = {"beam": self.beam, **self.knuckles}
        origin = {name: sum(design[p] for p in part) / 3 for name, part in parts.items()}
        steered = self.given(steer)["drag_link_inner"].astype(float)

        def placed(x):
            bodies = dict(zip(parts, x.reshape(3, 6)))

            def at(body, name):
                b = bodies[body]
                return origin[body] + b[:3] + Rotation.from_rotvec(b[3:]).apply(design[name] - origin[body])

            return at

        def closing(x):
            at = placed(x)
            out = [np.linalg.norm(at("beam", outer) - design[inner]) - np.linalg.norm(design[outer] - design[inner])
                   for inner, outer in self.rods]
            for side in SIDES:
                for pin in self.knuckles[side][:2]:
                    out.extend(at("beam", pin) - at(side, pin))
            arm = self.steering_arm
            length = lambda a, b: np.linalg.norm(design[a] - design[b])
            out.append(np.linalg.norm(at(arm.removeprefix("drag_link_"), arm) - steered) - length(arm, "drag_link_inner"))
            ends = at("left", "track_rod_left") - at("right", "track_rod_right")
            out.append(np.linalg.norm(ends) - length("track_rod_left", "track_rod_right"))
            for side, travel in zip(SIDES, travels):
                name = f"{side}.wheel_centre"
                out.append(at(side, name)[2] - design[name][2] - float(travel))
            return np.array(out)

        guess = np.zeros(18)
        for k in range(1, 9):
            share = k / 8
            full = travels, steer, steered
            travels, steer = [t * share for t in full[0]], full[1] * share
            steered = self.given(steer)["drag_link_inner"].astype(float)
            found = least_squares(closing, guess, method="lm", xtol=1e-15, ftol=1e-15, gtol=1e-15)
            guess, (travels, steer, steered) = found.x, full
        at = placed(found.x)
        bodies = {f"{side}.wheel_centre": at(side, f"{side}.wheel_centre") for side in SIDES}
        bodies |= {f"track_rod_{side}": at(side, f"track_rod_{side}") for side in SIDES}
        bodies |= {"panhard_rod_axle": at("beam", "panhard_rod_axle"), self.steering_arm:
                   at(self.steering_arm.removeprefix("drag_link_"), self.steering_arm)}
        return max(float(np.max(np.abs(bodies[name] - near[name].astype(float)))) for name in bodies)


def computed(axle, worst, both_ways=True):
    solver = SteeredBeam(axle)
    words = axle.steering
    stops = [float(car_points.radians(words[key])) for key in ("stop_right_deg", "stop_left_deg")]
    ways = {"heave": {side: (1, 1) for side in SIDES}, "roll": {side: (1, -1) for side in SIDES},
            "own": {"left": (1, 0), "right": (0, 1)}}
    out = []
    for pair in PAIRS_MM:
        for share in SHARES:
            travels, steer = [metres(t) for t in pair], share * stops[share > 0]
            pose = solver.pose(travels, steer)
            if both_ways:
                worst.note("two_ways_m", solver.as_bodies(travels, steer, pose))
            points = moving_points(solver.assembly, pose, ["drag_link_inner"])
            one = {"travel_left_m": plain(travels[0]), "travel_right_m": plain(travels[1]), "steer_rad": steer}
            for side in SIDES:
                seen, values = solver.readings(side, pose)
                points |= {f"{side}.{name}": at for name, at in seen.items() if name != "axis_at_ground"}
                corner, centre, contact = axle.sides[side], seen["wheel_centre"], seen["contact_point"]
                for way, shares in ways.items():
                    twist = solver.twist(side, pose, travels, steer, shares[side])
                    worst.note("differences_degrees_per_m", twist.doubts["degrees"])
                    rates = travel_rates(twist, contact, centre)
                    values |= {with_way(name, way): rate for name, rate in rates.items()}
                twist = solver.twist(side, pose, travels, steer, None)
                worst.note("differences_degrees_per_rad", twist.doubts["degrees"])
                level = contact_of(corner, seen["spin_axis"], centre)[1]
                values |= steer_rates(twist, corner, contact, centre, level, "rad")
                one[side] = {name: plain(value) for name, value in values.items()}
            one["points"] = {name: plain(at) for name, at in points.items()}
            out.append(one)
    return out


def compute():
    _, axles = car_points.load(ROOT / CAR)
    worst = Worst()
    poses = computed(axles["front"], worst)
    moved = axles["front"].with_point_moved("axle", "track_rod_right", [0, REAL("1e-6"), 0])
    noise = Worst()
    after = computed(moved, noise, False)
    shown = max(abs(a[side]["toe_deg"] - b[side]["toe_deg"]) for a, b in zip(poses, after) for side in SIDES)
    meta = {"car": CAR, "made_with": made_with(), "tolerance": TOLERANCE, "achieved": worst.seen,
            "units": "m, deg, deg/m; rates per metre of wheel-centre travel, both wheels (heave), left up and right "
                     "down (roll), this wheel alone (own); steer gain per radian of the pitman arm",
            "control": {"point": "track_rod_right", "y_m": 1e-6, "largest_toe_difference_deg": shown}}
    return {"meta": meta, "poses": poses}


def complaints(found):
    achieved = found["meta"]["achieved"]
    if not achieved["two_ways_m"] <= TWO_WAYS_WITHIN:
        yield f"the two ways differ by {achieved['two_ways_m']:.3g} m"
    for name in ("differences_degrees_per_m", "differences_degrees_per_rad"):
        if not achieved[name] <= TOLERANCE["_deg_per_m"]:
            yield f"{name}: {achieved[name]:.3g}"
    # A micrometre on an arm of 0.15 m is 4e-4 degrees.
    if not found["meta"]["control"]["largest_toe_difference_deg"] > 1e-4:
        yield "a micrometre does not show"


def main():
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("--check", action="store_true", help="compare with the stored file instead of writing it")
    asked = arguments.parse_args()
    fresh = compute()
    wrong = list(complaints(fresh))
    if asked.check:
        differing = []
        stored = json.loads(STORED.read_text(encoding="utf-8"))
        count = compared(stored["poses"], fresh["poses"], CAR, differing)
        print(f"{count} numbers compared, {len(differing)} differ by more than {RECOMPUTED_WITHIN:.0e}")
        wrong += [line for _, line in sorted(differing, key=lambda d: -d[0])[:10]]
    elif not wrong:
        STORED.write_text(pretty(fresh), encoding="utf-8")
        print(f"wrote {STORED}")
    print("  ".join(f"{name} {value:.1e}" for name, value in fresh["meta"]["achieved"].items()))
    for line in wrong:
        print("error:", line, file=sys.stderr)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
