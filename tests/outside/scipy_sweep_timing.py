"""Times SciPy's fsolve on Alder's front left corner: 1001 travels, each started from the last.

    python3 tests/outside/scipy_sweep_timing.py

The pose of the upright only (five rods and the height of the wheel centre, six unknowns), no
readings. Four ways: the residual written with NumPy or with plain floats, and fsolve finding the
Jacobian by differences or being given it. One thread. Prints microseconds a pose.
"""

import os

# Before NumPy is loaded: its linear algebra reads these once.
for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

import math
import platform
import time
from pathlib import Path

import numpy as np
import scipy
from scipy.optimize import fsolve

import car_points

CAR = Path(__file__).resolve().parents[2] / "demo-cars" / "alder.ron"
TRAVELS = np.linspace(-0.05, 0.05, 1001)
REPEATS = 5
# fsolve's difference step is a fraction of each unknown, nothing near zero: so none is near zero.
AWAY_FROM_ZERO = 1.0


class Upright:
    """Unknowns: where the wheel centre is, and the upright's turn as Rodrigues' three parameters."""

    def __init__(self, corner):
        p = {name: v.astype(float) for name, v in corner.points.items()}
        self.centre = p["wheel_centre"]
        inner = ["upper_wishbone_front", "upper_wishbone_rear", "lower_wishbone_front", "lower_wishbone_rear",
                 corner.link_inner]
        outer = ["upper_ball_joint"] * 2 + ["lower_ball_joint"] * 2 + [corner.link_outer]
        self.inner = np.array([p[n] for n in inner])
        self.arms = np.array([p[n] for n in outer]) - self.centre
        self.lengths = np.linalg.norm(self.centre + self.arms - self.inner, axis=1)
        self.start = np.concatenate([self.centre, np.zeros(3)]) + AWAY_FROM_ZERO
        self.plain = list(zip(self.inner.tolist(), self.arms.tolist(), self.lengths.tolist()))
        self.plain_height = float(self.centre[2])

    def turn(self, g):
        """The rotation whose Rodrigues parameters are g, and 1 / (1 + |g|^2)."""
        scale = 1 / (1 + g @ g)
        cross = np.array([[0, -g[2], g[1]], [g[2], 0, -g[0]], [-g[1], g[0], 0]])
        return np.eye(3) + 2 * scale * (cross + cross @ cross), scale

    def residual(self, x, travel):
        x = x - AWAY_FROM_ZERO
        turn, _ = self.turn(x[3:])
        rods = x[:3] + self.arms @ turn.T - self.inner
        return np.append(np.linalg.norm(rods, axis=1) - self.lengths, x[2] - self.centre[2] - travel)

    def jacobian(self, x, travel):
        x = x - AWAY_FROM_ZERO
        turn, scale = self.turn(x[3:])
        arms = self.arms @ turn.T
        rods = x[:3] + arms - self.inner
        along = rods / np.linalg.norm(rods, axis=1)[:, None]
        g = x[3:]
        # Angular velocity by the parameters' rates: w = 2 (g' + g x g') / (1 + |g|^2).
        cross = np.array([[0, -g[2], g[1]], [g[2], 0, -g[0]], [-g[1], g[0], 0]])
        out = np.zeros((6, 6))
        out[:5, :3] = along
        out[:5, 3:] = np.cross(arms, along) @ (2 * scale * (np.eye(3) + cross))
        out[5, 2] = 1
        return out

    def plain_residual(self, x, travel):
        px, py, pz, a, b, c = (x - AWAY_FROM_ZERO).tolist()
        s = 2 / (1 + a * a + b * b + c * c)
        out = []
        for (ix, iy, iz), (rx, ry, rz), want in self.plain:
            # r + s (g x r + g x (g x r))
            ux, uy, uz = b * rz - c * ry, c * rx - a * rz, a * ry - b * rx
            dx = px + rx + s * (ux + b * uz - c * uy) - ix
            dy = py + ry + s * (uy + c * ux - a * uz) - iy
            dz = pz + rz + s * (uz + a * uy - b * ux) - iz
            out.append(math.sqrt(dx * dx + dy * dy + dz * dz) - want)
        out.append(pz - self.plain_height - travel)
        return out

    def plain_jacobian(self, x, travel):
        px, py, pz, a, b, c = (x - AWAY_FROM_ZERO).tolist()
        s = 2 / (1 + a * a + b * b + c * c)
        out = []
        for (ix, iy, iz), (rx, ry, rz), _ in self.plain:
            ux, uy, uz = b * rz - c * ry, c * rx - a * rz, a * ry - b * rx
            ax = rx + s * (ux + b * uz - c * uy)
            ay = ry + s * (uy + c * ux - a * uz)
            az = rz + s * (uz + a * uy - b * ux)
            dx, dy, dz = px + ax - ix, py + ay - iy, pz + az - iz
            k = 1 / math.sqrt(dx * dx + dy * dy + dz * dz)
            dx, dy, dz = dx * k, dy * k, dz * k
            mx, my, mz = s * (ay * dz - az * dy), s * (az * dx - ax * dz), s * (ax * dy - ay * dx)
            # The row m (1 + [g]x), that is m + m x g.
            out.append([dx, dy, dz, mx + my * c - mz * b, my + mz * a - mx * c, mz + mx * b - my * a])
        out.append([0.0, 0.0, 1.0, 0.0, 0.0, 0.0])
        return out


def sweep(upright, residual, jacobian):
    """All travels from full droop to full bump; the first is reached in steps, outside the clock."""
    x = upright.start
    for travel in np.linspace(0, TRAVELS[0], 11):
        x = fsolve(residual, x, args=(travel,), fprime=jacobian, xtol=1e-12)
    poses = np.empty((len(TRAVELS), 6))
    began = time.perf_counter()
    for i, travel in enumerate(TRAVELS):
        x = fsolve(residual, x, args=(travel,), fprime=jacobian, xtol=1e-12)
        poses[i] = x
    return time.perf_counter() - began, poses


def main():
    _, axles = car_points.load(CAR)
    upright = Upright(axles["front"].left)
    print(f"Python {platform.python_version()}, NumPy {np.__version__}, SciPy {scipy.__version__}, one thread; "
          f"{len(TRAVELS)} travels, best of {REPEATS}")
    ways = [
        ("NumPy residual, Jacobian by differences", upright.residual, None),
        ("NumPy residual and Jacobian", upright.residual, upright.jacobian),
        ("plain residual, Jacobian by differences", upright.plain_residual, None),
        ("plain residual and Jacobian", upright.plain_residual, upright.plain_jacobian),
    ]
    first = None
    for name, residual, jacobian in ways:
        runs = [sweep(upright, residual, jacobian) for _ in range(REPEATS)]
        seconds, poses = min(runs, key=lambda r: r[0])
        left = max(np.max(np.abs(upright.residual(x, t))) for x, t in zip(poses, TRAVELS))
        if not left < 1e-12:
            raise SystemExit(f"error: {name}: {left:.0e} m of residual left, so its time means nothing")
        first = poses if first is None else first
        apart = np.max(np.abs(poses[:, :3] - first[:, :3]))
        print(f"{name:40} {1e6 * seconds / len(TRAVELS):8.1f} us a pose   residual {left:.0e} m   "
              f"from the first way {apart:.0e} m")


if __name__ == "__main__":
    main()
