"""How a reading is taken on the bench: the very joint in the vise, bent until it touches."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, pi, radians, sin

import numpy as np

from geometry.contact.touch import Contact, TouchCurve
from geometry.joint import rotations
from geometry.solids import Solid, cylinder, prism
from sim.frames import pose
from sim.hardware.joint import JointHardware
from viewer.bench.line_art import line_art
from viewer.draw.camera import Floats
from viewer.draw.plan import ARROW, INK, Mark, Plan, Point, Stroke, Word, head, moved
from viewer.scene.parts import PosedPart, body_parts
from viewer.scene.stand_ins import plain_tube

OFF_VEHICLE = frozenset({"seal housing"})
"""Pieces of a yoke that stay on the vehicle when the joint goes to the bench."""

BAR = 15.0
"""Radius of a bar in the hub of a yoke that has no tube, mm."""

WALL = 2.1
"""Wall of the tube, mm; only to show."""

DIAL = 20.0
"""Radius of a protractor's dial, mm."""

OUTLINE, CORNER, SIGN = 0.7, 0.3, 1.0
"""Width of an outline, of a corner and of an arrow, mm."""

SIDE, ENDWAYS = "from the side", "along the clamped yoke"
"""How a joint on the bench is seen."""

_NEVER = radians(40.0)
"""Bend that is drawn at a turn at which nothing touches."""


@dataclass(frozen=True, eq=False)
class Bend:
    """A joint bent on the bench until it touches.

    clamped : "driving" or "driven", the yoke in the vise. bend, spin : rad, where it touches.
    turned : rad, of the clamped yoke's ears from in line with the bend, either way; None for the
    lowest touch of a whole turn. contact : what touches there.
    """

    hardware: JointHardware
    clamped: str
    bend: float
    spin: float
    turned: float | None
    contact: Contact | None

    @classmethod
    def of(cls, hardware: JointHardware, clamped: str, turned: float | None) -> Bend:
        """Bend a joint until it touches, with the clamped yoke's ears turned so far."""
        curve = hardware.touch()
        i = _lowest(curve) if turned is None else _nearest(curve, clamped, turned)
        bend = float(np.nan_to_num(curve.touch[i], nan=_NEVER))
        return cls(hardware, clamped, bend, float(curve.spin[i]), turned, curve.contacts[i])

    @property
    def bodies(self) -> tuple[str, str]:
        """The clamped yoke and the loose one."""
        return self.clamped, "driven" if self.clamped == "driving" else "driving"


def ears_turned(clamped: str, bend: Floats, spin: Floats) -> Floats:
    """Turn (rad) of the clamped yoke's ears from in line with the bend, by the spin (rad)."""
    if clamped == "driving":
        return spin
    return np.asarray(np.arctan2(np.cos(spin) * np.cos(bend), np.sin(spin)))


def _lowest(curve: TouchCurve) -> int:
    return int(np.argmin(np.nan_to_num(curve.touch, nan=np.inf)))


def _nearest(curve: TouchCurve, clamped: str, turned: float) -> int:
    """Number of the spin with the ears turned so far, either way, whichever touches first."""
    bend = np.nan_to_num(curve.touch, nan=_NEVER)
    ears = ears_turned(clamped, bend, curve.spin)
    found = [int(np.argmin(np.abs(np.sin(ears - each)))) for each in (turned, -turned)]
    return min(found, key=lambda i: bend[i])


def bent_on_bench(bent: Bend) -> Plan:
    """Draw a joint in the vise: what is clamped, where the ears point, where the protractor sits.

    Beside it the clamped yoke as it is seen from the cross, with the way that the other one goes.
    """
    fixed, loose = Held.of(bent, bent.clamped), Held.of(bent, bent.bodies[1])
    R_VC = from_the_side(bent)
    X_CV = pose(R_VC.T, np.zeros(3))
    vise = [PosedPart("vise", "cast iron", each.mesh(), X_CV) for each in _vise(fixed)]
    parts = [*fixed.parts, *loose.parts, *cross_of(bent), *vise]
    marks = [*lines_of(*line_art(parts, R_VC)), *_readings(bent, fixed, loose, R_VC)]
    inset = _ears(bent, fixed)
    left, right = fixed.end + 12.0, max(loose.end * cos(bent.bend), 120.0) + 42.0
    shift = np.array([right + inset.high[0] + 8.0, 25.0])
    marks += [_shifted(mark, shift) for mark in inset.marks]
    down = max(loose.end * sin(bent.bend) + 45.0, fixed.radius + 88.0)
    low, high = np.array([-left, -down]), np.array([shift[0] + inset.high[0], 112.0])
    return Plan(SIDE, tuple(marks), low, high)


@dataclass(frozen=True, eq=False)
class Held:
    """A yoke with what it is held by.

    yoke : its own pieces. shank : its tube, or a bar in its hub. start, end : mm from the cross
    center to where the shank begins and ends. radius : of the shank, mm.
    """

    yoke: tuple[PosedPart, ...]
    shank: tuple[PosedPart, ...]
    start: float
    radius: float
    end: float

    @classmethod
    def of(cls, bent: Bend, body: str) -> Held:
        """Take a yoke to the bench, a bar in its hub where it has no tube."""
        hardware = bent.hardware
        yoke = hardware.driving if body == "driving" else hardware.driven
        turned = rotations(bent.bend, bent.spin)
        X = pose(turned.R_JD if body == "driving" else turned.R_JN, np.zeros(3))
        pieces = {name: mesh for name, mesh in yoke.parts.items() if name not in OFF_VEHICLE}
        shown = [PosedPart(body, "light steel", mesh, X) for mesh in pieces.values()]
        start = yoke.tube_from or float(max(mesh.bounds[1, 0] for mesh in pieces.values()))
        end = start + (165.0 if body == bent.clamped else 92.0)
        if yoke.tube_from is None:
            radius, shank = BAR, [cylinder("x", BAR, start - 20.0, end, "bar").mesh()]
        else:
            radius = 0.5 * yoke.dimensions["tube_diameter"]
            shank = [mesh for _, mesh in plain_tube(2.0 * radius, WALL, start, end)]
        behind = tuple(PosedPart(body, "grey steel", mesh, X) for mesh in shank)
        return cls(tuple(shown), behind, start, radius, end)

    @property
    def parts(self) -> tuple[PosedPart, ...]:
        """All that is drawn of it."""
        return self.yoke + self.shank


def cross_of(bent: Bend) -> list[PosedPart]:
    """The cross between the yokes."""
    X = pose(rotations(bent.bend, bent.spin).R_JX, np.zeros(3))
    return list(body_parts("cross", bent.hardware.cross, X, "grey steel"))


def from_the_side(bent: Bend) -> Floats:
    """Rotation R_VC that shows the bend in full: clamped to the left, the other one going down."""
    if bent.clamped == "driving":
        return np.diag([-1.0, -1.0, 1.0])
    c, s = cos(bent.bend), sin(bent.bend)
    return np.array([[c, -s, 0.0], [-s, -c, 0.0], [0.0, 0.0, -1.0]])


def _vise(held: Held) -> list[Solid]:
    """Both jaws, the front one with its screw and bar, and the bench, in the drawing's frame."""
    right, r = -held.start - 72.0, held.radius
    left, foot, front = right - 62.0, -r - 44.0, r + 22.0
    middle = 0.5 * (left + right)
    jaws = [box((left, -r - 8.0, side), (right, 0.62 * r, side + 22.0)) for side in (r, -r - 22.0)]
    return [
        *jaws,
        box((left + 12.0, foot, -r - 30.0), (right - 12.0, -r - 8.0, front)),
        cylinder("z", 9.0, front, front + 30.0, "screw", (middle, -r - 25.0)),
        box((middle - 2.5, -r - 62.0, front + 20.0), (middle + 2.5, -r + 8.0, front + 25.0)),
        box((left - 8.0, foot - 8.0, -r - 40.0), (right + 8.0, foot, front + 4.0)),
        box((-held.end - 8.0, foot - 22.0, -r - 60.0), (right + 34.0, foot - 8.0, front + 8.0)),
    ]


def box(low: Sequence[float], high: Sequence[float]) -> Solid:
    """A box between two corners (3,), mm."""
    (a, b, c), (d, e, f) = low, high
    return prism([(a, b), (d, b), (d, e), (a, e)], "z", c, f, "vise")


def lines_of(rims: Floats, corners: Floats) -> list[Mark]:
    """Outlines and corners (n, 2, 2) as they are drawn."""
    return [Stroke(corners, INK, CORNER), Stroke(rims, INK, OUTLINE)]


def _readings(bent: Bend, fixed: Held, loose: Held, R_VC: Floats) -> Iterator[Mark]:
    """Both axes, the bend between them, both protractors, the touch, and the names."""
    along = (cos(bent.bend), -sin(bent.bend))
    reach = loose.end + 24.0
    yield Stroke(np.array([[(-fixed.end, 0.0), (reach + 6.0, 0.0)]]), INK, 0.35, (9.0, 3.0))
    out = moved((0.0, 0.0), along, reach + 6.0)
    yield Stroke(np.array([[(0.0, 0.0), out]]), INK, 0.35, (9.0, 3.0))
    yield from arc(reach - 6.0, 0.0, -bent.bend)
    half = -0.5 * bent.bend
    yield Word("bend", (cos(half) * (reach + 12.0), sin(half) * (reach + 12.0)), 8.0, bold=True)
    yield from _dial((-1.0, 0.0), fixed.start + 36.0, fixed.radius, "1")
    yield from _dial(along, loose.start + 40.0, loose.radius, "2")
    if bent.contact is not None:
        at = (bent.contact.points.mean(axis=0) @ R_VC.T)[:2]
        yield Stroke(circle(at, 9.0), ARROW, SIGN)
    below = (-fixed.start - 103.0, -fixed.radius - 80.0)
    yield Word(f"clamped: {bent.hardware.yoke_name(bent.clamped)}", below, 8.0, bold=True)
    yield from _push(along, loose)


def _push(along: Point, loose: Held) -> Iterator[Mark]:
    """The hand that pushes the loose yoke down, under its protractor's far side."""
    down = (along[1], -along[0])
    tip = moved(moved((0.0, 0.0), along, loose.end - 8.0), down, -loose.radius)
    tail = moved(tip, down, -30.0)
    yield Stroke(np.array([[tail, moved(tip, down, -5.0)]]), ARROW, 1.6, round_ends=False)
    yield head(tip, down, 12.0)
    yield Word("push", moved(tail, down, -7.0), 8.0, bold=True)


def _dial(along: Point, at: float, radius: float, number: str) -> Iterator[Mark]:
    """A protractor on a shank: its base along it, its needle hanging straight down."""
    up = (-along[1], along[0]) if along[0] > 0.0 else (along[1], -along[0])
    foot = moved(moved((0.0, 0.0), along, at), up, radius)
    a, b = moved(foot, along, -0.9 * DIAL), moved(foot, along, 0.9 * DIAL)
    c, d = moved(b, up, 7.0), moved(a, up, 7.0)
    yield Stroke(np.array([[a, b], [b, c], [c, d], [d, a]]), INK, OUTLINE)
    middle = moved(foot, up, 7.0 + DIAL)
    yield Stroke(circle(middle, DIAL), INK, OUTLINE)
    turns = np.arange(24) * pi / 12.0
    way = np.stack([np.cos(turns), np.sin(turns)], axis=-1)
    long = np.where(np.arange(24) % 6 == 0, 0.72, 0.84)[:, None]
    ticks = np.stack([middle + long * DIAL * way, middle + 0.95 * DIAL * way], axis=1)
    yield Stroke(ticks, INK, CORNER)
    yield Stroke(np.array([[middle, moved(middle, (0.0, -1.0), 0.66 * DIAL)]]), INK, SIGN)
    yield Word(number, moved(middle, (0.0, 1.0), DIAL + 8.0), 10.0, bold=True)


def arc(radius: float, start: float, end: float) -> Iterator[Mark]:
    """An arrow along an arc around the cross center, from one direction (rad) to another."""
    turns = np.linspace(start, end, 33)
    line = radius * np.stack([np.cos(turns), np.sin(turns)], axis=-1)
    yield Stroke(np.stack([line[:-1], line[1:]], axis=1), ARROW, SIGN, round_ends=False)
    way = np.sign(end - start)
    x, y = (float(each) for each in line[-1])
    yield head((x, y), (-sin(end) * way, cos(end) * way), 7.0)


def circle(middle: Sequence[float] | Floats, radius: float) -> Floats:
    """A circle as lines, (48, 2, 2) mm."""
    turns = np.linspace(0.0, 2.0 * pi, 49)
    line = np.asarray(middle) + radius * np.stack([np.cos(turns), np.sin(turns)], axis=-1)
    return np.stack([line[:-1], line[1:]], axis=1)


def _ears(bent: Bend, held: Held) -> Plan:
    """The clamped yoke as it is seen from the cross, and which way the other one is bent."""
    # The eye looks against the yoke's own axis; down stays down.
    R_VC = from_the_side(bent)
    R_EV = np.array([[0.0, 0.0, -1.0], [0.0, 1.0, 0.0], [1.0, 0.0, 0.0]])
    rims, corners = line_art(held.parts, R_EV @ R_VC)
    size = float(np.abs(rims).max()) if len(rims) else 50.0
    marks = lines_of(rims, corners)
    marks += _all_round(size) if bent.turned is None else _pushed(size)
    marks.append(Word("its ears, seen from the cross", (0.0, size + 22.0), 7.0))
    says = "a whole turn, bit by bit" if bent.turned is None else "the other yoke is bent this way"
    marks.append(Word(says, (0.0, -size - 44.0), 7.0))
    low, high = np.array([-size - 22.0, -size - 50.0]), np.array([size + 34.0, size + 28.0])
    return Plan(ENDWAYS, tuple(marks), low, high)


def _pushed(size: float) -> list[Mark]:
    down = (0.0, -size - 34.0)
    line = np.array([[(0.0, -4.0), down]])
    return [
        Stroke(line, ARROW, 1.6, round_ends=False),
        head((0.0, down[1] - 6.0), (0.0, -1.0), 12.0),
    ]


def _all_round(size: float) -> list[Mark]:
    r = size + 9.0
    turns = np.linspace(0.6 * pi, 2.3 * pi, 60)
    line = r * np.stack([np.cos(turns), np.sin(turns)], axis=-1)
    end = float(turns[-1])
    x, y = (float(each) for each in line[-1])
    arc = Stroke(np.stack([line[:-1], line[1:]], axis=1), ARROW, 1.6, round_ends=False)
    return [arc, head((x, y), (-sin(end), cos(end)), 12.0)]


def _shifted(mark: Mark, by: Floats) -> Mark:
    if isinstance(mark, Stroke):
        return Stroke(mark.segments + by, mark.colour, mark.width, mark.dashes, mark.round_ends)
    if isinstance(mark, Word):
        return Word(mark.text, (mark.at[0] + by[0], mark.at[1] + by[1]), mark.size, mark.bold)
    a, b, c = ((x + float(by[0]), y + float(by[1])) for x, y in mark.corners)
    return type(mark)((a, b, c))
