"""One upright on five rods, its step of Newton and its readings, over any numbers.

Vectors are triples. The numbers may be NumPy arrays (a number for every pose) or CasADi symbols; `m`
is the module with the matching sqrt, atan2 and asin. Written from the definitions, for timing: the
numbers that are held against the solver come from elsewhere.
"""

UP = (0.0, 0.0, 1.0)


def add(a, b):
    return tuple(x + y for x, y in zip(a, b))


def sub(a, b):
    return tuple(x - y for x, y in zip(a, b))


def scale(a, s):
    return tuple(x * s for x in a)


def dot(a, b):
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a, b):
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def unit(m, a):
    return scale(a, 1 / m.sqrt(dot(a, a)))


def turned(rotation, v):
    """`rotation` is three columns."""
    return add(add(scale(rotation[0], v[0]), scale(rotation[1], v[1])), scale(rotation[2], v[2]))


def rotation_of(g):
    """Columns of the rotation with Rodrigues' parameters g."""
    s = 2 / (1 + dot(g, g))
    columns = []
    for axis in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)):
        once = cross(g, axis)
        columns.append(add(axis, scale(add(once, cross(g, once)), s)))
    return columns


def eliminate(rows, sides, order=(0, 2, 1, 3, 4)):
    """Solves the five equations for X, Y and the turn, by elimination in a fixed order."""
    rows = [list(rows[i]) for i in order]
    sides = [list(sides[i]) for i in order]
    n = len(rows)
    for k in range(n):
        reciprocal = 1 / rows[k][k]
        for i in range(k + 1, n):
            factor = rows[i][k] * reciprocal
            rows[i] = rows[i][:k + 1] + [rows[i][j] - factor * rows[k][j] for j in range(k + 1, n)]
            sides[i] = [sides[i][j] - factor * sides[k][j] for j in range(len(sides[i]))]
        rows[k].append(reciprocal)
    solved = []
    for s in range(len(sides[0])):
        x = [0.0] * n
        for k in reversed(range(n)):
            total = sides[k][s]
            for j in range(k + 1, n):
                total = total - rows[k][j] * x[j]
            x[k] = total * rows[k][n]
        solved.append(x)
    return solved


class Upright:
    def __init__(self, corner):
        p = {name: tuple(float(x) for x in at) for name, at in corner.points.items()}
        self.points = p
        self.centre = p["wheel_centre"]
        self.spin = tuple(float(x) for x in corner.spin_axis)
        self.radius = float(corner.tyre_radius)
        self.side = 1.0
        ends = [("upper_wishbone_front", "upper_ball_joint"), ("upper_wishbone_rear", "upper_ball_joint"),
                ("lower_wishbone_front", "lower_ball_joint"), ("lower_wishbone_rear", "lower_ball_joint"),
                (corner.link_inner, corner.link_outer)]
        self.rods = []
        for inner, outer in ends:
            gap = sub(p[outer], p[inner])
            self.rods.append((p[inner], outer, dot(gap, gap) ** 0.5))

    def arm(self, name):
        return sub(self.points[name], self.centre)

    def step(self, centre, g, sides=1):
        """A step of Newton from a pose whose height is right: what is left, the corrections of X, Y and
        the turn, and, if asked, their rates with travel and with the rack."""
        rotation = rotation_of(g)
        arms = {name: turned(rotation, self.arm(name)) for _, name, _ in self.rods}
        rows, right, left = [], [], []
        for i, (inner, outer, length) in enumerate(self.rods):
            gap = sub(add(centre, arms[outer]), inner)
            along = scale(gap, 1 / length)
            turn = cross(arms[outer], along)
            residual = (dot(gap, along) - length) * 0.5
            rows.append((along[0], along[1], *turn))
            left.append(residual)
            right.append((residual, -along[2], along[1] if i == 4 else 0.0 * residual)[:sides])
        return left, eliminate(rows, right)

    @staticmethod
    def moved(centre, g, x):
        """The pose after a correction; the turn as Rodrigues' parameters compose for a small one."""
        half = scale((x[2], x[3], x[4]), -0.5)
        share = 1 / (1 - dot(half, g))
        g = scale(add(add(half, g), cross(half, g)), share)
        return (centre[0] - x[0], centre[1] - x[1], centre[2]), g

    def swing(self, m, pivot, axis_to, tip, mover_design, mover, velocity):
        """Turn of a hinged part worked by a rod, and its rate."""
        axis = sub(axis_to, pivot)
        axis = scale(axis, 1 / dot(axis, axis) ** 0.5)
        from_pivot = sub(tip, pivot)
        along = dot(axis, from_pivot)
        out = sub(from_pivot, scale(axis, along))
        radius = dot(out, out) ** 0.5
        outward = scale(out, 1 / radius)
        square = cross(axis, outward)
        rod = sub(tip, mover_design)
        rod = dot(rod, rod) ** 0.5
        branch = -1.0 if dot(square, sub(mover_design, pivot)) > 0 else 1.0
        middle = add(pivot, scale(axis, along))
        to = sub(mover, middle)
        a, b = radius * dot(outward, to), radius * dot(square, to)
        c = (radius * radius + dot(to, to) - rod * rod) * 0.5
        h = a * a + b * b
        root = m.sqrt(h - c * c) * branch
        cos, sin = (a * c - b * root) / h, (b * c + a * root) / h
        tip = add(middle, scale(add(scale(outward, cos), scale(square, sin)), radius))
        link = sub(tip, mover)
        rate = dot(link, velocity) / dot(link, cross(axis, sub(tip, pivot)))

        def carried(point):
            r = sub(point, pivot)
            share = scale(axis, dot(axis, r))
            r = sub(r, share)
            at = add(add(pivot, share), add(scale(r, cos), scale(cross(axis, r), sin)))
            return at, scale(cross(axis, sub(at, pivot)), rate)
        return m.atan2(sin, cos), rate, carried

    def readings(self, m, centre, g, v, w, vs, ws):
        """Readings of a wheel on level ground: angles, axes, places, rates, centres, springing."""
        p, side, rotation = self.points, self.side, rotation_of(g)
        a = turned(rotation, self.spin)
        lower = add(centre, turned(rotation, self.arm("lower_ball_joint")))
        upper = add(centre, turned(rotation, self.arm("upper_ball_joint")))
        out = []
        # Angles of the wheel.
        camber = -m.asin(a[2])
        forward = cross(scale(a, side), UP)
        steer = m.atan2(forward[1], forward[0])
        out += [camber, -side * camber, steer, -side * steer]
        # Steering axis and its places.
        reach = m.sqrt(1 - a[2] * a[2])
        down = scale((a[0] * a[2], a[1] * a[2], a[2] * a[2] - 1), 1 / reach)
        contact = add(centre, scale(down, self.radius))
        forward = unit(m, forward)
        outboard = scale(cross(UP, forward), side)

        def axis(point, k):
            ground = add(point, scale(k, (contact[2] - point[2]) / k[2]))
            to = sub(contact, ground)
            return [m.atan2(-k[0], k[2]), m.atan2(-side * k[1], k[2]), dot(to, outboard), -dot(to, forward)]
        k = sub(upper, lower)
        out += axis(lower, k)
        level = sub(centre, add(lower, scale(k, (centre[2] - lower[2]) / k[2])))
        out += [dot(level, outboard), -dot(level, forward)]
        turns = dot(ws, ws)
        out += axis(add(centre, scale(cross(ws, vs), 1 / turns)), scale(ws, 1 / m.sqrt(turns)))
        # Places and rates.
        a_rate, k_rate = cross(w, a), cross(w, k)
        f, f_rate = cross(scale(a, side), UP), cross(scale(a_rate, side), UP)
        flat = f[0] * f[0] + f[1] * f[1]
        down_rate = add(scale(add(scale(a_rate, a[2]), scale(a, a_rate[2])), 1 / reach),
                        scale((a[0] * a[2], a[1] * a[2], a[2] * a[2] - 1), a[2] * a_rate[2] / reach**3))
        contact_rate = add(v, scale(down_rate, self.radius))
        patch = add(v, cross(w, sub(contact, centre)))
        out += [side * contact[1], side * contact[1] - side * p["wheel_centre"][1], p["wheel_centre"][0] - centre[0],
                -side * (f[0] * f_rate[1] - f[1] * f_rate[0]) / flat, -a_rate[2] / reach,
                (k[0] * k_rate[2] - k[2] * k_rate[0]) / (k[0] * k[0] + k[2] * k[2]),
                side * (k[1] * k_rate[2] - k[2] * k_rate[1]) / (k[1] * k[1] + k[2] * k[2]),
                side * contact_rate[1], -v[0], patch[0] / patch[2]]
        # Instant centres and screw.
        square = dot(w, w)
        along, foot = scale(w, 1 / m.sqrt(square)), add(centre, scale(cross(w, v), 1 / square))
        out += [side * w[0], centre[1] - v[2] / w[0], centre[2] + v[1] / w[0], w[1], centre[0] + v[2] / w[1],
                centre[2] - v[0] / w[1], *along, *foot, dot(w, v) / square]
        s_rate = cross(cross(ws, scale(a, side)), UP)
        out.append((f[0] * s_rate[1] - f[1] * s_rate[0]) / flat)
        # Pushrod on the lower wishbone, rocker, damper, bar.
        base = p["lower_wishbone_rear"]
        hinge = sub(p["lower_wishbone_front"], base)
        hinge = scale(hinge, 1 / dot(hinge, hinge) ** 0.5)

        def arm(m, ball):
            r = sub(ball, base)
            r = sub(r, scale(hinge, dot(hinge, r)))
            size = m.sqrt(dot(r, r))
            r = scale(r, 1 / size)
            return size, r, cross(hinge, r)

        class Plain:
            sqrt = staticmethod(lambda x: x**0.5)
        _, r, q = arm(Plain, p["lower_ball_joint"])
        local = sub(p["pushrod_outer"], base)
        local = (dot(local, hinge), dot(local, r), dot(local, q))
        size, r, q = arm(m, lower)
        eye = add(scale(hinge, local[0]), add(scale(r, local[1]), scale(q, local[2])))
        rate = dot(q, add(v, cross(w, sub(lower, centre)))) / size
        push, push_rate = add(base, eye), scale(cross(hinge, eye), rate)
        _, _, carried = self.swing(m, p["rocker_pivot"], p["rocker_axis"], p["pushrod_inner"], p["pushrod_outer"],
                                   push, push_rate)
        eye, eye_rate = carried(p["damper_rocker"])
        gap = sub(eye, p["damper_body"])
        length = m.sqrt(dot(gap, gap))
        ratio = -dot(gap, eye_rate) / length
        drop, drop_rate = carried(p["drop_link_outer"])
        angle, bar_rate, _ = self.swing(m, p["bar_pivot"], p["bar_axis"], p["drop_link_bar"], p["drop_link_outer"],
                                        drop, drop_rate)
        return out + [length, ratio, 1 / ratio, angle, bar_rate]
