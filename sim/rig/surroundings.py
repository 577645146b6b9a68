"""What lives near the tube: crossmember, exhaust, tank."""

from pydantic import Field

from sim.rig.fields import Dimensions, Name, Point
from sim.rig.part import Part


class Box(Part):
    """A box along the vehicle's own axes."""

    at: Point = Field(
        description="Centre of the box from the centre of the axle housing at ride height: "
        "forward, left, up."
    )
    size: Dimensions = Field(description="Size of the box: forward, left, up.")


class Surrounding(Part):
    """One thing fixed to the chassis near the shaft."""

    name: Name = Field(description="What it is called.", examples=["crossmember"])
    box: Box = Field(description="Where it is and how large.")
