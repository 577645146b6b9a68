"""Axle wrap: all that is known of each way to know it, in its module; one entry in `WrapTable`."""

from typing import Annotated

from pydantic import Field

from sim.wrap.bushes import STIFFNESS_OFF, BushesTable, BushWrap, bush_wrap
from sim.wrap.estimate import Estimate, WrapError, carried
from sim.wrap.noses import AxleTorque, AxleWrap, both_ways, distance
from sim.wrap.simple_test import (
    ANGLE_READING,
    MARK_READING,
    AnglesTable,
    MarkTable,
    MeasuredWrap,
    from_angles,
    from_mark,
)
from sim.wrap.springs import (
    HalfRates,
    SpringsTable,
    SpringWrap,
    from_leaves,
    from_rate,
    spring_wrap,
)
from sim.wrap.table import axle_wrap
from sim.wrap.torque import PinionTorque, grip, low_gear, pinion_torque, torque_of_pull

WrapTable = Annotated[
    AnglesTable | MarkTable | SpringsTable | BushesTable, Field(discriminator="kind")
]
"""Any way to know axle wrap in a rig file, told apart by its key `kind`."""

__all__ = [
    "ANGLE_READING",
    "MARK_READING",
    "STIFFNESS_OFF",
    "AxleTorque",
    "AxleWrap",
    "BushWrap",
    "Estimate",
    "HalfRates",
    "MeasuredWrap",
    "PinionTorque",
    "SpringWrap",
    "WrapError",
    "WrapTable",
    "axle_wrap",
    "both_ways",
    "bush_wrap",
    "carried",
    "distance",
    "from_angles",
    "from_leaves",
    "from_mark",
    "from_rate",
    "grip",
    "low_gear",
    "pinion_torque",
    "spring_wrap",
    "torque_of_pull",
]
