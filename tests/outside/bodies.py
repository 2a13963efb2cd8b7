"""A whole axle as rigid bodies on joints, in MuJoCo.

Wishbones, arms, rockers and bars turn on hinges, rods hang on ball joints, a strut slides in a body
that swings from its mount, uprights and beam axles float; `connect` constraints close the loops.
MuJoCo is used for positions, constraint errors and Jacobians; Newton's step is our own, so no time
passes and nothing is soft. Velocities come from the same Jacobian, with no finite difference.
"""

from dataclasses import dataclass, field

import mujoco
import numpy as np

MASS = '<inertial pos="0 0 0" mass="1" diaginertia="1 1 1"/>'
FIVE_LINKS = ("upper_front_link", "upper_rear_link", "lower_front_link", "lower_rear_link")


def text(values):
    return " ".join(repr(float(v)) for v in values)


@dataclass
class Body:
    """Axes parallel to the vehicle's in the design pose, so that places are differences of points."""

    name: str
    at: np.ndarray
    joints: list
    sites: dict = field(default_factory=dict)
    inside: list = field(default_factory=list)

    def hold(self, name, where):
        self.sites.setdefault(name, where)

    def xml(self, base):
        joints = "".join(joint(self.at) for joint in self.joints)
        sites = "".join(f'<site name="{self.name}/{n}" pos="{text(p - self.at)}"/>' for n, p in self.sites.items())
        inside = "".join(body.xml(self.at) for body in self.inside)
        return f'<body name="{self.name}" pos="{text(self.at - base)}">{MASS}{joints}{sites}{inside}</body>'


def hinge(name, first, second):
    return lambda at: (f'<joint name="{name}" type="hinge" pos="{text(first - at)}" '
                       f'axis="{text(second - first)}"/>')


def slide(name, axis):
    return lambda at: f'<joint name="{name}" type="slide" axis="{text(axis)}"/>'


def ball(at):
    return '<joint type="ball"/>'


def free(at):
    return "<freejoint/>"


class BodyAxle:
    def __init__(self, axle):
        self.axle = axle
        self.world, self.connects, self.parts = [], [], {}
        self.points = {name: v.astype(float) for name, v in axle.points.items()}
        for side, corner in axle.sides.items():
            self.points |= {f"{side}.{name}": v.astype(float) for name, v in corner.points.items()}
        steering = self.steering()
        if axle.linkage == "BeamAxle":
            self.beam()
        for side, corner in axle.sides.items():
            if axle.linkage != "BeamAxle":
                self.corner(side, corner, steering)
            self.springing(side, corner)
        if axle.kind_of_bar == "T":
            self.t_bar()
        self.model = mujoco.MjModel.from_xml_string(f"""
<mujoco>
  <compiler angle="radian" autolimits="true"/>
  <option jacobian="dense" gravity="0 0 0"><flag contact="disable"/></option>
  <worldbody>{"".join(body.xml(np.zeros(3)) for body in self.world)}</worldbody>
  <equality>{"".join(f'<connect site1="{a}" site2="{b}"/>' for a, b in self.connects)}</equality>
</mujoco>""")
        self.data = mujoco.MjData(self.model)
        self.shows = {}
        for i in range(self.model.nsite):
            name = self.model.site(i).name
            self.shows.setdefault(name.split("/")[1], i)
        self.names = {mujoco.mj_id2name(self.model, mujoco.mjtObj.mjOBJ_JOINT, j): j for j in range(self.model.njnt)}

    # Building: parts are added to the world or to another part, points to the part that carries them.

    def part(self, name, at, joints, inside_of=None, points=()):
        body = Body(name, at, joints)
        for point in points:
            body.hold(point, self.points[point])
        (self.world if inside_of is None else inside_of.inside).append(body)
        self.parts[name] = body
        return body

    def hinged(self, name, first, second, points=(), inside_of=None):
        p = self.points
        return self.part(name, p[first], [hinge(name, p[first], p[second])], inside_of, points)

    def together(self, one, other, point):
        """Two parts meet at a point that is given once."""
        for body in (one, other):
            body.hold(point, self.points[point])
        self.connects.append((f"{one.name}/{point}", f"{other.name}/{point}"))

    def rod(self, name, near, far, near_part, far_part):
        """A rod on a ball joint at its near end, on a part or (None) on the body of the car."""
        rod = self.part(name, self.points[near], [ball], near_part, [near])
        self.together(rod, far_part, far)

    def steering(self):
        """The part that carries each side's tie rod."""
        p, words, kind = self.points, self.axle.steering, self.axle.kind_of_steering
        if kind == "Rack":
            axis = np.array(words["axis"], dtype=float)
            rack = self.part("rack", p["left.tie_rod_inner"], [slide("steer", axis)])
            return {side: rack for side in self.axle.sides}
        if kind == "Box":
            place = lambda key: np.array(words[key], dtype=float) / 1000
            direction = lambda key: np.array(words[key], dtype=float)
            for end in ("pitman", "idler"):
                for at in ("pivot", "ball"):
                    p[f"{end}_{at}"] = place(f"{end}_{at}")
                p[f"{end}_second"] = p[f"{end}_pivot"] + direction(f"{end}_axis")
            pitman = self.part("pitman", p["pitman_pivot"], [hinge("steer", p["pitman_pivot"], p["pitman_second"])],
                               points=["pitman_ball"])
            idler = self.hinged("idler", "idler_pivot", "idler_second", ["idler_ball"])
            # On a Cardan joint: about the pitman shaft's direction, then about what is square to it and
            # to the link. So the link cannot spin about its own length.
            at, up = p["pitman_ball"], direction("pitman_axis")
            across = np.cross(up, p["idler_ball"] - at)
            yoke = self.part("yoke", at, [hinge("yoke", at, at + up)], pitman)
            link = self.part("centre_link", at, [hinge("centre_link", at, at + across)], yoke)
            self.together(link, idler, "idler_ball")
            return {side: link for side in self.axle.sides}
        return {side: None for side in self.axle.sides}

    def corner(self, side, corner, steering):
        p = self.points
        s = side + "."
        wheel = p[s + "wheel_centre"]
        if corner.linkage == "TrailingArm":
            upright = self.hinged(s + "Upright", s + "arm_pivot_outboard", s + "arm_pivot_inboard")
        elif corner.linkage == "HArm":
            arm = self.hinged(s + "HArm", s + "h_arm_inner_front", s + "h_arm_inner_rear",
                              [s + "h_arm_outer_front", s + "h_arm_outer_rear"])
            upright = self.hinged(s + "Upright", s + "h_arm_outer_front", s + "h_arm_outer_rear", inside_of=arm)
            self.rod(s + "upper_link", s + "upper_link_inner", s + "upper_link_outer", None, upright)
        elif corner.linkage == "Strut":
            top = p[s + "strut_top"]
            tube = self.part(s + "strut", top, [ball])
            upright = self.part(s + "Upright", wheel, [slide(s + "strut", p[s + "strut_bottom"] - top)], tube,
                                [s + "strut_bottom"])
        else:
            upright = self.part(s + "Upright", wheel, [free])
        upright.hold(s + "wheel_centre", wheel)
        for which, name in (("upper", "UpperWishbone"), ("lower", "LowerWishbone")):
            if f"{s}{which}_ball_joint" in p:
                arm = self.hinged(s + name, f"{s}{which}_wishbone_front", f"{s}{which}_wishbone_rear")
                self.together(arm, upright, f"{s}{which}_ball_joint")
        if corner.linkage == "FiveLink":
            for n in FIVE_LINKS:
                self.rod(s + n, f"{s}{n}_inner", f"{s}{n}_outer", None, upright)
        if s + corner.link_outer in p:
            self.rod(s + "link", s + corner.link_inner, s + corner.link_outer, steering[side], upright)

    def beam(self):
        p = self.points
        middle = (p["left.wheel_centre"] + p["right.wheel_centre"]) / 2
        axle = self.part("axle", middle, [free], points=["left.wheel_centre", "right.wheel_centre"])
        self.parts["left.Upright"] = self.parts["right.Upright"] = axle
        pairs = [(f"{side}.{n}_inner", f"{side}.{n}_outer") for side in self.axle.sides
                 for n in ("lower_link", "upper_link")]
        pairs += [("top_link_inner", "top_link_outer"), ("panhard_rod_body", "panhard_rod_axle"),
                  ("torque_arm_link_body", "torque_arm_link_axle")]
        for near, far in pairs:
            if far in p:
                self.rod(far.rsplit("_", 1)[0] + "_rod", near, far, None, axle)
        if "watt_pivot" in p:
            on_axle = self.axle.words["watt_lever_on"] == "Axle"
            lever = self.hinged("watt_lever", "watt_pivot", "watt_axis", inside_of=axle if on_axle else None)
            for side in ("left", "right"):
                self.rod(f"watt_rod_{side}", f"watt_rod_{side}", f"watt_lever_{side}", None if on_axle else axle, lever)
            if on_axle:
                lever.hold("watt_pivot", p["watt_pivot"])

    def springing(self, side, corner):
        p, s = self.points, side + "."
        springing = corner.springing
        kind = springing["kind"] if isinstance(springing, dict) else springing
        carrier = lambda word: self.parts[s + word]
        if kind == "Rocker":
            rocker = self.hinged(s + "Rocker", s + "rocker_pivot", s + "rocker_axis",
                                 [s + n for n in ("damper_rocker", "third_spring_end") if s + n in p])
            self.rod(s + "pushrod", s + "pushrod_outer", s + "pushrod_inner", carrier(springing["pushrod_on"]), rocker)
        if kind == "Direct":
            carrier(springing["on"]).hold(s + "damper_rocker", p[s + "damper_rocker"])
        if corner.spring and corner.spring["kind"] == "Separate":
            carrier(corner.spring["on"]).hold(s + "spring_moving", p[s + "spring_moving"])
        if corner.drop_link_on and s + "bar_pivot" in p:
            bar = self.hinged(s + "bar", s + "bar_pivot", s + "bar_axis")
            self.rod(s + "drop_link", s + "drop_link_outer", s + "drop_link_bar", carrier(corner.drop_link_on), bar)

    def t_bar(self):
        stem = self.hinged("stem", "t_bar_pivot", "t_bar_axis", ["t_bar_head"])
        p = self.points
        crossbar = self.part("crossbar", p["t_bar_head"], [hinge("crossbar", p["t_bar_head"],
                             2 * p["t_bar_head"] - p["t_bar_pivot"])], stem)
        for side, corner in self.axle.sides.items():
            s = side + "."
            self.rod(s + "drop_link", s + "drop_link_outer", s + "drop_link_bar",
                     self.parts[s + corner.drop_link_on], crossbar)

    # Solving.

    def site_rows(self, name):
        rows = np.zeros((3, self.model.nv))
        mujoco.mj_jacSite(self.model, self.data, rows, None, self.shows[name])
        return rows

    def equations(self, rises, steer):
        """Constraint errors, then heights and steering, with their Jacobian; all as MuJoCo sees them."""
        m, d = self.model, self.data
        mujoco.mj_fwdPosition(m, d)
        errors, rows = list(d.efc_pos), list(d.efc_J.reshape(d.nefc, m.nv))
        for side, rise in zip(("left", "right"), rises):
            name = f"{side}.wheel_centre"
            errors.append(d.site_xpos[self.shows[name]][2] - self.points[name][2] - rise)
            rows.append(self.site_rows(name)[2])
        if "steer" in self.names:
            joint = self.model.joint("steer")
            errors.append(d.qpos[joint.qposadr[0]] - steer)
            rows.append(np.eye(m.nv)[joint.dofadr[0]])
        return np.array(errors), np.array(rows)

    def solve(self, rises, steer=0.0):
        m, d = self.model, self.data
        mujoco.mj_resetData(m, d)
        steps = 4
        for k in range(1, steps + 1):
            share = k / steps
            self.newton([float(r) * share for r in rises], float(steer) * share, last=k == steps)
        return {name: d.site_xpos[i].copy() for name, i in self.shows.items()} | {
            f"{side}.spin_axis": d.xmat[m.body(self.parts[f"{side}.Upright"].name).id].reshape(3, 3)
            @ corner.spin_axis.astype(float) for side, corner in self.axle.sides.items()}

    def newton(self, rises, steer, last):
        worst = np.inf
        for _ in range(40):
            errors, jacobian = self.equations(rises, steer)
            before, worst = worst, np.max(np.abs(errors))
            if worst < (1e-13 if last else 1e-6) and (not last or worst >= 0.5 * before):
                return
            # Rods are free to spin about themselves: the shortest step leaves that alone.
            step = -np.linalg.lstsq(jacobian, errors, rcond=1e-10)[0]
            step *= min(1.0, 0.3 / np.max(np.abs(step)) if np.any(step) else 1.0)
            mujoco.mj_integratePos(self.model, self.data.qpos, step, 1.0)
        if worst > 1e-12:
            raise ArithmeticError(f"travel {rises} steer {steer}: {worst} m of error left")

    def turn(self, joint):
        """Angle of a hinge from the design pose, right-handed about its axis; 0 where there is none."""
        return self.data.qpos[self.model.joint(joint).qposadr[0]] if joint in self.names else None

    def motion(self):
        """Rates for unit speed of each input, the others held: by input, a function of what moves."""
        errors, jacobian = self.equations((0, 0), 0)
        inputs = ["left", "right"] + (["steer"] if "steer" in self.names else [])
        wanted = np.zeros((len(errors), len(inputs)))
        wanted[-len(inputs):] = np.eye(len(inputs))
        rates = np.linalg.lstsq(jacobian, wanted, rcond=1e-10)[0]
        return {name: Motion(self, rates[:, i]) for i, name in enumerate(inputs)}


@dataclass
class Motion:
    solver: BodyAxle
    rates: np.ndarray

    def of_site(self, name):
        return self.solver.site_rows(name) @ self.rates

    def of_upright(self, side):
        """Velocity of the wheel centre, and angular velocity."""
        s = self.solver
        linear, angular = np.zeros((3, s.model.nv)), np.zeros((3, s.model.nv))
        mujoco.mj_jacSite(s.model, s.data, linear, angular, s.shows[f"{side}.wheel_centre"])
        return linear @ self.rates, angular @ self.rates

    def of_joint(self, joint):
        return self.rates[self.solver.model.joint(joint).dofadr[0]]

    def __add__(self, other):
        return Motion(self.solver, self.rates + other.rates)

    def __sub__(self, other):
        return Motion(self.solver, self.rates - other.rates)
