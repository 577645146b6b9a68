"""What is around the shaft as parts of the live view: things near it, links and springs."""

from collections.abc import Iterator, Mapping
from math import dist

import numpy as np

from geometry.errors import BindpointError
from sim.around.things import thing_of
from sim.check import Check
from sim.suspension.bodies import Rods, Side, Spring
from sim.units import format_length
from sim.vehicle import Vehicle
from viewer.scene.live.leaf import leaf_length
from viewer.scene.mount import CHASSIS, HOUSING, Bent, Between, Mount, On, Triangle
from viewer.scene.part import Facts, LivePart
from viewer.scene.surroundings import LOOK as NEAR
from viewer.scene.surroundings import thing_bodies, toward
from viewer.scene.suspension import LOOK as HOLDS
from viewer.scene.suspension import rod

LENGTHS = 4
"""Lengths in which half a spring is drawn, each straight but for its own arch."""


def around_parts(check: Check) -> Iterator[LivePart]:
    """Everything around the shaft, one part at a time."""
    yield from suspension_parts(check.derivation.vehicle)
    gaps = {gap.name: gap for gap in check.surroundings}
    for number, thing in enumerate(check.rig.surroundings):
        try:
            bodies = thing_bodies(thing_of(check.rig, thing))
        except BindpointError:
            continue  # the check says why
        mount = On(HOUSING if thing.moves else CHASSIS)
        rows: tuple[tuple[str, str], ...] = ()
        gap = gaps.get(thing.name)
        if gap is not None:
            left = "touches" if gap.touches else format_length(gap.sure_mm)
            rows = (("least gap", left), ("nearest to it", f"the {gap.called}"))
        moves = "moves with the axle" if thing.moves else "fixed to the chassis"
        name = f"thing {number}"
        pieces = tuple((NEAR, mesh.moved(X[:3, :3], X[:3, 3])) for mesh, X in bodies)
        facts = Facts(thing.name, moves, rows)
        yield LivePart(name, "surroundings", mount, pieces, facts, caption=True)


def suspension_parts(vehicle: Vehicle) -> Iterator[LivePart]:
    """Springs or links, drawn simply."""
    for body in vehicle.suspension.bodies():
        if isinstance(body, Spring):
            yield from _spring(body)
        else:
            yield _rods(body)


def _spring(leaf: Spring) -> Iterator[LivePart]:
    seat = np.array(leaf.seat)
    for end, eye in (("fixed eye", leaf.fixed_eye), ("shackled eye", leaf.shackled_eye)):
        point, length = np.array(eye), dist(eye, leaf.seat)
        facts = Facts(
            f"{leaf.side} spring, half toward the {end}",
            "leaf spring, drawn simply",
            (("eye to seat", format_length(length)),),
        )
        name = f"{leaf.side} spring {end}"
        for number in range(LENGTHS):
            start, stop = number / LENGTHS, (number + 1) / LENGTHS
            pieces = ((HOLDS, leaf_length(point - seat, start, stop)),)
            own = f"{name} {number}" if number else name
            mount = Bent(seat, point, start, stop)
            yield LivePart(own, "suspension", mount, pieces, facts, of=name if number else "")


_FRAMES: Mapping[Side, str] = {"chassis": CHASSIS, "axle": HOUSING}


def _rods(body: Rods) -> LivePart:
    first = body.rods[0]
    start_on, stop_on = _FRAMES[first.start_on], _FRAMES[first.stop_on]
    stop = np.array(first.stop)
    if body.what in ("link", "shackle"):
        name = f"shackle of the {body.name}" if body.what == "shackle" else body.name
        length = dist(first.start, first.stop)
        facts = Facts(name, "link", (("eye to eye", format_length(length)),))
        mount: Mount = Between(start_on, np.array(first.start), stop_on, stop)
        return LivePart(f"link {name}", "suspension", mount, ((HOLDS, rod(length)),), facts, 0.6)
    mount = On(HOUSING)
    if not body.bolted:
        mount = Triangle(start_on, np.array([each.start for each in body.rods]), stop_on, stop)
    lengths = [dist(each.start, each.stop) for each in body.rods]
    pieces = []
    for each, length in zip(body.rods, lengths, strict=True):
        X = toward(np.array(each.start), np.array(each.stop))
        pieces.append((HOLDS, rod(length).moved(X[:3, :3], X[:3, 3])))
    facts = Facts(
        body.name, body.what, tuple(("end to end", format_length(length)) for length in lengths)
    )
    return LivePart(f"link {body.name}", "suspension", mount, tuple(pieces), facts)
