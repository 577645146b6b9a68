"""Axle wrap as a rig file describes it: one file a way to know it, one entry in `WrapTable`."""

from typing import Annotated

from pydantic import Field

from sim.rig.wrap.base import WrapPart, axle_wrap
from sim.rig.wrap.bushes import BushesTable
from sim.rig.wrap.drive import Drive
from sim.rig.wrap.simple_test import AnglesTable, MarkTable
from sim.rig.wrap.springs import SpringsTable

WrapTable = Annotated[
    AnglesTable | MarkTable | SpringsTable | BushesTable, Field(discriminator="kind")
]
"""Any way to know axle wrap, told apart by its key `kind`."""

__all__ = [
    "AnglesTable",
    "BushesTable",
    "Drive",
    "MarkTable",
    "SpringsTable",
    "WrapPart",
    "WrapTable",
    "axle_wrap",
]
