"""Which points of a car file make which part, and which distances they keep.

Corners stand alone; a beam axle is one part with two wheels. Names of a beam's points carry their
side (`left.lower_link_outer`); a corner's do not.
"""

import itertools

import numpy as np

from car_points import REAL
from distances import Assembly, cross, length, turned, unit

WISHBONES = {
    "UpperWishbone": ("upper_wishbone_front", "upper_wishbone_rear", "upper_ball_joint"),
    "LowerWishbone": ("lower_wishbone_front", "lower_wishbone_rear", "lower_ball_joint"),
    "HArm": ("h_arm_inner_front", "h_arm_inner_rear", "h_arm_outer_front"),
    "Rocker": ("rocker_pivot", "rocker_axis", "pushrod_inner"),
}
FIVE_LINKS = ("upper_front_link", "upper_rear_link", "lower_front_link", "lower_rear_link")
BAR = ("bar_pivot", "bar_axis", "drop_link_bar")


def widest(design, names):
    """The three points that span the largest triangle: they stand for their part."""
    area = lambda t: length(cross(design[t[1]] - design[t[0]], design[t[2]] - design[t[0]]))
    return max(itertools.combinations(names, 3), key=area)


def inside(part):
    return [(part[0], part[1]), (part[1], part[2]), (part[2], part[0])]


def upright_of(corner):
    """Three points of the part that carries the wheel, of which the first stage finds the places."""
    link = corner.link_outer
    names = {
        "DoubleWishbone": ("upper_ball_joint", "lower_ball_joint", link),
        "Strut": ("strut_bottom", "lower_ball_joint", link),
        "FiveLink": widest(corner.points, [f"{n}_outer" for n in FIVE_LINKS] + [link])
                    if corner.linkage == "FiveLink" else None,
        "TrailingArm": ("arm_pivot_outboard", "arm_pivot_inboard", "wheel_centre"),
        "HArm": ("h_arm_outer_front", "h_arm_outer_rear", "upper_link_outer"),
    }
    return names[corner.linkage]


def wheel_of(corner, assembly):
    """The first stage of a corner: what holds the wheel."""
    p, inner, outer = corner.points, corner.link_inner, corner.link_outer
    part = upright_of(corner)
    legs = lambda which, ball: [(f"{which}_wishbone_{at}", ball) for at in ("front", "rear")]
    square = []
    if corner.linkage == "DoubleWishbone":
        unknown = list(part)
        rods = legs("upper", "upper_ball_joint") + legs("lower", "lower_ball_joint") + [(inner, outer)] + inside(part)
    elif corner.linkage == "Strut":
        unknown = list(part)
        rods = legs("lower", "lower_ball_joint") + [(inner, outer)] + inside(part)
        along = unit(p["strut_top"] - p["strut_bottom"])
        first = unit(cross(along, np.array([1, 0, 0], dtype=REAL)))
        for name, vector in (("strut_square_1", first), ("strut_square_2", cross(along, first))):
            assembly.carry(name, part, vector)
            square.append(("strut_top", "strut_bottom", name))
    elif corner.linkage == "FiveLink":
        unknown = list(part)
        rods = [(f"{n}_inner", f"{n}_outer") for n in FIVE_LINKS] + [(inner, outer)] + inside(part)
    elif corner.linkage == "TrailingArm":
        unknown = ["wheel_centre"]
        rods = [(n, "wheel_centre") for n in part[:2]]
    elif corner.linkage == "HArm":
        unknown = ["h_arm_outer_front", "upper_link_outer"]
        assembly.carry("h_arm_outer_rear", WISHBONES["HArm"])
        rods = [(f"h_arm_inner_{at}", "h_arm_outer_front") for at in ("front", "rear")]
        rods += [(f"h_arm_outer_{at}", "upper_link_outer") for at in ("front", "rear")]
        rods += [("upper_link_inner", "upper_link_outer")]
    else:
        raise ValueError(f"no corner is a {corner.linkage}")
    for name in ["wheel_centre"] + [end for rod in rods for end in rod if end.endswith(("_outer", "ball_joint"))]:
        if name not in unknown and name not in assembly.follows:
            assembly.carry(name, part)
    assembly.carry("spin_axis", part, corner.spin_axis)
    assembly.stage(unknown, rods, square, ["wheel_centre"])
    return part


def springing_of(corner, assembly, parts, prefix=""):
    """Rocker, damper, spring and bar arm of one corner; `parts` maps a carrier's name to its three points."""
    p, springing = corner.points, corner.springing
    named = lambda part: tuple(n if "." in n else prefix + n for n in part)

    def carried(name, carrier):
        full = prefix + name
        part = parts[carrier] if carrier in parts else named(WISHBONES[carrier])
        # A point that makes its part, or that the links already carry, needs no second say.
        if full not in assembly.follows and not any(full in s.unknown for s in assembly.stages):
            assembly.carry(full, part)

    kind = springing["kind"] if isinstance(springing, dict) else springing
    if kind == "Rocker":
        carried("pushrod_outer", springing["pushrod_on"])
        rocker = named(WISHBONES["Rocker"])
        assembly.stage([rocker[2]], [(rocker[0], rocker[2]), (rocker[1], rocker[2]),
                                     (prefix + "pushrod_outer", rocker[2])])
        for name in ("damper_rocker", "third_spring_end"):
            if name in p:
                carried(name, "Rocker")
    elif kind == "Direct":
        carried("damper_rocker", springing["on"])
    if corner.spring and corner.spring["kind"] == "Separate":
        carried("spring_moving", corner.spring["on"])
    if corner.drop_link_on:
        carried("drop_link_outer", corner.drop_link_on)
        if "bar_pivot" in p:
            bar = named(BAR)
            assembly.stage([bar[2]], [(bar[0], bar[2]), (bar[1], bar[2]), (prefix + "drop_link_outer", bar[2])])


def corner_assembly(corner):
    """The assembly of one corner, and the part that carries its wheel."""
    assembly = Assembly(corner.points)
    part = wheel_of(corner, assembly)
    springing_of(corner, assembly, {"Upright": part})
    return assembly, part


def beam_assembly(axle):
    """Two wheels on one part; whatever rods the file names, and a Watt lever where it has one."""
    design = dict(axle.points)
    for side, corner in axle.sides.items():
        design |= {f"{side}.{name}": at for name, at in corner.points.items()}
    assembly = Assembly(design)
    wheels = ["left.wheel_centre", "right.wheel_centre"]
    rods = [(f"{side}.{which}_inner", f"{side}.{which}_outer")
            for side in ("left", "right") for which in ("lower_link", "upper_link")
            if f"{side}.{which}_outer" in design]
    rods += [pair for pair in (("top_link_inner", "top_link_outer"), ("panhard_rod_body", "panhard_rod_axle"),
                               ("torque_arm_link_body", "torque_arm_link_axle")) if pair[1] in design]
    on_axle = [rod[1] for rod in rods]
    part = widest(design, wheels + on_axle)
    lever = "watt_pivot" in design
    lever_unknown, lever_rods = [], []
    if lever:
        hinge = ("watt_pivot", "watt_axis")
        if axle.words["watt_lever_on"] == "Axle":
            on_axle += hinge
        else:
            on_axle += ["watt_rod_left", "watt_rod_right"]
        lever_unknown = ["watt_lever_left"]
        lever_rods = [(n, "watt_lever_left") for n in hinge]
        lever_rods += [(f"watt_rod_{s}", f"watt_lever_{s}") for s in ("left", "right")]
    for name in wheels + on_axle:
        if name not in part and name not in assembly.follows:
            assembly.carry(name, part)
    if lever:
        assembly.carry("watt_lever_right", (*hinge, "watt_lever_left"))
    for side, corner in axle.sides.items():
        assembly.carry(f"{side}.spin_axis", part, corner.spin_axis)
    assembly.stage(list(part) + lever_unknown, rods + inside(part) + lever_rods, driven=wheels)
    for side, corner in axle.sides.items():
        springing_of(corner, assembly, {"Upright": part}, side + ".")
    return assembly, part


def t_bar_assembly(axle):
    """Stem and crossbar of a T-shaped bar; the drop links' outer ends are given."""
    design = dict(axle.points)
    for side, corner in axle.sides.items():
        design |= {f"{side}.{n}": corner.points[n] for n in ("drop_link_outer", "drop_link_bar")}
    assembly = Assembly(design)
    ends = ("left.drop_link_bar", "right.drop_link_bar")
    assembly.carry(ends[1], ("t_bar_pivot", "t_bar_head", ends[0]))
    assembly.stage(["t_bar_head", ends[0]], [
        ("t_bar_pivot", "t_bar_head"), ("t_bar_axis", "t_bar_head"),
        ("t_bar_pivot", ends[0]), ("t_bar_head", ends[0]),
        ("left.drop_link_outer", ends[0]), ("right.drop_link_outer", ends[1])])
    return assembly


class Steering:
    """Where the tie rods' inner ends go for the axle's steering input: metres of rack, radians of pitman arm."""

    def __init__(self, axle):
        self.axle, self.kind = axle, axle.kind_of_steering
        if self.kind == "Rack":
            self.along = unit(np.array(axle.steering["axis"], dtype=REAL))
        if self.kind == "Box":
            words = axle.steering
            place = lambda key: np.array(words[key], dtype=REAL) / 1000
            self.pivot, self.ball = place("pitman_pivot"), place("pitman_ball")
            self.axis = unit(np.array(words["pitman_axis"], dtype=REAL))
            idler = place("idler_pivot")
            self.link = Assembly({
                "pitman_ball": self.ball, "idler_ball": place("idler_ball"), "idler_pivot": idler,
                "idler_second": idler + unit(np.array(words["idler_axis"], dtype=REAL)) / 10})
            self.link.stage(["idler_ball"], [("idler_pivot", "idler_ball"), ("idler_second", "idler_ball"),
                                             ("pitman_ball", "idler_ball")])
            frame = self.frame(self.ball, self.link.design["idler_ball"])
            self.parts = {side: frame.T @ (corner.points["tie_rod_inner"] - self.ball)
                          for side, corner in axle.sides.items()}

    def frame(self, pitman, idler):
        """The centre link's axes: along it, square to the plane it spans with the pitman axis, and the third."""
        along = unit(idler - pitman)
        across = unit(cross(self.axis, along))
        return np.column_stack([along, across, cross(along, across)])

    def inner_ends(self, steer):
        """By side; empty where nothing steers."""
        steer = REAL(steer)
        if self.kind == "Fixed":
            return {side: {} for side in self.axle.sides}
        if self.kind == "Rack":
            return {side: {"tie_rod_inner": corner.points["tie_rod_inner"] + steer * self.along}
                    for side, corner in self.axle.sides.items()}
        ball = self.pivot + turned(self.ball - self.pivot, self.axis, steer)
        idler = self.link.solve([], {"pitman_ball": ball})["idler_ball"]
        frame = self.frame(ball, idler)
        return {side: {"tie_rod_inner": ball + frame @ parts} for side, parts in self.parts.items()}


def followed(assembly, heights, inner_ends, steer):
    """A pose followed from the design pose in steps short enough to stay on its branch."""
    pose, steps = None, 8
    for k in range(1, steps + 1):
        share = REAL(k) / steps
        pose = assembly.solve([REAL(h) * share for h in heights], inner_ends(REAL(steer) * share), pose)
    return pose
