"""Suspensions as a rig file describes them: one file a kind, one entry in `SuspensionTable`."""

from typing import Annotated

from pydantic import Field

from sim.rig.suspension.leaf import LeafTable
from sim.rig.suspension.links import LinksTable
from sim.rig.suspension.measured import Height, MeasuredTable, ReadingTable, parse_height
from sim.rig.suspension.vertical import VerticalTable

SuspensionTable = Annotated[
    VerticalTable | MeasuredTable | LeafTable | LinksTable, Field(discriminator="kind")
]
"""Any kind of suspension, told apart by its key `kind`."""

__all__ = [
    "Height",
    "LeafTable",
    "LinksTable",
    "MeasuredTable",
    "ReadingTable",
    "SuspensionTable",
    "VerticalTable",
    "parse_height",
]
