"""Reads a car file's points without any of the project's own code.

A parser for the part of RON that car files use, and the points, lengths and spin axes of
each axle, in metres and extended precision.
"""

import re
from dataclasses import dataclass, replace

import numpy as np

REAL = np.longdouble

TOKEN = re.compile(
    r"\s+|//[^\n]*|/\*.*?\*/"
    r'|(?P<text>"(?:[^"\\]|\\.)*")'
    r"|(?P<number>[-+]?\d+\.?\d*(?:[eE][-+]?\d+)?)"
    r"|(?P<name>[A-Za-z_]\w*)"
    r"|(?P<mark>[()\[\]:,])",
    re.DOTALL,
)


def tokens(text):
    at = 0
    while at < len(text):
        match = TOKEN.match(text, at)
        if match is None:
            raise ValueError(f"line {text.count(chr(10), 0, at) + 1}: cannot read {text[at:at + 20]!r}")
        if match.lastgroup:
            yield match.lastgroup, match.group()
        at = match.end()
    yield "end", ""


class Reader:
    """Structs become dicts, tuples and lists become lists, `Kind(..)` a dict with a "kind"."""

    def __init__(self, text):
        self.rest = list(tokens(text))
        self.at = 0

    def peek(self, ahead=0):
        return self.rest[min(self.at + ahead, len(self.rest) - 1)]

    def take(self, wanted=None):
        token = self.peek()
        if wanted is not None and token[1] != wanted:
            raise ValueError(f"expected {wanted!r}, found {token[1]!r}")
        self.at += 1
        return token

    def value(self):
        group, text = self.take()
        if group == "number":
            # From the decimal digits, so that no double rounding is carried along.
            return REAL(text)
        if group == "text":
            return text[1:-1]
        if group == "name":
            if self.peek()[1] != "(":
                return text
            self.take("(")
            inside = self.inside(")")
            # An axis says whether its numbers are a direction or a second point; its key says so too.
            if text in ("Direction", "Point") and isinstance(inside, list):
                return inside
            return {"kind": text, **inside} if isinstance(inside, dict) else {"kind": text, "of": inside}
        if text in "([":
            return self.inside(")" if text == "(" else "]")
        raise ValueError(f"unexpected {text!r}")

    def inside(self, close):
        named, plain = {}, []
        while self.peek()[1] != close:
            if self.peek()[0] == "name" and self.peek(1)[1] == ":":
                key = self.take()[1]
                self.take(":")
                named[key] = self.value()
            else:
                plain.append(self.value())
            if self.peek()[1] != close:
                self.take(",")
        self.take(close)
        return named if named else plain


def read(text):
    reader = Reader(text)
    car = reader.value()
    reader.take("")
    return car


@dataclass
class Corner:
    """One corner in its design pose: metres, and the spin axis as a unit vector outboard."""

    side: int
    linkage: str
    steered: bool
    points: dict
    spin_axis: np.ndarray
    tyre_radius: REAL
    # Radius of the tread's round cross-section; 0 where the tyre touches as a disc.
    shoulder_radius: REAL
    springing: dict | str | None
    spring: dict | None
    drop_link_on: str | None

    @property
    def link_inner(self):
        return "tie_rod_inner" if self.steered else "toe_link_inner"

    @property
    def link_outer(self):
        return "tie_rod_outer" if self.steered else "toe_link_outer"

    def with_point_moved(self, name, shift):
        """The same corner with one design point shifted; every length follows the points."""
        points = dict(self.points)
        points[name] = points[name] + np.array(shift, dtype=REAL)
        return replace(self, points=points)


@dataclass
class Axle:
    """Two corners, and what stands between them."""

    left: Corner
    right: Corner
    mirrored: bool
    linkage: str
    steering: dict | str
    points: dict
    words: dict

    @property
    def sides(self):
        return {"left": self.left, "right": self.right}

    @property
    def kind_of_steering(self):
        return self.steering if isinstance(self.steering, str) else self.steering["kind"]

    def with_point_moved(self, place, name, shift):
        """The same axle with one design point of a corner, or of its own, shifted; every length follows."""
        if place == "axle":
            return replace(self, points=self.points | {name: self.points[name] + np.array(shift, dtype=REAL)})
        return replace(self, mirrored=False, **{place: self.sides[place].with_point_moved(name, shift)})

    @property
    def kind_of_bar(self):
        """U, T or None."""
        if any(corner.drop_link_on for corner in self.sides.values()):
            return self.words.get("anti_roll_bar", {"kind": "U"})["kind"]
        return None


def radians(degrees):
    return degrees * np.arctan(REAL(1)) * 4 / 180


def degrees(angle):
    return angle * 45 / np.arctan(REAL(1))


def in_metres(xyz):
    return np.array(xyz, dtype=REAL) / 1000


def spin_axis(camber_deg, toe_deg, side):
    """Camber - = top inboard, toe + = front edge inboard, on either side."""
    camber, toe = radians(camber_deg), radians(toe_deg)
    # Seen from above, toe-in turns the outboard axis forward on both sides.
    return np.array([np.sin(toe) * np.cos(camber), side * np.cos(toe) * np.cos(camber), -np.sin(camber)], dtype=REAL)


def corner(axle, side):
    block = axle["left"]
    mirror = np.array([1, 1, 1], dtype=REAL)
    if side < 0:
        if axle["right"] == "Mirrored":
            mirror = np.array([1, -1, 1], dtype=REAL)
        else:
            block = axle["right"]
    points = {name: mirror * in_metres(xyz) for name, xyz in block["pickups"].items()}
    wheel = block["wheel"]
    points["wheel_centre"] = mirror * in_metres(wheel["centre"])
    return Corner(
        side=side,
        linkage=axle["linkage"],
        steered=axle["steering"] != "Fixed",
        points=points,
        spin_axis=spin_axis(wheel["spin_axis"]["camber_deg"], wheel["spin_axis"]["toe_deg"], side),
        tyre_radius=wheel["tyre_radius"] / 1000,
        shoulder_radius=wheel.get("tyre_shoulder_radius", REAL(0)) / 1000,
        springing=block.get("springing"),
        spring=block.get("spring"),
        drop_link_on=block.get("drop_link_on"),
    )


def axle(block):
    return Axle(
        left=corner(block, 1),
        right=corner(block, -1),
        mirrored=block["right"] == "Mirrored",
        linkage=block["linkage"],
        steering=block["steering"],
        points={name: in_metres(xyz) for name, xyz in block.get("pickups", {}).items()},
        words=block,
    )


def load(path):
    """The car as read, and its two axles by name."""
    car = read(path.read_text(encoding="utf-8"))
    if (car["units"], car["axes"]) != ("Millimetre", {"x": "Forward", "y": "Left", "z": "Up"}):
        raise ValueError("this reader knows millimetres, x forward, y left, z up only")
    return car, {end: axle(car[end]) for end in ("front", "rear")}
