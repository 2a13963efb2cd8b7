"""A corner as nothing but distances between points, solved with SciPy.

The upright is its three ball joints: nine coordinates, held by three distances among
themselves and five rods to the body; the ninth equation is the height of the wheel centre.
SciPy finds the pose in double precision; a few Newton steps whose residual is evaluated in
extended precision then bring it to about 1e-18 m, so that finite differences are worth having.
"""

import numpy as np
from scipy.optimize import fsolve

from car_points import REAL

UPPER, LOWER, LINK = 0, 1, 2


def length(v):
    return np.sqrt(v @ v)


class Fixed:
    """Coordinates of a point, or direction, in the skew frame of three points of a body."""

    def __init__(self, base, along, across, vector):
        frame = self.frame(base, along, across)
        inverse_start = np.linalg.inv(frame.astype(float)).astype(REAL)
        self.parts = inverse_start @ vector
        for _ in range(4):
            self.parts = self.parts + inverse_start @ (vector - frame @ self.parts)

    @staticmethod
    def frame(base, along, across):
        e, f = along - base, across - base
        return np.column_stack([e, f, np.cross(e, f)])

    def at(self, base, along, across):
        return self.frame(base, along, across) @ self.parts


def turned(vector, axis, angle):
    c, s = np.cos(angle), np.sin(angle)
    return c * vector + s * np.cross(axis, vector) + (1 - c) * (axis @ vector) * axis


class RodCorner:
    def __init__(self, corner):
        p = corner.points
        self.corner = corner
        self.design = np.array([p["upper_ball_joint"], p["lower_ball_joint"], p[corner.link_outer]])
        self.inner = np.array([p["upper_wishbone_front"], p["upper_wishbone_rear"], p["lower_wishbone_front"],
                               p["lower_wishbone_rear"], p[corner.link_inner]])
        self.rods = [(UPPER, 0), (UPPER, 1), (LOWER, 2), (LOWER, 3), (LINK, 4)]
        self.inside = [(UPPER, LOWER), (LOWER, LINK), (LINK, UPPER)]
        self.rod_lengths = [length(self.design[o] - self.inner[i]) for o, i in self.rods]
        self.inside_lengths = [length(self.design[a] - self.design[b]) for a, b in self.inside]
        lower, upper, link = self.design[LOWER], self.design[UPPER], self.design[LINK]
        self.centre = Fixed(lower, upper, link, p["wheel_centre"] - lower)
        self.spin = Fixed(lower, upper, link, corner.spin_axis)
        if corner.pushrod_on != "LowerWishbone":
            raise ValueError("only a pushrod on the lower wishbone is built here")
        self.hinge = (p["lower_wishbone_front"], p["lower_wishbone_rear"])
        self.pushrod_foot = Fixed(*self.hinge, p["lower_ball_joint"], p["pushrod_outer"] - self.hinge[0])

    def inner_at(self, rack):
        inner = self.inner
        if self.corner.rack_axis is not None:
            inner = inner.copy()
            inner[4] = inner[4] + rack * self.corner.rack_axis
        return inner

    def residual(self, flat, travel, inner):
        # Halved squared distances divided by the length: smooth, and still in metres.
        ends = flat.reshape(3, 3)
        out = []
        for (o, i), want in zip(self.rods, self.rod_lengths):
            d = ends[o] - inner[i]
            out.append((d @ d - want * want) / (2 * want))
        for (a, b), want in zip(self.inside, self.inside_lengths):
            d = ends[a] - ends[b]
            out.append((d @ d - want * want) / (2 * want))
        height = (ends[LOWER] + self.centre.at(ends[LOWER], ends[UPPER], ends[LINK]))[2]
        out.append(height - self.corner.points["wheel_centre"][2] - travel)
        return np.array(out)

    def jacobian(self, flat, inner):
        ends = flat.reshape(3, 3).astype(float)
        rows = np.zeros((9, 9))
        for row, ((o, i), want) in enumerate(zip(self.rods, self.rod_lengths)):
            rows[row, 3 * o:3 * o + 3] = (ends[o] - inner[i].astype(float)) / float(want)
        for row, ((a, b), want) in enumerate(zip(self.inside, self.inside_lengths), start=5):
            d = (ends[a] - ends[b]) / float(want)
            rows[row, 3 * a:3 * a + 3], rows[row, 3 * b:3 * b + 3] = d, -d
        # Height of base + alpha e + beta f + gamma e x f, by its z part alone.
        alpha, beta, gamma = self.centre.parts.astype(float)
        e, f = ends[UPPER] - ends[LOWER], ends[LINK] - ends[LOWER]
        by_e = np.array([gamma * f[1], -gamma * f[0], alpha])
        by_f = np.array([-gamma * e[1], gamma * e[0], beta])
        rows[8, 3 * UPPER:3 * UPPER + 3] = by_e
        rows[8, 3 * LINK:3 * LINK + 3] = by_f
        rows[8, 3 * LOWER:3 * LOWER + 3] = np.array([0, 0, 1]) - by_e - by_f
        return rows

    def ends(self, travel, rack=REAL(0), start=None):
        """The three ball joints of the upright, from `start` or from the design pose by SciPy."""
        travel, inner = REAL(travel), self.inner_at(REAL(rack))
        if start is None:
            double_inner = inner.astype(float)
            flat, _, ok, why = fsolve(
                lambda x: self.residual(x, float(travel), double_inner).astype(float),
                self.design.astype(float).ravel(), xtol=1e-12, full_output=True)
            if ok != 1:
                raise ArithmeticError(f"travel {travel} rack {rack}: {why}")
            start = flat.reshape(3, 3)
        flat = start.astype(REAL).ravel()
        for _ in range(8):
            step = np.linalg.solve(self.jacobian(flat, inner), self.residual(flat, travel, inner).astype(float))
            flat = flat - step.astype(REAL)
            if np.max(np.abs(step)) < 2e-17:
                break
        left = np.max(np.abs(self.residual(flat, travel, inner)))
        if left > REAL(1e-16):
            raise ArithmeticError(f"travel {travel} rack {rack}: {left} m of residual left")
        return flat.reshape(3, 3)

    def pose(self, ends, rack=REAL(0)):
        """Every moving point and angle that follows from the upright's three ball joints."""
        p = self.corner.points
        upper, lower, link = ends
        foot = self.hinge[0] + self.pushrod_foot.at(*self.hinge, lower)
        rocker, axis = p["rocker_pivot"], p["rocker_axis"] - p["rocker_pivot"]
        rock = self.close(rocker, axis, p["pushrod_inner"], foot, length(p["pushrod_inner"] - p["pushrod_outer"]))
        on_rocker = lambda name: rocker + turned(p[name] - rocker, axis / length(axis), rock)
        bar, bar_axis = p["bar_pivot"], p["bar_axis"] - p["bar_pivot"]
        arm = self.close(bar, bar_axis, p["drop_link_bar"], on_rocker("drop_link_outer"),
                         length(p["drop_link_bar"] - p["drop_link_outer"]))
        eye = on_rocker("damper_rocker")
        return {
            "wheel_centre": lower + self.centre.at(lower, upper, link),
            "spin_axis": self.spin.at(lower, upper, link),
            "upper_ball_joint": upper,
            "lower_ball_joint": lower,
            self.corner.link_inner: self.inner_at(REAL(rack))[4],
            self.corner.link_outer: link,
            "pushrod_outer": foot,
            "pushrod_inner": on_rocker("pushrod_inner"),
            "damper_rocker": eye,
            "drop_link_outer": on_rocker("drop_link_outer"),
            "drop_link_bar": bar + turned(p["drop_link_bar"] - bar, bar_axis / length(bar_axis), arm),
            "damper_length": length(eye - p["damper_body"]),
            # Mirror images turn alike: the right-hand axis counts the other way round.
            "bar_arm_angle": arm * self.corner.side,
            "rocker_angle": rock * self.corner.side,
        }

    @staticmethod
    def close(pivot, axis, end, far, rod):
        """Angle about an axis, near zero, at which a crank's end is one rod away from `far`."""
        axis = axis / length(axis)
        angle = REAL(0)
        for _ in range(60):
            at = turned(end - pivot, axis, angle)
            d = pivot + at - far
            miss = (d @ d - rod * rod) / (2 * rod)
            slope = d @ np.cross(axis, at) / rod
            # No step over half a radian, so that the root found is the one near the design.
            step = min(max(miss / slope, REAL(-0.5)), REAL(0.5))
            angle = angle - step
            if abs(step) < REAL(1e-18):
                break
        if abs(miss) > REAL(1e-16):
            raise ArithmeticError(f"a crank cannot reach its rod's end: {miss} m")
        return angle

    def solve(self, travel, rack=REAL(0), start=None):
        return self.pose(self.ends(travel, rack, start), rack)
