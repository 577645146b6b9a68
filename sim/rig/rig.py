"""The rig: everything a rig file says, validated and immutable."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Annotated, Any, Final, Literal

from pydantic import ConfigDict, PrivateAttr

from sim.remark import Remark
from sim.rig.assumed import Assumed, without
from sim.rig.carrier import Carrier
from sim.rig.drive import DriveTable
from sim.rig.ends import Axle, Output, RideHeight
from sim.rig.measured_with import MeasuredWith
from sim.rig.seen_on_truck import SeenOnTruck
from sim.rig.shaft import Shaft
from sim.rig.surroundings import Surrounding
from sim.rig.visits import Visit
from sim.rig.wanted import Wanted
from sim.suspension import SuspensionTable
from sim.table.fields import Name, one_schema, several
from sim.table.form import field, maybe
from sim.table.part import Part
from sim.table.problems import Problem, as_typed
from sim.travel.table import Travel
from sim.wrap import WrapTable

SCHEMA: int = 1
"""The schema of rig files that this program reads and writes."""


_THINGS: Final = several("one [[surroundings]] table for each thing")
_SEEN: Final = several("one [[seen_on_truck]] table for each thing seen")
_VISITS: Final = several("one [[visits]] table for each day and state")


class Rig(Part):
    """A rig file, checked as a whole. Get one from `load_rig`, `parse_rig` or `rig_from_data`.

    Every default is filled in, and `assumed` tells which values were not given. Two rigs are
    equal when everything typed in them is.
    """

    model_config = ConfigDict(title="Bindpoint rig file")

    schema_number: Annotated[Literal[1], one_schema(SCHEMA)] = field(
        "Number of the schema this file follows.", more={"alias": "schema"}
    )
    name: Name = field(
        "What the rig is called.",
        "Long-legged trail wagon, rear shaft",
        asks="What is the rig called?",
        datum="Any name, for your own files.",
    )
    note: str | None = maybe(
        "Anything worth knowing: who measured, when, in which state.",
        more={"max_length": 10_000},
        asks="Who measured it, when, and in which state is the vehicle?",
        datum="Kept in the file, so that it can be measured again when the springs have settled.",
        otherwise="nothing",
    )
    output: Output = field(name="Output: what the shaft hangs on")
    ride_height: RideHeight | None = maybe(name="The shaft at ride height")
    axle: Axle = field(name="Axle and pinion")
    travel: Travel = field(name="Travel from ride height")
    wrap: WrapTable | None = maybe(
        "Axle wrap from a test, from springs or from bushings, in place of degrees.",
        name="Axle wrap worked out",
    )
    drive: DriveTable | None = maybe(
        "What drives the shaft, and how fast: for the build ticket.", name="What drives the shaft"
    )
    suspension: SuspensionTable = field(
        asks="What is known of the suspension?",
        datum="{kinds}",
        beware="Wishbones, radius arms and a torque arm are not asked for: take what is known "
        "otherwise now, and type them into the file as docs/rig-file.md shows.",
    )
    carrier: Carrier | None = maybe(name="Carrier bearing of a two-piece shaft")
    shaft: Shaft
    surroundings: Annotated[tuple[Surrounding, ...], _THINGS] = field(
        default=(), name="Things near the shaft", entry="Thing near the shaft"
    )
    wanted: Wanted = field(name="Room that is wanted")
    measured_with: MeasuredWith | None = maybe(
        "The tools that it was measured with, where a value does not say it itself.",
        name="What it was measured with",
    )
    seen_on_truck: Annotated[tuple[SeenOnTruck, ...], _SEEN] = field(
        default=(), name="Seen on the truck", entry="Seen on the truck"
    )
    visits: Annotated[tuple[Visit, ...], _VISITS] = field(
        default=(), name="Visits of the truck", entry="Visit"
    )

    _assumed: tuple[Assumed, ...] = PrivateAttr(())
    _folder: Path = PrivateAttr(Path())

    @classmethod
    def key_problems(cls, table: Mapping[str, Any], path: str) -> Iterator[Problem]:
        """Tell of wrap that is given in both ways, besides what every table tells."""
        yield from super().key_problems(table, path)
        travel = table.get("travel")
        if table.get("wrap") and isinstance(travel, Mapping):
            for key in ("nose_up", "nose_down"):
                if travel.get(key) is not None:
                    yield Problem(
                        f"travel.{key}",
                        as_typed(travel[key]),
                        Remark("degrees-or-wrap"),
                        Remark("given-too", what="[wrap]"),
                    )

    def __eq__(self, other: object) -> bool:
        """Whether everything typed is equal, wherever it was read from."""
        return isinstance(other, Rig) and self.typed() == other.typed()

    def __hash__(self) -> int:
        """Hash that goes with equality."""
        return hash(str(self.typed()))

    @property
    def folder(self) -> Path:
        """Folder that file names in the rig are seen from: the rig file's own, if it has one."""
        return self._folder

    @property
    def assumed(self) -> tuple[Assumed, ...]:
        """Every value that was left out of the file and taken from a generic default."""
        return self._assumed

    def typed(self) -> dict[str, Any]:
        """Give what was typed, as TOML data: no assumed value, every quantity as its own text."""
        data = self.model_dump(mode="json", by_alias=True, exclude_none=True)
        return without(_without_empty(data), self.assumed)


def _without_empty(data: Any) -> Any:
    """Plain data without the lists that nothing was put into."""
    if not isinstance(data, dict):
        return data
    return {key: _without_empty(value) for key, value in data.items() if value != []}
