"""What lives near the shaft: crossmember, exhaust, tank, guard."""

from typing import Literal

from pydantic import Field, model_validator

from sim.rig.fields import Dimensions, Name, Point, Size, millimetres
from sim.rig.kinds import refusal
from sim.rig.part import OneOf, Part

MeshUnit = Literal["mm", "cm", "m", "in", "ft"]


class Box(Part):
    """A box along the vehicle's own axes."""

    at: Point = Field(
        description="Centre of the box from the centre of the axle housing at ride height: "
        "forward, left, up."
    )
    size: Dimensions = Field(description="Size of the box: forward, left, up.")


class Cylinder(Part):
    """A round bar or pipe with flat ends."""

    start: Point = Field(
        alias="from",
        description="Middle of one end from the centre of the axle housing at ride height: "
        "forward, left, up.",
    )
    to: Point = Field(description="Middle of the other end.")
    outside: Size = Field(description="Outside diameter.", examples=["2 1/4 in"])

    @model_validator(mode="after")
    def _is_long(self) -> "Cylinder":
        if millimetres(self.start) == millimetres(self.to):
            raise refusal("from and to are one point", "two ends apart")
        return self


class MeshFile(Part):
    """A mesh from a scanner or from CAD, its axes those of the vehicle."""

    file: Name = Field(
        description="The mesh file, seen from the folder of the rig file.",
        examples=["crossmember.stl"],
    )
    unit: MeshUnit = Field(description="What one unit in the file is.", examples=["mm"])
    at: Point = Field(
        description="Where the origin of the file lies from the centre of the axle housing at "
        "ride height: forward, left, up."
    )


class Surrounding(Part):
    """One thing near the shaft."""

    one_of = (OneOf(("box", "cylinder", "mesh"), "one of box, cylinder and mesh"),)

    name: Name = Field(description="What it is called.", examples=["crossmember"])
    fixed_to: Literal["chassis", "axle"] | None = Field(
        None, description="What it moves with; the chassis when left out.", examples=["axle"]
    )
    box: Box | None = Field(None, description="Where it is and how large, as a box.")
    cylinder: Cylinder | None = Field(None, description="Where it is and how thick, as a pipe.")
    mesh: MeshFile | None = Field(None, description="Where it is, as a scanned or drawn mesh.")

    @property
    def moves(self) -> bool:
        """Whether it moves with the axle."""
        return self.fixed_to == "axle"
