"""Two corners at unlike travels: the ground they share, and what stands between them, T-bar and third spring."""

import numpy as np

from axle_readings import pair_readings
from axle_solutions import PAIR_MM, CornerWay, Table, metres
from bodies import BodyAxle
from car_points import degrees, radians
from corner_readings import STEP, readings, richardson, turn_of
from distances import cross, length, turned, unit
from linkages import t_bar_assembly


def between(axle, poses, assembly):
    """T-bar and third spring at one pose of both corners."""
    out = {}
    ends = {f"{side}.{n}": pose[n] for side, pose in poses.items() for n in ("drop_link_outer", "third_spring_end")
            if n in pose}
    if assembly is not None:
        given = {n: at for n, at in ends.items() if n.endswith("drop_link_outer")}
        pose = followed_from_design(assembly, given)
        swing = turn_of(assembly.design, pose, ("t_bar_pivot", "t_bar_axis", "t_bar_head"))
        out["t_bar_swing_deg"] = degrees(swing)
        out["t_bar_twist_deg"] = degrees(twist_of_t(assembly.design, pose, swing))
        out["points"] = {n: pose[n] for n in ("t_bar_head", "left.drop_link_bar", "right.drop_link_bar")}
    if "left.third_spring_end" in ends:
        out["third_spring_length_m"] = length(ends["left.third_spring_end"] - ends["right.third_spring_end"])
    return out


def followed_from_design(assembly, given):
    """The T from its design pose, its drop links' ends led to where they are in short steps."""
    pose, steps = None, 6
    for k in range(1, steps + 1):
        part = {n: assembly.design[n] + (at - assembly.design[n]) * k / steps for n, at in given.items()}
        pose = assembly.solve([], part, pose)
    return pose


def twist_of_t(design, pose, swing):
    """Turn of the crossbar about the stem, right-handed from pivot to head, beyond what the swing gives it."""
    axis = unit(design["t_bar_axis"] - design["t_bar_pivot"])
    start = turned(design["left.drop_link_bar"] - design["t_bar_head"], axis, swing)
    now = pose["left.drop_link_bar"] - pose["t_bar_head"]
    stem = unit(pose["t_bar_head"] - pose["t_bar_pivot"])
    return np.arctan2(cross(start, now) @ stem, start @ now - (start @ stem) * (now @ stem))


def pairs(axle, worst):
    """Both corners at unlike travels, straight ahead: the ground they share, and what stands between them."""
    ways = {side: CornerWay(axle, side) for side in axle.sides}
    t_bar = t_bar_assembly(axle) if axle.kind_of_bar == "T" else None
    bodies = BodyAxle(axle)
    solved = {}
    for side, way in ways.items():
        for mm in PAIR_MM:
            pose = way.pose(metres(mm), 0)
            moving = way.by_travel(pose, metres(mm), 0)
            solved[side, mm] = pose, moving, readings(way.corner, way.assembly.design, pose, way.signs)[1]
    table, points = Table(), Table()
    for i, left in enumerate(PAIR_MM):
        for right in PAIR_MM:
            here = {"left": solved["left", left], "right": solved["right", right]}
            poses = {side: pose for side, (pose, _, _) in here.items()}
            values = pair_readings(axle, {side: (pose, moving) for side, (pose, moving, _) in here.items()})
            across = between(axle, poses, t_bar)
            points.keep(i, across.pop("points", {}))
            values |= across
            if "bar_arm_angle_deg" in here["left"][2]:
                values["u_bar_twist_deg"] = here["left"][2]["bar_arm_angle_deg"] - here["right"][2]["bar_arm_angle_deg"]
            if across:
                other = bodies.solve((metres(left), metres(right)), 0.0)
                compare_between(across, points, i, other, bodies, worst)
                values |= rates_between(axle, ways, poses, (left, right), t_bar, bodies, worst)
            table.keep(i, values)
    return {"travel_left_m": [t / 1000 for t in PAIR_MM], "travel_right_m": [t / 1000 for t in PAIR_MM],
            "points": points.rows, "readings": table.rows}


def compare_between(across, points, i, other, bodies, worst):
    for name, rows in points.rows.items():
        worst.note("solvers_positions_m", np.array(rows[i][-1]) - other[name])
    for name, joint in (("t_bar_swing_deg", "stem"), ("t_bar_twist_deg", "crossbar")):
        if name in across:
            worst.note("solvers_angles_rad", radians(across[name]) - bodies.turn(joint))
    if "third_spring_length_m" in across:
        apart = np.linalg.norm(other["left.third_spring_end"] - other["right.third_spring_end"])
        worst.note("solvers_positions_m", across["third_spring_length_m"] - apart)


def rates_between(axle, ways, poses, travels, t_bar, bodies, worst):
    """What T-bar and third spring do per metre of one wheel's travel, the other held."""
    out = {}
    motions = bodies.motion()
    for side, mm in zip(("left", "right"), travels):
        def marked(h):
            way = ways[side]
            moved = way.assembly.solve([metres(mm) + h], way.inner_ends(0), poses[side])
            values = between(axle, poses | {side: moved}, t_bar)
            values.pop("points", None)
            return np.array(list(values.values()))
        names = [n for n in between(axle, poses, t_bar) if n != "points"]
        slope, doubt = richardson(marked, STEP)
        for name, rate, unsure in zip(names, slope, doubt):
            in_degrees = name.endswith("_deg")
            worst.note("differences_degrees_per_m" if in_degrees else "differences_ratio", unsure)
            key = name.removesuffix("_deg").removesuffix("_m")
            out[f"{key}_by_{side}" + ("_deg_per_m" if in_degrees else "")] = rate
            motion = motions[side]
            if in_degrees:
                joint = "crossbar" if "twist" in name else "stem"
                worst.note("solvers_twists", radians(rate) - motion.of_joint(joint))
            else:
                apart = bodies.data.site_xpos[bodies.shows["left.third_spring_end"]] - \
                    bodies.data.site_xpos[bodies.shows["right.third_spring_end"]]
                speed = motion.of_site("left.third_spring_end") - motion.of_site("right.third_spring_end")
                worst.note("solvers_twists", rate - speed @ apart / np.linalg.norm(apart))
    return out
