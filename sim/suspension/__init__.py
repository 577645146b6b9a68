"""Suspensions: all that is known of each kind, in its module or folder; one entry in `Kind`."""

from typing import Annotated, Literal, get_args

from pydantic import Field

from sim.suspension.base import AxlePoses, EulerSuspension, Motion, Suspension, SuspensionError
from sim.suspension.leaf.motion import Leaf
from sim.suspension.leaf.table import LeafTable
from sim.suspension.links.motion import Links
from sim.suspension.links.table import LinksTable
from sim.suspension.measured.motion import Measured, Reading
from sim.suspension.measured.table import MeasuredTable
from sim.suspension.table import SuspensionPart
from sim.suspension.vertical import Vertical, VerticalTable

_Any = VerticalTable | MeasuredTable | LeafTable | LinksTable

Kind = Literal["vertical", "measured", "leaf", "links"]
"""What the kinds are called in a rig file."""

SuspensionTable = Annotated[_Any, Field(discriminator="kind")]
"""Any kind of suspension in a rig file, told apart by its key `kind`."""

KINDS: dict[Kind, type[SuspensionPart]] = {
    get_args(table.model_fields["kind"].annotation)[0]: table for table in get_args(_Any)
}
"""The kinds by their names."""


def links_of(table: SuspensionTable, front: bool) -> Links | None:
    """The links of a front axle or a rear one, where links hold it: what bushes wrap by.

    Raises `SuspensionError` for links that cannot be.
    """
    return table.mechanism(front) if isinstance(table, LinksTable) else None


__all__ = [
    "KINDS",
    "AxlePoses",
    "EulerSuspension",
    "Kind",
    "Leaf",
    "LeafTable",
    "Links",
    "LinksTable",
    "Measured",
    "MeasuredTable",
    "Motion",
    "Reading",
    "Suspension",
    "SuspensionError",
    "SuspensionPart",
    "SuspensionTable",
    "Vertical",
    "VerticalTable",
    "links_of",
]
