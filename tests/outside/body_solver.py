"""The same corner as rigid bodies on joints, in MuJoCo.

Wishbones, rocker and bar arm turn on hinges, the rods on ball joints, the upright is free;
`connect` constraints close the loops. MuJoCo is used for positions, constraint errors and
Jacobians; Newton's step is our own, so no time passes and nothing is soft. It answers twists
from the same Jacobian, with no finite difference.
"""

import mujoco
import numpy as np


def text(values):
    return " ".join(repr(float(v)) for v in values)


MASS = '<inertial pos="0 0 0" mass="1" diaginertia="1 1 1"/>'


class BodyCorner:
    def __init__(self, corner):
        self.corner = corner
        p = {name: v.astype(float) for name, v in corner.points.items()}
        self.inner, self.outer = corner.link_inner, corner.link_outer
        rack_axis = [0, 1, 0] if corner.rack_axis is None else corner.rack_axis

        def site(name, origin, label=None):
            return f'<site name="{label or name}" pos="{text(p[name] - p[origin])}"/>'

        def hinged(body, origin, second, sites, inside=""):
            return (f'<body name="{body}" pos="{text(p[origin])}">{MASS}'
                    f'<joint name="{body}" type="hinge" axis="{text(p[second] - p[origin])}"/>'
                    + "".join(site(*s) for s in sites) + inside + "</body>")

        def rod(body, near, far, base):
            return (f'<body name="{body}" pos="{text(p[near] - base)}">{MASS}<joint type="ball"/>'
                    + site(far, near, body + "_end") + "</body>")

        zero = np.zeros(3)
        model = f"""
<mujoco>
  <compiler angle="radian" autolimits="true"/>
  <option jacobian="dense" gravity="0 0 0"><flag contact="disable"/></option>
  <worldbody>
    <body name="upright" pos="{text(p['wheel_centre'])}">{MASS}<freejoint/>
      {site("upper_ball_joint", "wheel_centre", "upright_upper")}
      {site("lower_ball_joint", "wheel_centre", "upright_lower")}
      {site(self.outer, "wheel_centre", "upright_link")}
    </body>
    {hinged("upper", "upper_wishbone_front", "upper_wishbone_rear",
            [("upper_ball_joint", "upper_wishbone_front", "arm_upper")])}
    {hinged("lower", "lower_wishbone_front", "lower_wishbone_rear",
            [("lower_ball_joint", "lower_wishbone_front", "arm_lower"),
             ("pushrod_outer", "lower_wishbone_front")],
            rod("pushrod", "pushrod_outer", "pushrod_inner", p["lower_wishbone_front"]))}
    <body name="rack" pos="{text(p[self.inner])}">{MASS}
      <joint name="rack" type="slide" axis="{text(rack_axis)}"/>{rod("link", self.inner, self.outer, p[self.inner])}
      <site name="{self.inner}" pos="0 0 0"/>
    </body>
    {hinged("rocker", "rocker_pivot", "rocker_axis",
            [(n, "rocker_pivot") for n in ("pushrod_inner", "damper_rocker", "drop_link_outer")],
            rod("drop_link", "drop_link_outer", "drop_link_bar", p["rocker_pivot"]))}
    {hinged("bar", "bar_pivot", "bar_axis", [("drop_link_bar", "bar_pivot")])}
  </worldbody>
  <equality>
    <connect site1="upright_upper" site2="arm_upper"/>
    <connect site1="upright_lower" site2="arm_lower"/>
    <connect site1="upright_link" site2="link_end"/>
    <connect site1="pushrod_end" site2="pushrod_inner"/>
    <connect site1="drop_link_end" site2="drop_link_bar"/>
  </equality>
</mujoco>"""
        self.model = mujoco.MjModel.from_xml_string(model)
        self.data = mujoco.MjData(self.model)
        self.upright = self.model.body("upright").id
        self.rack = self.model.joint("rack")
        self.height = p["wheel_centre"][2]
        self.damper_body = p["damper_body"]

    def equations(self, travel, rack):
        """Constraint errors, then rack and height, with their Jacobian; all as MuJoCo sees them."""
        m, d = self.model, self.data
        mujoco.mj_fwdPosition(m, d)
        jacobian = d.efc_J.reshape(d.nefc, m.nv)
        rack_row = np.zeros(m.nv)
        rack_row[self.rack.dofadr[0]] = 1
        linear = np.zeros((3, m.nv))
        mujoco.mj_jacBody(m, d, linear, None, self.upright)
        errors = np.concatenate([d.efc_pos, [d.joint("rack").qpos[0] - rack,
                                             d.xpos[self.upright][2] - self.height - travel]])
        return errors, np.vstack([jacobian, rack_row, linear[2]])

    def solve(self, travel, rack=0.0):
        m, d = self.model, self.data
        mujoco.mj_resetData(m, d)
        worst = np.inf
        for _ in range(40):
            errors, jacobian = self.equations(float(travel), float(rack))
            # Rods are free to spin about themselves: the shortest step leaves that alone.
            step = -np.linalg.lstsq(jacobian, errors, rcond=1e-10)[0]
            step *= min(1.0, 0.3 / np.max(np.abs(step)) if np.any(step) else 1.0)
            before, worst = worst, np.max(np.abs(errors))
            if worst < 1e-13 and worst >= 0.5 * before:
                break
            mujoco.mj_integratePos(m, d.qpos, step, 1.0)
        if worst > 1e-12:
            raise ArithmeticError(f"travel {travel} rack {rack}: {worst} m of error left")
        turn = d.xmat[self.upright].reshape(3, 3)
        # From a site's own name where it lies on the part that carries it.
        points = {name: d.site(name).xpos.copy() for name in
                  (self.inner, "pushrod_outer", "pushrod_inner", "damper_rocker", "drop_link_outer", "drop_link_bar")}
        side = self.corner.side
        return points | {
            "wheel_centre": d.xpos[self.upright].copy(),
            "spin_axis": turn @ self.corner.spin_axis.astype(float),
            "upper_ball_joint": d.site("arm_upper").xpos.copy(),
            "lower_ball_joint": d.site("arm_lower").xpos.copy(),
            self.outer: d.site("link_end").xpos.copy(),
            "damper_length": np.linalg.norm(points["damper_rocker"] - self.damper_body),
            "bar_arm_angle": side * d.joint("bar").qpos[0],
            "rocker_angle": side * d.joint("rocker").qpos[0],
        } | self.motion(turn)

    def motion(self, turn):
        """Velocities for one unit of travel a second with the rack held, from the Jacobian."""
        m, d = self.model, self.data
        errors, jacobian = self.equations(0.0, 0.0)
        wanted = np.zeros(len(errors))
        wanted[-1] = 1
        rates = np.linalg.lstsq(jacobian, wanted, rcond=1e-10)[0]
        at = self.model.joint(int(m.body_jntadr[self.upright])).dofadr[0]
        eye = np.zeros((3, m.nv))
        mujoco.mj_jacSite(m, d, eye, None, m.site("damper_rocker").id)
        along = d.site("damper_rocker").xpos - self.damper_body
        return {
            "centre_velocity": rates[at:at + 3],
            # A free joint counts its angular velocity in the body's own axes.
            "angular_velocity": turn @ rates[at + 3:at + 6],
            "damper_rate": (eye @ rates) @ along / np.linalg.norm(along),
        }
