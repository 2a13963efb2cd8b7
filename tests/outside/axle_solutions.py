"""An axle solved both ways over a grid of poses, its readings, and how far the two ways are apart."""

import numpy as np

from axle_readings import on_ground, pitch_readings, roll_centre_of_beam
from bodies import BodyAxle
from car_points import REAL, degrees, radians
from corner_readings import STEP, STEP_TURN, Twist, contact_of, readings, steer_rates, travel_rates
from linkages import Steering, beam_assembly, corner_assembly, followed
from stored import plain

TRAVEL_MM = (-60, -40, -20, 0, 20, 40, 60)
PAIR_MM = (-50, -20, 0, 25, 50)
# Shares of the way to the stops.
STEER_SHARES = (-0.75, 0, 0.75)
SWEEP_SHARES = (-1, -0.75, -0.5, -0.25, 0.25, 0.5, 0.75, 1)


def metres(mm):
    return REAL(mm) / 1000


class Table:
    """Values of many poses under one name, as nested lists in the order of the poses."""

    def __init__(self):
        self.rows = {}

    def keep(self, i, values):
        for name, value in values.items():
            rows = self.rows.setdefault(name, [])
            while len(rows) <= i:
                rows.append([])
            rows[i].append(plain(value))


def stops(axle):
    """Right (or negative) and left stop of the steering input, as positive doubles: metres or radians."""
    words = axle.steering
    if axle.kind_of_steering == "Rack":
        return float(words["stop_right"] / 1000), float(words["stop_left"] / 1000)
    right, left = float(radians(words["stop_right_deg"])), float(radians(words["stop_left_deg"]))
    return (right, left) if words["ratio"] > 0 else (left, right)


def steers(axle, shares):
    if axle.kind_of_steering == "Fixed":
        return [0.0]
    right, left = stops(axle)
    return [share * (left if share > 0 else right) for share in shares]


def own_mirror(axle):
    """Whether the right corner can say nothing that the left one does not."""
    if not axle.mirrored or axle.kind_of_steering == "Box":
        return False
    return axle.kind_of_steering == "Fixed" or [float(a) for a in axle.steering["axis"]] == [0, 1, 0]


class CornerWay:
    """One corner by distances."""

    def __init__(self, axle, side):
        self.side, self.corner = side, axle.sides[side]
        self.assembly, self.part = corner_assembly(self.corner)
        self.steering = Steering(axle)
        self.step = STEP_TURN if self.steering.kind == "Box" else STEP
        self.signs = {}
        self.signs = self.signs_at_design()

    def inner_ends(self, steer):
        return self.steering.inner_ends(steer)[self.side]

    def signs_at_design(self):
        """Angles of rocker and bar count positive the way bump turns them in the design pose."""
        pose = self.pose(0, 0)
        rates = self.by_travel(pose, 0, 0).rates
        return {name: np.sign(rate) for name, rate in rates.items()
                if name in ("rocker_angle_deg", "bar_arm_angle_deg")}

    def pose(self, travel, steer):
        return followed(self.assembly, [travel], self.inner_ends, steer)

    def twist(self, pose, pose_at, step):
        return Twist(self.corner, self.assembly.design, self.part, pose, pose_at, step, self.signs)

    def by_travel(self, pose, travel, steer):
        ends = self.inner_ends(steer)
        return self.twist(pose, lambda h: self.assembly.solve([travel + h], ends, pose), STEP)

    def by_steer(self, pose, travel, steer):
        """None for a wheel that nothing can turn on its own; a toe link is turned by its inner end."""
        if self.corner.steered:
            ends, step = self.inner_ends, self.step
        elif self.corner.link_inner in self.corner.points:
            place = self.corner.points[self.corner.link_inner]
            ends, step = lambda s: {self.corner.link_inner: place + (s - steer) * np.array([0, 1, 0], dtype=REAL)}, STEP
        else:
            return None
        return self.twist(pose, lambda h: self.assembly.solve([travel], ends(REAL(steer) + h), pose), step)

    def all_readings(self, pose, travel, steer, worst):
        """Points, readings and twists of one pose."""
        seen, values = readings(self.corner, self.assembly.design, pose, self.signs)
        contact, centre = seen["contact_point"], pose["wheel_centre"]
        moving = self.by_travel(pose, travel, steer)
        turning = self.by_steer(pose, travel, steer)
        values |= travel_rates(moving, contact, centre)
        note_doubts(moving, worst)
        if turning is not None:
            level = contact_of(self.corner, pose["spin_axis"], centre)[1]
            rates = steer_rates(turning, self.corner, contact, centre, level,
                                "rad" if self.steering.kind == "Box" else "m")
            if not self.corner.steered:
                rates = {name: value for name, value in rates.items() if name.startswith("virtual_")}
            values |= rates
            note_doubts(turning, worst)
        return seen, values, moving, turning


def note_doubts(twist, worst):
    worst.note("differences_degrees_per_m", twist.doubts["degrees"])
    worst.note("differences_ratio", twist.doubts["lengths"])


def moving_points(assembly, pose, corner_points=()):
    """The points of the file that the linkage moves, and the spin axes."""
    moved = [n for stage in assembly.stages for n in stage.unknown] + list(assembly.follows)
    return {name: pose[name] for name in dict.fromkeys([*corner_points, *moved]) if "strut_square" not in name}


def compare_points(pose, other, prefix, worst):
    for name, value in pose.items():
        if prefix + name in other:
            worst.note("solvers_positions_m", value - other[prefix + name])


def compare_twist(side, twist, motion, signs, worst):
    """Velocities by differences against those from MuJoCo's Jacobian."""
    v, w = motion.of_upright(side)
    worst.note("solvers_twists", twist.v - v)
    worst.note("solvers_twists", twist.w - w)
    bodies, s = motion.solver, side + "."
    for name, eyes in (("damper_length_m", ("damper_rocker", "damper_body")),
                       ("spring_length_m", ("spring_moving", "spring_body"))):
        if name in twist.rates and s + eyes[0] in bodies.shows:
            along = bodies.data.site_xpos[bodies.shows[s + eyes[0]]] - bodies.points[s + eyes[1]]
            rate = motion.of_site(s + eyes[0]) @ along / np.linalg.norm(along)
            worst.note("solvers_twists", twist.rates[name] - rate)
    for name, joint in (("rocker_angle_deg", s + "Rocker"), ("bar_arm_angle_deg", s + "bar")):
        if name in twist.rates:
            rate = degrees(REAL(motion.of_joint(joint))) * signs[name]
            # Degrees are counted as the radians they are, so that one tolerance serves.
            worst.note("solvers_twists", radians(twist.rates[name] - rate))


def compare_angles(side, values, bodies, signs, worst):
    for name, joint in (("rocker_angle_deg", "Rocker"), ("bar_arm_angle_deg", "bar")):
        if name in values:
            worst.note("solvers_angles_rad", radians(values[name]) - signs[name] * bodies.turn(f"{side}.{joint}"))


def corners(axle, worst, both_ways=True, names=None):
    """Every pose of both corners over steering and travel; the right one only where it says more."""
    names = names or (["left"] if own_mirror(axle) else ["left", "right"])
    ways = {side: CornerWay(axle, side) for side in names}
    bodies = BodyAxle(axle) if both_ways else None
    out = {side: (Table(), Table()) for side in names}
    grid = steers(axle, STEER_SHARES)
    for i, steer in enumerate(grid):
        for travel in map(metres, TRAVEL_MM):
            if bodies is not None:
                other = bodies.solve((travel, travel), steer)
                motions = bodies.motion()
            for side, way in ways.items():
                pose = way.pose(travel, steer)
                seen, values, moving, turning = way.all_readings(pose, travel, steer, worst)
                extra = [way.corner.link_inner] if way.corner.steered else []
                points = moving_points(way.assembly, pose, extra)
                out[side][0].keep(i, points | seen)
                out[side][1].keep(i, values)
                if bodies is not None:
                    compare_points(points, other, side + ".", worst)
                    compare_twist(side, moving, motions[side], way.signs, worst)
                    compare_angles(side, values, bodies, way.signs, worst)
                    if way.corner.steered:
                        compare_twist(side, turning, motions["steer"], way.signs, worst)
    return {
        "kind": "corners",
        "steer": grid,
        "steer_unit": "rad" if axle.kind_of_steering == "Box" else "m",
        "travel_m": [t / 1000 for t in TRAVEL_MM],
        "right_is_mirrored": own_mirror(axle),
        "corners": {side: {"points": p.rows, "readings": r.rows} for side, (p, r) in out.items()},
    }


def steer_sweep(axle):
    """Both wheels at zero travel over the steering input."""
    ways = {side: CornerWay(axle, side) for side in axle.sides}
    grid = steers(axle, SWEEP_SHARES)
    out = {"steer": grid, "left_steer_deg": [], "right_steer_deg": []}
    for steer in grid:
        for side, way in ways.items():
            values = readings(way.corner, way.assembly.design, way.pose(0, steer), way.signs)[1]
            out[f"{side}_steer_deg"].append(plain(values["steer_deg"]))
    return out


def beam(axle, worst, both_ways=True):
    """A beam axle over both wheels' travels; rates for both wheels together, opposite, and one alone."""
    assembly, part = beam_assembly(axle)
    bodies = BodyAxle(axle) if both_ways else None
    signs = {side: {} for side in axle.sides}
    ways = {"left": {"heave": (1, 1), "roll": (1, -1), "own": (1, 0)},
            "right": {"heave": (1, 1), "roll": (1, -1), "own": (0, 1)}}

    def twists(pose, travels):
        near = {}

        def at(h, shares):
            if (h, shares) not in near:
                near[h, shares] = assembly.solve([t + h * s for t, s in zip(travels, shares)], {}, pose)
            return near[h, shares]

        return {(side, name): Twist(corner, assembly.design, part, pose, lambda h: at(h, shares), STEP,
                                    signs[side], side + ".")
                for side, corner in axle.sides.items() for name, shares in ways[side].items()}

    for (side, name), twist in twists(assembly.solve([0, 0]), [REAL(0)] * 2).items():
        if name == "heave":
            signs[side] = {n: np.sign(r) for n, r in twist.rates.items() if n in ("rocker_angle_deg", "bar_arm_angle_deg")}
    points, tables = Table(), {name: Table() for name in ("left", "right", "axle")}
    for i, left in enumerate(PAIR_MM):
        for right in PAIR_MM:
            travels = [metres(left), metres(right)]
            pose = followed(assembly, travels, lambda steer: {}, 0)
            moving = twists(pose, travels)
            if bodies is not None:
                other = bodies.solve(travels)
                motions = bodies.motion()
                together = {"heave": motions["left"] + motions["right"], "roll": motions["left"] - motions["right"]}
            kept = moving_points(assembly, pose)
            for side, corner in axle.sides.items():
                seen, values = readings(corner, assembly.design, pose, signs[side], side + ".")
                kept |= {f"{side}.{name}": at for name, at in seen.items()}
                for name in ways[side]:
                    twist = moving[side, name]
                    rates = travel_rates(twist, seen["contact_point"], pose[f"{side}.wheel_centre"])
                    note_doubts(twist, worst)
                    values |= {with_way(key, name): value for key, value in rates.items()}
                    if bodies is not None:
                        compare_twist(side, twist, together.get(name) or motions[side], signs[side], worst)
                tables[side].keep(i, values)
                if bodies is not None:
                    compare_angles(side, values, bodies, signs[side], worst)
            if bodies is not None:
                compare_points(kept, other, "", worst)
            points.keep(i, kept)
            values = roll_centre_of_beam(axle, pose, moving["left", "roll"])
            arms = [moving[side, "own"].values.get("bar_arm_angle_deg") for side in axle.sides]
            if None not in arms:
                values["u_bar_twist_deg"] = arms[0] - arms[1]
            tables["axle"].keep(i, values)
    return {"kind": "beam", "travel_left_m": [t / 1000 for t in PAIR_MM],
            "travel_right_m": [t / 1000 for t in PAIR_MM], "points": points.rows,
            "readings": {name: table.rows for name, table in tables.items()}}


def with_way(name, way):
    """The name of a rate with the way it was taken, before its unit."""
    for unit in ("_deg_per_m", "_per_m"):
        if name.endswith(unit):
            return f"{name.removesuffix(unit)}_{way}{unit}"
    return f"{name}_{way}"


def pitch(car, end, axle):
    """Anti-dive and its kin at design, from both wheels rising together: on a beam each wheel's rise moves
    the other wheel's contact too. Slopes are along the ground both tyres touch and off it."""
    moving = {}
    if axle.linkage == "BeamAxle":
        assembly, part = beam_assembly(axle)
        pose = assembly.solve([0, 0])
        for side, corner in axle.sides.items():
            heave = Twist(corner, assembly.design, part, pose, lambda h: assembly.solve([h, h], {}, pose), STEP, {},
                          side + ".")
            moving[side] = pose[f"{side}.spin_axis"], pose[f"{side}.wheel_centre"], heave
    else:
        for side in axle.sides:
            way = CornerWay(axle, side)
            pose = way.pose(0, 0)
            moving[side] = pose["spin_axis"], pose["wheel_centre"], way.by_travel(pose, 0, 0)
    normal, _, contacts, _ = on_ground(axle, {side: (spin, centre) for side, (spin, centre, _) in moving.items()})
    speeds = {"contact": [twist.at(contacts[side] - centre) for side, (_, centre, twist) in moving.items()],
              "centre": [twist.v for _, _, twist in moving.values()]}
    slopes = {name: sum(v[0] / (v @ normal) for v in both) / 2 for name, both in speeds.items()}
    return {name: float(value) for name, value in pitch_readings(car, end, axle, slopes).items()}
