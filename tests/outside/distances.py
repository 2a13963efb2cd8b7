"""Linkages as nothing but points at fixed distances, in extended precision.

A rigid part is three of its points; every other point of it follows in their skew frame. Unknown
points are found stage by stage: first those of the wheel, then those of rocker, bar and the rest.
Newton's matrix is a double, the residual is not, so poses come out good to about 1e-18 m and
finite differences are worth having.
"""

from dataclasses import dataclass, field

import numpy as np

from car_points import REAL


def length(v):
    return np.sqrt(v @ v)


def unit(v):
    return v / length(v)


def cross(a, b):
    return np.array([a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]])


def turned(vector, axis, angle):
    """A vector turned right-handed about a unit axis."""
    c, s = np.cos(angle), np.sin(angle)
    return c * vector + s * cross(axis, vector) + (1 - c) * (axis @ vector) * axis


def skew(v):
    return np.array([[0, -v[2], v[1]], [v[2], 0, -v[0]], [-v[1], v[0], 0]], dtype=float)


def frame_of(base, along, across):
    e, f = along - base, across - base
    return np.column_stack([e, f, cross(e, f)])


def refined(matrix, right):
    """The solution of a square system, refined beyond the double inverse."""
    inverse = np.linalg.inv(matrix.astype(float)).astype(REAL)
    found = inverse @ right
    for _ in range(6):
        found = found + inverse @ (right - matrix @ found)
    return found


@dataclass
class Follows:
    """A point (or, as a vector, a direction) that a part carries."""

    base: str
    along: str
    across: str
    parts: np.ndarray
    is_point: bool = True


@dataclass
class Stage:
    unknown: list
    distances: list
    # (point, foot, direction): the point stays square to the direction, seen from the foot.
    square: list = field(default_factory=list)
    # Names of points whose heights are driven, in order.
    driven: list = field(default_factory=list)


class Assembly:
    """`design` holds every point in the design pose; `given` at solving overrides those that are moved."""

    def __init__(self, design):
        self.design = {name: np.asarray(v, dtype=REAL) for name, v in design.items()}
        self.follows, self.stages = {}, []

    def carry(self, name, part, vector=None):
        """`name` is carried by the part that three points make."""
        d = self.design
        frame = frame_of(*(d[p] for p in part))
        offset = d[name] - d[part[0]] if vector is None else vector
        self.follows[name] = Follows(*part, refined(frame, offset), vector is None)

    def stage(self, unknown, distances, square=(), driven=()):
        made = Stage(list(unknown), list(distances), list(square), list(driven))
        if 3 * len(made.unknown) != len(made.distances) + len(made.square) + len(made.driven):
            raise ValueError(f"{made.unknown}: {3 * len(made.unknown)} coordinates, "
                             f"{len(made.distances) + len(made.square) + len(made.driven)} equations")
        made.lengths = [length(self.design[a] - self.design[b]) for a, b in made.distances]
        self.stages.append(made)

    def solve(self, heights, given=None, start=None):
        """Every point; `heights` are the driven points' rises from the design pose."""
        known = dict(given or {})
        for stage in self.stages:
            self.newton(stage, [REAL(h) for h in heights], known, start or self.design)
        for name in self.follows:
            self.at(name, known)
        return self.design | known

    def at(self, name, known):
        if name not in known:
            f = self.follows.get(name)
            if f is None:
                return self.design[name]
            base, along, across = (self.at(p, known) for p in (f.base, f.along, f.across))
            moved = frame_of(base, along, across) @ f.parts
            known[name] = base + moved if f.is_point else moved
        return known[name]

    def slope(self, name, known, columns, count):
        """3 x count: how a point moves with the unknown coordinates; a double."""
        if name in columns:
            rows = np.zeros((3, count))
            rows[:, columns[name]:columns[name] + 3] = np.eye(3)
            return rows
        f = self.follows.get(name)
        if f is None:
            return np.zeros((3, count))
        slopes = [self.slope(p, known, columns, count) for p in (f.base, f.along, f.across)]
        base, along, across = (self.at(p, known).astype(float) for p in (f.base, f.along, f.across))
        e, f_ = along - base, across - base
        je, jf = slopes[1] - slopes[0], slopes[2] - slopes[0]
        alpha, beta, gamma = f.parts.astype(float)
        moved = alpha * je + beta * jf + gamma * (skew(e) @ jf - skew(f_) @ je)
        return slopes[0] + moved if f.is_point else moved

    def residual(self, stage, heights, known):
        out = []
        for (a, b), want in zip(stage.distances, stage.lengths):
            d = self.at(a, known) - self.at(b, known)
            # Halved squared distances divided by the length: smooth, and still in metres.
            out.append((d @ d - want * want) / (2 * want))
        for point, foot, direction in stage.square:
            out.append((self.at(point, known) - self.at(foot, known)) @ self.at(direction, known))
        for name, height in zip(stage.driven, heights):
            out.append(self.at(name, known)[2] - self.design[name][2] - height)
        return np.array(out)

    def jacobian(self, stage, known):
        columns = {name: 3 * i for i, name in enumerate(stage.unknown)}
        count = 3 * len(stage.unknown)
        slope = lambda name: self.slope(name, known, columns, count)
        at = lambda name: self.at(name, known).astype(float)
        rows = []
        for (a, b), want in zip(stage.distances, stage.lengths):
            rows.append((at(a) - at(b)) / float(want) @ (slope(a) - slope(b)))
        for point, foot, direction in stage.square:
            rows.append(at(direction) @ (slope(point) - slope(foot)) + (at(point) - at(foot)) @ slope(direction))
        for name in stage.driven:
            rows.append(slope(name)[2])
        return np.array(rows)

    def newton(self, stage, heights, known, start):
        flat = np.concatenate([np.asarray(start[name], dtype=REAL) for name in stage.unknown])
        held = dict(known)
        matrix = None
        for turn in range(60):
            known.clear()
            known.update(held)
            for i, name in enumerate(stage.unknown):
                known[name] = flat[3 * i:3 * i + 3]
            miss = self.residual(stage, heights, known)
            worst = np.max(np.abs(miss))
            if worst < REAL(2e-19) or (turn and last_step < 1e-17 and worst < REAL(1e-17)):
                break
            # Near the solution the matrix is kept: the residual alone decides what is right.
            if matrix is None or worst > REAL(1e-9):
                matrix = np.linalg.inv(self.jacobian(stage, known))
            step = matrix @ miss.astype(float)
            last_step = np.max(np.abs(step))
            if last_step > 0.1:
                step *= 0.1 / last_step
            flat = flat - step.astype(REAL)
        if not worst < REAL(1e-16):
            raise ArithmeticError(f"{stage.unknown}: {float(worst):.3g} m of residual left")
