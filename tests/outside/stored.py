"""Numbers on disk: how they are written, and how a second computation is held against the first."""

import json
import math
import platform

import mujoco
import numpy as np
import scipy

from car_points import REAL

# What a second run must meet, on any machine.
RECOMPUTED_WITHIN = 1e-9

# What a solver in double precision should meet, by the ending of a number's name.
TOLERANCE = {
    "_m": 1e-11,
    "_deg": 1e-9,
    "_deg_per_m": 1e-8,
    "_deg_per_rad": 1e-8,
    "_per_m": 1e-9,
    "percent": 1e-6,
    "other ratios": 1e-10,
}


def made_with():
    return {
        "python": platform.python_version(),
        "numpy": np.__version__,
        "scipy": scipy.__version__,
        "mujoco": mujoco.__version__,
        "extended_precision_bits": int(np.finfo(REAL).nmant) + 1,
    }


def plain(value):
    if isinstance(value, (np.ndarray, list, tuple)):
        return [plain(v) for v in value]
    # Adding zero turns -0.0, which a mirrored zero is, into 0.0.
    return float(value) + 0.0


class Worst:
    """The largest value seen under each name; a NaN stays."""

    def __init__(self):
        self.seen = {}

    def note(self, name, value):
        largest = float(np.max(np.abs(value)))
        before = self.seen.get(name, 0.0)
        self.seen[name] = before if largest <= before else largest


def compared(stored, fresh, where, wrong):
    """Every number of the two trees against each other; what is only noise or naming is left out."""
    if isinstance(stored, dict) and isinstance(fresh, dict):
        if stored.keys() != fresh.keys():
            wrong.append((math.inf, f"{where}: {sorted(stored.keys() ^ fresh.keys())} on one side only"))
        return sum(compared(stored[k], fresh[k], f"{where}/{k}", wrong) for k in stored.keys() & fresh.keys())
    if isinstance(stored, list) and isinstance(fresh, list):
        if len(stored) != len(fresh):
            wrong.append((math.inf, f"{where}: {len(stored)} stored, {len(fresh)} computed"))
        return sum(compared(a, b, f"{where}[{i}]", wrong) for i, (a, b) in enumerate(zip(stored, fresh)))
    if isinstance(stored, (str, bool)) or isinstance(fresh, (str, bool)):
        if stored != fresh:
            wrong.append((math.inf, f"{where}: stored {stored!r}, computed {fresh!r}"))
        return 1
    # Not "difference > limit": a NaN must count as wrong.
    if not abs(stored - fresh) <= RECOMPUTED_WITHIN:
        wrong.append((abs(stored - fresh), f"{where}: stored {stored!r}, computed {fresh!r}"))
    return 1


def pretty(reference):
    """One line a row of a table, so that a changed number is a changed line."""
    def lines(value, indent):
        pad = "  " * indent
        if isinstance(value, dict):
            inside = ",\n".join(f'{pad}  {json.dumps(k)}: {lines(v, indent + 1)}' for k, v in value.items())
            return "{\n" + inside + "\n" + pad + "}"
        if isinstance(value, list) and value and isinstance(value[0], list):
            return "[\n" + ",\n".join(f"{pad}  {json.dumps(v)}" for v in value) + "\n" + pad + "]"
        return json.dumps(value)
    return lines(reference, 0) + "\n"
