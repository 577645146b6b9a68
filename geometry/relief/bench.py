"""One yoke on the bench: what a tool takes off it and what is left."""

from dataclasses import replace

import numpy as np

from geometry.contact.symmetry import MIRROR_Y, MIRROR_Z, is_symmetric
from geometry.contact.triangles import strewn
from geometry.mesh import Mesh
from geometry.nearest import NearSurface
from geometry.relief.parts import GROUND, Grindable
from geometry.relief.result import Cut
from geometry.relief.wall import thinnest
from geometry.solids import Solid

SPACING = 0.5
"""mm between the points of the ground surface whose depth is told."""

LEAST_AREA = 0.5
"""mm2 of a surface that count as grinding it; less is where facets of neighbours meet."""

LEAST_VOLUME = 0.01
"""mm3 that count as grinding at all."""


class Bench:
    """A yoke and its metal as solids, to be cut.

    name : "driving" or "driven"; part : the yoke
    symmetric : whether the tools are their own mirror images in y and z
    """

    def __init__(self, name: str, part: Grindable, symmetric: bool) -> None:
        self.name, self.part = name, part
        # Cut as quarters where that keeps both meshes exactly symmetric.
        self.folded = symmetric and all(
            is_symmetric(mesh, flip)
            for mesh in (part.contact, part.body)
            for flip in (MIRROR_Y, MIRROR_Z)
        )
        self.contact, self.metal = (self._solid(mesh) for mesh in (part.contact, part.body))

    def chips(self, tool: Solid) -> Mesh | None:
        """What the tool takes off; None where that is nothing."""
        rest = self.contact.cut(tool)
        if self.contact.volume - rest.volume < LEAST_VOLUME:
            return None
        return self._mesh(self.contact.common(tool))

    def cut(self, tool: Solid, chips: Mesh, least_wall: float) -> Cut:
        """Take these chips off and measure what is left.

        least_wall : mm, the thinnest wall allowed
        """
        contact, body = (
            self._mesh(solid.cut(tool).largest_piece()) for solid in (self.contact, self.metal)
        )
        ground, _ = strewn(contact.triangles[contact.on(GROUND)], SPACING)
        old = old_surface(chips)
        depth = old.foot(ground).distance
        wall = thinnest(body, old, least_wall, self.folded)
        return Cut(
            volume=self.part.contact.volume - contact.volume,
            depth=float(depth.max()),
            deepest=ground[int(np.argmax(depth))],
            wall=wall.thickness,
            limit=wall.limit,
            thinnest=wall.place,
            surfaces=surfaces(chips),
            contact=contact,
            body=body,
            chips=chips,
        )

    def _solid(self, mesh: Mesh) -> Solid:
        solid = Solid.from_mesh(mesh)
        return solid.quarter() if self.folded else solid

    def _mesh(self, solid: Solid) -> Mesh:
        return solid.unfolded_mesh() if self.folded else solid.mesh()


def old_surface(chips: Mesh) -> NearSurface:
    """What was ground away of the old surface, to measure depth from: all that is not ground."""
    old = ~chips.on(GROUND) & (chips.areas > 1e-9)
    return NearSurface(replace(chips, faces=chips.faces[old], labels=chips.labels[old]))


def surfaces(chips: Mesh) -> tuple[str, ...]:
    """Names of the old surfaces on what was taken off, most area first."""
    sizes = {name: float(chips.areas[chips.on(name)].sum()) for name in chips.label_names}
    counted = [name for name in sizes if name != GROUND and sizes[name] > LEAST_AREA]
    return tuple(sorted(counted, key=sizes.__getitem__, reverse=True))
