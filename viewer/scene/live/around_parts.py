"""What is around the shaft as parts of the live view: things near it, links and springs."""

from collections.abc import Iterator
from math import dist

import numpy as np

from geometry.errors import BindpointError
from sim.around.things import thing_of
from sim.check import Check
from sim.suspension import Leaf, Links
from sim.suspension.links.members import Arm, Link, Member, TorqueArm, Wishbone
from sim.units import format_length
from sim.vehicle import Vehicle
from viewer.draw.camera import Floats
from viewer.scene.live.leaf import leaf_length
from viewer.scene.live.mount import CHASSIS, HOUSING, Bent, Between, Mount, On, Triangle
from viewer.scene.live.part import Facts, LivePart
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
    suspension = vehicle.suspension
    if isinstance(suspension, Leaf):
        yield from _springs(suspension)
    elif isinstance(suspension, Links):
        for member in suspension.members:
            yield from _member(member)


def _springs(leaf: Leaf) -> Iterator[LivePart]:
    seat, eye = np.array(leaf.seat), np.array(leaf.fixed_eye)
    other = leaf.shackled_eye
    far = np.array(other) if other is not None else eye + 2.0 * (seat - eye) * [1.0, 1.0, 0.0]
    for side, flip in (("left", 1.0), ("right", -1.0)):
        mirror = np.array([1.0, flip, 1.0])
        for end, point in (("fixed eye", eye), ("shackled eye", far)):
            length = dist(point, seat)
            facts = Facts(
                f"{side} spring, half toward the {end}",
                "leaf spring, drawn simply",
                (("eye to seat", format_length(length)),),
            )
            name = f"{side} spring {end}"
            for number in range(LENGTHS):
                start, stop = number / LENGTHS, (number + 1) / LENGTHS
                mount = Bent(seat * mirror, point * mirror, start, stop)
                pieces = ((HOLDS, leaf_length(point - seat, start, stop)),)
                own = f"{name} {number}" if number else name
                yield LivePart(own, "suspension", mount, pieces, facts, of=name if number else "")


def _member(member: Member) -> Iterator[LivePart]:
    if isinstance(member, Link):
        yield _link(member.name, CHASSIS, member.chassis, HOUSING, member.axle)
    elif isinstance(member, Wishbone):
        apex, bushes = np.array(member.apex), np.array(member.bushes)
        ends = (CHASSIS, HOUSING) if member.apex_on == "axle" else (HOUSING, CHASSIS)
        mount = Triangle(ends[0], bushes, ends[1], apex)
        yield _bars(member.name, "wishbone", mount, [(bush, apex) for bush in bushes])
    elif isinstance(member, Arm):
        pivot = np.array(member.chassis)
        ends_on = [(pivot, np.array(point)) for point in member.axle]
        yield _bars(member.name, "radius arm", On(HOUSING), ends_on)
    elif isinstance(member, TorqueArm):
        end = np.array(member.end)
        yield _bars(member.name, "torque arm", On(HOUSING), [(np.zeros(3), end)])
        if member.shackle is not None:
            name = f"shackle of the {member.name}"
            yield _link(name, CHASSIS, member.shackle, HOUSING, member.end)


def _link(
    name: str,
    start_on: str,
    start: tuple[float, float, float],
    end_on: str,
    end: tuple[float, float, float],
) -> LivePart:
    length = dist(start, end)
    mount = Between(start_on, np.array(start), end_on, np.array(end))
    facts = Facts(name, "link", (("eye to eye", format_length(length)),))
    return LivePart(f"link {name}", "suspension", mount, ((HOLDS, rod(length)),), facts, 0.6)


def _bars(name: str, kind: str, mount: Mount, ends: list[tuple[Floats, Floats]]) -> LivePart:
    rods = [(rod(dist(a, b)), toward(a, b)) for a, b in ends]
    pieces = tuple((HOLDS, mesh.moved(X[:3, :3], X[:3, 3])) for mesh, X in rods)
    rows = tuple(("end to end", format_length(dist(a, b))) for a, b in ends)
    return LivePart(f"link {name}", "suspension", mount, pieces, Facts(name, kind, rows))
