"""What lives around the shaft, as parts: crossmember, exhaust, scanned parts."""

from collections.abc import Iterable, Iterator

import numpy as np

from geometry.contact.convex import Bars, Boxes
from geometry.errors import BindpointError
from geometry.mesh import Mesh
from geometry.solids import cylinder, hull
from sim.around.surroundings import SurroundingGap
from sim.around.things import Thing, thing_of
from sim.frames import pose
from sim.rig import Rig
from viewer.draw.camera import Floats
from viewer.scene.mount import CHASSIS, HOUSING, On, toward
from viewer.scene.part import Facts, Part, Piece
from viewer.scene.parts import SceneError
from viewer.words.units import format_length

LOOK = "surrounding"
"""The material of things around the shaft: pale and seen through, so that they hide nothing."""


def things_near(rig: Rig, found: Iterable[SurroundingGap] = ()) -> Iterator[Part]:
    """Everything near the shaft of a rig that can be read, one at a time; gaps that were found."""
    gaps = {gap.name: gap for gap in found}
    for number, each in enumerate(rig.surroundings):
        try:
            part = thing_part(number, thing_of(rig, each), gaps.get(each.name))
        except BindpointError:
            continue  # the check says why
        yield part


def thing_part(number: int, thing: Thing, gap: SurroundingGap | None = None) -> Part:
    """The part of the thing that a rig names at a place, with the least gap to it if known."""
    rows: tuple[tuple[str, str], ...] = ()
    if gap is not None:
        left = "touches" if gap.touches else format_length(gap.sure_mm)
        rows = (("least gap", left), ("nearest to it", f"the {gap.called}"))
    facts = Facts(
        thing.name, "moves with the axle" if thing.moves else "fixed to the chassis", rows
    )
    mount = On(HOUSING if thing.moves else CHASSIS)
    pieces = tuple(Piece(LOOK, mesh, X) for mesh, X in _bodies(thing))
    return Part(
        f"thing {number}", "surroundings", mount, pieces, facts, caption=True, body=thing.name
    )


def _bodies(thing: Thing) -> list[tuple[Mesh, Floats]]:
    """Meshes of a thing with their poses as it lies at ride height."""
    if thing.mesh is not None:
        return [(thing.mesh, np.eye(4))]
    pieces = thing.pieces
    if isinstance(pieces, Boxes):
        signs = np.array(np.meshgrid(*[[-1.0, 1.0]] * 3)).reshape(3, -1).T
        boxes = zip(pieces.centre, pieces.half, strict=True)
        return [(hull(signs * half, "side").mesh(), pose(np.eye(3), at)) for at, half in boxes]
    if isinstance(pieces, Bars):
        bars = zip(pieces.start, pieces.stop, pieces.radius, strict=True)
        return [
            (cylinder("x", radius, 0.0, float(np.linalg.norm(b - a)), "side").mesh(), toward(a, b))
            for a, b, radius in bars
        ]
    raise SceneError(f"{thing.name}: no mesh to draw; expected boxes, bars or a mesh")
