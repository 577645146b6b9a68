"""Axle wrap: all that is known of each way to know it, in its module; one entry in `WrapTable`."""

from typing import Annotated

from pydantic import Field

from sim.wrap.bushes import BushesTable
from sim.wrap.simple_test import AnglesTable, MarkTable
from sim.wrap.springs import SpringsTable
from sim.wrap.table import AxleWrap, axle_wrap

WrapTable = Annotated[
    AnglesTable | MarkTable | SpringsTable | BushesTable, Field(discriminator="kind")
]
"""Any way to know axle wrap in a rig file, told apart by its key `kind`."""

__all__ = ["AxleWrap", "WrapTable", "axle_wrap"]
