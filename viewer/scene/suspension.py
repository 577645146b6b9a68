"""What holds the axle, as simple parts: links, arms, track bar, leaf springs in bent lengths.

They only show where things are. Their thicknesses are generic, from memory, and touch nothing.
"""

from collections.abc import Iterator, Mapping
from math import dist

import numpy as np

from geometry.mesh import Mesh
from geometry.solids import Solid, cylinder, prism
from sim.suspension.bodies import Rods, Side, Spring
from sim.vehicle import Vehicle
from viewer.draw.camera import Floats
from viewer.scene.mount import CHASSIS, HOUSING, AtEye, Bent, Between
from viewer.scene.part import Facts, Part, Piece
from viewer.scene.stand_ins import ball
from viewer.words.units import format_length

LOOK = "suspension"
"""The material of links and springs: seen through, so that they hide nothing of the shaft."""

ROD, END = 14.0, 23.0
"""Radius of a link's rod and of its round ends, mm."""

SPRING = (34.0, 10.0, 62.0)
"""A leaf spring's pack at its seat, its thickness at the eyes, and its width, mm."""

EYE = 20.0
"""Radius of a spring's eye, mm."""

LENGTHS = 4
"""Lengths in which half a spring is drawn, each straight but for its own arch."""

LEAVES = 4
"""Steps in which the pack grows thinner from its seat to its eye."""

_FRAMES: Mapping[Side, str] = {"chassis": CHASSIS, "axle": HOUSING}


def suspension_parts(vehicle: Vehicle) -> Iterator[Part]:
    """Links or leaf springs; none where only the travel is known."""
    for body in vehicle.suspension.bodies():
        if isinstance(body, Spring):
            yield from _spring(body)
        else:
            yield from _rods(body)


def _rods(body: Rods) -> Iterator[Part]:
    """Every rod of a member between its two points, so that none comes off what holds it."""
    is_link = body.what in ("link", "shackle")
    name = f"shackle of the {body.name}" if body.what == "shackle" else body.name
    lengths = [dist(each.start, each.stop) for each in body.rods]
    row = "eye to eye" if is_link else "end to end"
    rows = tuple((row, format_length(length)) for length in lengths)
    facts = Facts(name, "link" if is_link else body.what, rows)
    dense = 0.6 if is_link else 1.0
    for number, (each, length) in enumerate(zip(body.rods, lengths, strict=True)):
        ends = np.array(each.start), np.array(each.stop)
        mount = Between(_FRAMES[each.start_on], ends[0], _FRAMES[each.stop_on], ends[1])
        own, of = (f"link {name} {number}", f"link {name}") if number else (f"link {name}", "")
        pieces = (Piece(LOOK, rod(length)),)
        yield Part(own, "suspension", mount, pieces, facts, dense, of=of, body=body.name)


def rod(length: float) -> Mesh:
    """A rod along x with a round end at 0 and another at `length`, mm."""
    ends = [ball(END, 12, at) for at in (0.0, length)]
    return Solid.union([*ends, cylinder("x", ROD, 0.0, length, "rod")]).mesh()


def _spring(leaf: Spring) -> Iterator[Part]:
    """Both halves of a leaf spring, in lengths, each with its eye."""
    seat, half = np.array(leaf.seat), 0.5 * SPRING[2]
    eye_ring = (Piece(LOOK, cylinder("y", EYE, -half - 1.0, half + 1.0, "eye").mesh()),)
    body = f"{leaf.side} spring"
    for end, eye in (("fixed eye", leaf.fixed_eye), ("shackled eye", leaf.shackled_eye)):
        swings = end == "shackled eye"
        point, length = np.array(eye), dist(eye, leaf.seat)
        facts = Facts(
            f"{leaf.side} spring, half toward the {end}",
            "leaf spring, drawn simply",
            (("eye to seat", format_length(length)),),
        )
        name = f"{leaf.side} spring {end}"
        for number in range(LENGTHS):
            start, stop = number / LENGTHS, (number + 1) / LENGTHS
            pieces = (Piece(LOOK, spring_length(point - seat, start, stop)),)
            own, of = (f"{name} {number}", name) if number else (name, "")
            mount = Bent(seat, point, start, stop, swings)
            yield Part(own, "suspension", mount, pieces, facts, of=of, body=body)
        at_eye = AtEye(seat, point, swings=swings)
        yield Part(f"{name} ring", "suspension", at_eye, eye_ring, facts, of=name, body=body)


def spring_length(eye: Floats, start: float, end: float) -> Mesh:
    """A leaf spring between two shares of the way from its seat to its eye.

    The seat is at the origin, level there, its eye at (3,), mm.
    """
    pack, tip, width = SPRING
    along, rise = float(eye[0]), float(eye[2])
    share = np.linspace(start, end, 7)
    x, z = along * share, rise * share**2
    thick = tip + (pack - tip) * np.ceil(LEAVES * (1.0 - share) - 1e-9) / LEAVES
    lower = np.column_stack([z + 0.5 * tip - thick, x])
    outline = np.concatenate([lower, np.column_stack([z + 0.5 * tip, x])[::-1]])
    if along > 0.0:  # seen along y an outline is (z, x)
        outline = outline[::-1]
    half = 0.5 * width
    return prism(outline, "y", -half, half, "leaf").mesh()
