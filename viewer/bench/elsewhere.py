"""How a reading is taken off the bench: the hand-turned shaft on the vehicle, the maker's paper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import cos, degrees, pi, sin

import numpy as np

from geometry.mesh import Mesh
from geometry.solids import Solid, cylinder, hull
from sim.frames import Rz, pose
from sim.front_section import shaft_drives
from sim.hardware.joint import JointHardware
from viewer.bench.drawing import (
    OUTLINE,
    SIGN,
    Bend,
    Held,
    arc,
    box,
    circle,
    cross_of,
    from_the_side,
    lines_of,
)
from viewer.bench.line_art import line_art
from viewer.draw.camera import Floats
from viewer.draw.plan import ARROW, INK, Head, Mark, Plan, Stroke, Word, head, moved
from viewer.scene.parts import PosedPart
from viewer.scene.stand_ins import AXLE_HALF, axle_housing, output_case

ON_VEHICLE, IN_PAPERS = "on the vehicle, from its side", "in the maker's papers"
"""How they are seen."""

SMALLER = 0.36
"""A vehicle is drawn so much smaller than a joint."""

LONG, SNOUT, HIGH, SUNK = 620.0, 230.0, 330.0, 150.0
"""Shaft, pinion, height over the floor and droop as they are drawn, mm; only to show."""


def hand_turned(hardware: JointHardware) -> Plan:
    """Draw the vehicle on stands, its axle let down to where the hand-turned shaft catches."""
    drives = shaft_drives(hardware.joint)
    bent = Bend.of(hardware, "driven" if drives else "driving", None)
    shaft = np.array([cos(bent.bend), -sin(bent.bend), 0.0])
    output = -LONG * shaft if drives else np.zeros(3)
    pinion = output + LONG * shaft
    axle = pinion + np.array([SNOUT, 0.0, 0.0])
    ground = axle[1] - HIGH
    parts = [
        *_joint(bent, pinion if drives else output),
        *_line(bent, output, pinion),
        *_held_up(output, axle, ground),
    ]
    marks = lines_of(*line_art(parts, np.eye(3), SMALLER))
    signs = _seen_on_vehicle(pinion if drives else output, output, axle, shaft, ground)
    marks += [_smaller(mark) for mark in signs]
    low = SMALLER * np.array([output[0] - 460.0, ground - 45.0])
    high = SMALLER * np.array([axle[0] + 480.0, output[1] + 280.0])
    return Plan(ON_VEHICLE, tuple(marks), low, high)


def _joint(bent: Bend, centre: Floats) -> Iterator[PosedPart]:
    """The joint where it stands, bent as it first touches."""
    outer, inner = (Held.of(bent, body) for body in bent.bodies)
    R = from_the_side(bent)
    # The output's own side is to the left, the pinion's to the right.
    turned = pose(Rz(pi) @ R if bent.clamped == "driven" else R, centre)
    for part in (*outer.yoke, *inner.parts, *cross_of(bent)):
        yield replace(part, X_CP=turned @ part.X_CP)


def _line(bent: Bend, output: Floats, pinion: Floats) -> Iterator[PosedPart]:
    """The rest of the shaft, the case before it, the axle behind it."""
    way = (pinion - output) / LONG
    R = np.stack([way, [-way[1], way[0], 0.0], [0.0, 0.0, 1.0]], axis=1)
    near, far = (30.0, 70.0) if bent.clamped == "driven" else (70.0, 30.0)
    yield _at("tube", cylinder("x", 36.0, near, LONG - far, "tube").mesh(), R, output)
    other = output if bent.clamped == "driven" else pinion
    yield _at("joint", cylinder("z", 48.0, -45.0, 45.0, "joint").mesh(), np.eye(3), other)
    yield _at("case", output_case(62.0), np.diag([-1.0, -1.0, 1.0]), output)
    axle = pinion + np.array([SNOUT, 0.0, 0.0])
    R = np.array([[-1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, 1.0, 0.0]])
    yield _at("axle", axle_housing(SNOUT - 62.0), R, axle)


def _held_up(output: Floats, axle: Floats, ground: float) -> Iterator[PosedPart]:
    """The frame's rail on its stands, and the jack that lets the axle down."""
    rail = output[1] + 170.0
    left, right = output[0] - 400.0, axle[0] + 420.0
    yield _fixed("rail", box((left, rail, -420.0), (right, rail + 85.0, -360.0)).mesh())
    for x in (output[0] - 335.0, axle[0] + 345.0):
        yield _fixed("stand", _stand(x, ground, rail))
    # Under the near axle tube, so that nothing hides it.
    low, (x, y), z = axle[1] - 64.0, (float(axle[0]), ground), AXLE_HALF - 80.0
    body = box((x - 190.0, y + 25.0, z - 60.0), (x + 60.0, y + 80.0, z + 60.0))
    arm = [[x - 150.0, y + 60.0], [x - 130.0, y + 95.0], [x + 22.0, low - 14.0], [x - 22.0, low]]
    lever = hull(np.array([[*p, q] for p in arm for q in (z - 25.0, z + 25.0)]), "arm")
    pad = cylinder("y", 42.0, low - 14.0, low, "pad", (z, x))
    rollers = [
        cylinder("z", 25.0, z - 70.0, z + 70.0, "roller", (wheel, y + 25.0))
        for wheel in (x - 150.0, x + 30.0)
    ]
    for piece in (body, lever, pad, *rollers):
        yield _fixed("jack", piece.mesh())


def _stand(x: float, ground: float, top: float) -> Mesh:
    z = -390.0
    corners = [
        [x + a * wide, y, z + b * wide]
        for wide, y in ((95.0, ground), (26.0, top - 70.0))
        for a in (-1.0, 1.0)
        for b in (-1.0, 1.0)
    ]
    post = box((x - 18.0, top - 90.0, z - 18.0), (x + 18.0, top - 14.0, z + 18.0))
    saddle = box((x - 45.0, top - 14.0, z - 30.0), (x + 45.0, top, z + 30.0))
    return Solid.union([hull(np.array(corners), "stand"), post, saddle]).mesh()


def _seen_on_vehicle(
    joint: Floats, output: Floats, axle: Floats, shaft: Floats, ground: float
) -> Iterator[Mark]:
    """The floor, the height that is read, the hand, and the joint that catches."""
    floor = np.array([[(output[0] - 450.0, ground), (axle[0] + 470.0, ground)]])
    yield Stroke(floor, INK, OUTLINE)
    yield Stroke(circle(joint[:2], 95.0), ARROW, SIGN)
    ride = axle[1] + SUNK
    x = axle[0] + 175.0
    for y in (ride, axle[1]):
        yield Stroke(np.array([[(axle[0], y), (x + 30.0, y)]]), INK, 0.35, (6.0, 3.0))
    yield Stroke(np.array([[(x, ride), (x, axle[1] + 22.0)]]), ARROW, 1.6, round_ends=False)
    yield head((x, float(axle[1])), (0.0, -1.0), 32.0)
    yield Word("ride height", (axle[0] + 100.0, ride + 26.0), 22.0)
    yield Word("droop", (x + 66.0, 0.5 * (ride + axle[1])), 22.0, bold=True)
    middle = output + 0.5 * LONG * shaft
    yield from _turning(middle[:2], shaft[:2])
    yield Word("turn by hand", (float(middle[0]) + 25.0, float(middle[1]) + 150.0), 22.0, bold=True)
    for x, what in ((output[0] - 335.0, "stand"), (axle[0], "jack"), (axle[0] + 345.0, "stand")):
        yield Word(what, (float(x), ground - 24.0), 22.0, bold=True)


def _turning(middle: Floats, along: Floats) -> Iterator[Mark]:
    """An arrow around a tube."""
    across = np.array([-along[1], along[0]])
    turns = np.linspace(0.62 * pi, 2.25 * pi, 50)
    line = middle + np.outer(26.0 * np.cos(turns), along) + np.outer(74.0 * np.sin(turns), across)
    yield Stroke(np.stack([line[:-1], line[1:]], axis=1), ARROW, 1.6, round_ends=False)
    way = line[-1] - line[-2]
    way = way / np.linalg.norm(way)
    yield head((float(line[-1][0]), float(line[-1][1])), (float(way[0]), float(way[1])), 32.0)


def _at(name: str, mesh: Mesh, R: Floats, p: Floats) -> PosedPart:
    return PosedPart(name, "cast iron", mesh, pose(R, p))


def _fixed(name: str, mesh: Mesh) -> PosedPart:
    return PosedPart(name, "cast iron", mesh)


def _smaller(mark: Mark) -> Mark:
    k = SMALLER
    if isinstance(mark, Stroke):
        return Stroke(k * mark.segments, mark.colour, mark.width, mark.dashes, mark.round_ends)
    if isinstance(mark, Word):
        return Word(mark.text, (k * mark.at[0], k * mark.at[1]), k * mark.size, mark.bold)
    a, b, c = ((k * x, k * y) for x, y in mark.corners)
    return Head((a, b, c))


def in_papers(hardware: JointHardware) -> Plan:
    """Draw the largest bend that a maker states: the joint bent, and the line of its paper."""
    bent = Bend.of(hardware, "driving", None)
    held = [Held.of(bent, body) for body in bent.bodies]
    parts = [part for each in held for part in each.parts] + cross_of(bent)
    fixed, loose = held
    marks: list[Mark] = [*lines_of(*line_art(parts, from_the_side(bent)))]
    out = loose.end + 20.0
    along = (cos(bent.bend), -sin(bent.bend))
    straight, bend = (out, 0.0), moved((0.0, 0.0), along, out)
    axes = np.array([[(-fixed.end - 6.0, 0.0), straight], [(0.0, 0.0), bend]])
    marks += [Stroke(axes, INK, 0.35, (9.0, 3.0)), *arc(out - 12.0, 0.0, -bent.bend)]
    half = -0.5 * bent.bend
    marks.append(Word("largest bend", (cos(half) * out + 34.0, sin(half) * out), 8.0, bold=True))
    marks += _paper(np.array([out + 78.0, -62.0]), round(degrees(bent.bend)))
    low = np.array([-fixed.end - 12.0, -out * sin(bent.bend) - 45.0])
    high = np.array([out + 212.0, 80.0])
    return Plan(IN_PAPERS, tuple(marks), low, high)


def _paper(corner: Floats, bend: int) -> Iterator[Mark]:
    """A sheet of a catalogue, one line of it framed."""
    wide, tall = 124.0, 132.0
    a, b, c, d = (
        corner + np.array(p) for p in ((0.0, 0.0), (wide, 0.0), (wide, tall), (0.0, tall))
    )
    yield Stroke(np.array([[a, b], [b, c], [c, d], [d, a]]), INK, OUTLINE)
    for row in range(8):
        y = tall - 18.0 - 14.0 * row
        if row != 4:
            line = np.array(
                [[corner + np.array((10.0, y)), corner + np.array(((114.0, 80.0)[row % 2], y))]]
            )
            yield Stroke(line, INK, 0.35)
    x, y = (float(each) for each in corner + np.array((0.5 * wide, tall - 18.0 - 56.0)))
    yield Word(f"largest angle {bend}\N{DEGREE SIGN}", (x, y), 8.5, bold=True)
    yield Stroke(_frame(np.array([x - 57.0, y - 9.0]), np.array([x + 57.0, y + 9.0])), ARROW, SIGN)


def _frame(low: Floats, high: Floats) -> Floats:
    corners = np.array([low, (high[0], low[1]), high, (low[0], high[1])])
    return np.stack([corners, np.roll(corners, -1, axis=0)], axis=1)
