"""The reserve that is wanted beyond the worst pose."""

from pydantic import Field

from sim.rig.fields import Distance, Swing
from sim.rig.part import Part


class Wanted(Part):
    """Reserve below which a clear result is called close."""

    bend: Swing = Field(description="Bend left before the joint touches.", examples=["2 deg"])
    gap: Distance = Field(description="Gap left between the yokes.", examples=["1/16 in"])
    clearance: Distance = Field(
        description="Gap left between the turning shaft and what lives around it.",
        examples=["1/2 in"],
    )
    slip: Distance = Field(
        description="Slip left before it bottoms or opens too far.", examples=["3/4 in"]
    )
