"""What lives near the shaft: crossmember, exhaust, tank, guard."""

from typing import Literal

from pydantic import model_validator

from sim.table.fields import Dimensions, Name, Point, Size, millimetres
from sim.table.form import field, maybe
from sim.table.kinds import refusal
from sim.table.part import OneOf, Part

MeshUnit = Literal["mm", "cm", "m", "in", "ft"]


class Box(Part):
    """A box along the vehicle's own axes."""

    at: Point = field(
        "Center of the box from the center of the axle housing at ride height: forward, left, up."
    )
    size: Dimensions = field("Size of the box: forward, left, up.")


class Cylinder(Part):
    """A round bar or pipe with flat ends."""

    start: Point = field(
        "Middle of one end from the center of the axle housing at ride height: forward, left, up.",
        more={"alias": "from"},
    )
    to: Point = field("Middle of the other end.")
    outside: Size = field("Outside diameter.", "2 1/4 in")

    @model_validator(mode="after")
    def _is_long(self) -> "Cylinder":
        if millimetres(self.start) == millimetres(self.to):
            raise refusal("from and to are one point", "two ends apart")
        return self


class MeshFile(Part):
    """A mesh from a scanner or from CAD, its axes those of the vehicle."""

    file: Name = field("The mesh file, seen from the folder of the rig file.", "crossmember.stl")
    unit: MeshUnit = field("What one unit in the file is.", "mm")
    at: Point = field(
        "Where the origin of the file lies from the center of the axle housing at "
        "ride height: forward, left, up."
    )


class Surrounding(Part):
    """One thing near the shaft."""

    shape = OneOf(("box", "cylinder", "mesh"), "one of box, cylinder and mesh")

    name: Name = field("What it is called.", "crossmember")
    fixed_to: Literal["chassis", "axle"] | None = maybe(
        "What it moves with; the chassis when left out.", "axle"
    )
    box: Box | None = maybe("Where it is and how large, as a box.")
    cylinder: Cylinder | None = maybe("Where it is and how thick, as a pipe.")
    mesh: MeshFile | None = maybe("Where it is, as a scanned or drawn mesh.", name="Mesh file")

    @property
    def moves(self) -> bool:
        """Whether it moves with the axle."""
        return self.fixed_to == "axle"
