"""The reserve that is wanted beyond the worst pose."""

from sim.table.fields import Distance, Swing
from sim.table.form import field
from sim.table.part import Part


class Wanted(Part):
    """Reserve below which a clear result is called close."""

    bend: Swing = field("Bend left before the joint touches.", "2 deg", name="bend reserve")
    gap: Distance = field("Gap left between the yokes.", "1/16 in", name="gap between yokes")
    clearance: Distance = field(
        "Gap left between the turning shaft and what lives around it.",
        "1/2 in",
        name="gap to things near",
    )
    slip: Distance = field(
        "Slip left before it bottoms or opens too far.", "3/4 in", name="slip reserve"
    )
