"""Suspensions: all that is known of each kind, in its module or folder; one entry in `KINDS`."""

from typing import Annotated, Final, Literal

from pydantic import Field

from sim.suspension.leaf.table import LeafTable
from sim.suspension.links.motion import Links
from sim.suspension.links.table import LinksTable
from sim.suspension.measured.table import MeasuredTable
from sim.suspension.table import SuspensionPart
from sim.suspension.vertical import VerticalTable

Kind = Literal["vertical", "measured", "leaf", "links"]
"""What the kinds are called in a rig file."""

SuspensionTable = Annotated[
    VerticalTable | MeasuredTable | LeafTable | LinksTable, Field(discriminator="kind")
]
"""Any kind of suspension in a rig file, told apart by its key `kind`."""

KINDS: Final[dict[Kind, type[SuspensionPart]]] = {
    "vertical": VerticalTable,
    "measured": MeasuredTable,
    "leaf": LeafTable,
    "links": LinksTable,
}
"""The kinds by their names."""


def links_of(table: SuspensionTable, front: bool) -> Links | None:
    """The links of a front axle or a rear one, where links hold it: what bushes wrap by.

    Raises `SuspensionError` for links that cannot be.
    """
    return table.mechanism(front) if isinstance(table, LinksTable) else None
