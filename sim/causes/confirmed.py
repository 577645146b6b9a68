"""A shop's own settled joints: the file that it keeps, and how it shifts the odds."""

from collections.abc import Mapping
from dataclasses import dataclass
from os import PathLike
from typing import Annotated, Any, Final, Literal

from pydantic import ConfigDict

from sim.causes.codes import CauseCode
from sim.causes.graph import Beta, Graph
from sim.table.document import commented, save_text
from sim.table.fields import Name, one_kind, one_schema, several
from sim.table.form import field, maybe
from sim.table.json_schema import DIALECT, without_null
from sim.table.part import Part
from sim.table.problems import RigError, in_file
from sim.table.reading import parse_toml, read_text
from sim.table.structure import fields_of
from sim.table.validation import Schema, sections_of
from sim.table.words import Listed, word

SCHEMA: Final = 1
KIND: Final = "confirmed causes"
_A_FILE: Final = "a file of confirmed causes"
_THIS_KIND: Final = one_kind(KIND, "no file of confirmed causes")
_HEAD: Final = (
    "Confirmed causes, kept by the shop: one [[joints]] table for each joint whose cause was "
    "settled, by a cure that held or by a measurement. Every settled joint belongs here, not only "
    "the striking ones: what is left out makes the rest look likelier than it is."
)


_CAUSES: Final = Listed(
    'a list of at least one cause in [ ], such as ["bound"] or ["bad-yoke", "dry-cap"]', fewest=1
)


class SettledJoint(Part):
    """One joint whose cause the shop has settled."""

    causes: Annotated[tuple[Annotated[CauseCode, word(CauseCode)], ...], _CAUSES] = field(
        "What it turned out to be: one cause, or two that were both at work.",
        ["bound"],
        name="causes",
    )
    job: Name | None = maybe(
        "Which job it was, for your own files.", "blue truck, pinion joint", otherwise="not said"
    )
    proved: Name | None = maybe(
        "How it was settled.", "straps set, a year without trouble", otherwise="not said"
    )


_JOINTS: Final = several("one [[joints]] table for each settled joint")


class Confirmed(Part):
    """A shop's settled joints: from `load_confirmed` or `confirmed_from_data`."""

    model_config = ConfigDict(title="Bindpoint confirmed causes")

    schema_number: Annotated[Literal[1], one_schema(SCHEMA)] = field(
        "Number of the schema this file follows.", 1, more={"alias": "schema"}
    )
    kind: Annotated[Literal["confirmed causes"], _THIS_KIND] = field(
        "What this file is, so that others are told apart from it.", "confirmed causes"
    )
    joints: Annotated[tuple[SettledJoint, ...], _JOINTS] = field(
        "Each joint whose cause was settled.", default=(), name="Settled joints", entry="Joint"
    )

    def typed(self) -> dict[str, Any]:
        """Give what was typed, as TOML data."""
        return self.model_dump(mode="json", by_alias=True, exclude_none=True)

    def found(self, cause: CauseCode) -> int:
        """Of how many joints a cause was settled to be one."""
        return sum(cause in joint.causes for joint in self.joints)

    def shifts(self, graph: Graph) -> tuple["Shift", ...]:
        """What the settled joints make of the chance of every cause, in the graph's order."""
        return tuple(
            Shift(cause.code, cause.prior, self.found(cause.code), len(self.joints))
            for cause in graph.causes
        )

    def priors(self, graph: Graph) -> dict[CauseCode, float]:
        """Chances of the causes for `infer`, shifted by the settled joints."""
        return {shift.cause: shift.after.mean for shift in self.shifts(graph)}


@dataclass(frozen=True)
class Shift:
    """What a shop's own joints make of the chance of one cause.

    Attributes
    ----------
    before : what the trade holds of it, worth as many cases as its two numbers add to.
    found, of : it was the cause, or one of two, in so many of the shop's settled joints.
    """

    cause: CauseCode
    before: Beta
    found: int
    of: int

    @property
    def after(self) -> Beta:
        """What is held of it now: every case of the shop counts as one."""
        return self.before.after(self.found, self.of)


_SCHEMA: Final = Schema(Confirmed)


def none_confirmed() -> Confirmed:
    """The file of a shop that has settled nothing yet."""
    return Confirmed.model_validate({"schema": SCHEMA, "kind": KIND})


def load_confirmed(path: str | PathLike[str]) -> Confirmed:
    """Read and check the file. Raises `RigError` with everything that is wrong with it."""
    return confirmed_from_data(parse_toml(read_text(path, _A_FILE), str(path), _A_FILE), str(path))


def confirmed_from_data(data: Mapping[str, Any], file: str = "confirmed") -> Confirmed:
    """Check the file's data. Raises `RigError` with every problem there is."""
    sections, problems = sections_of(data, _SCHEMA)
    if problems:
        raise RigError(in_file(file, problems))
    names = fields_of(Confirmed)
    return Confirmed.model_validate({key: sections[key] for key in names if key in sections})


def save_confirmed(confirmed: Confirmed, path: str | PathLike[str]) -> None:
    """Save it with a remark on every key, as a whole.

    Raises `RigError` when it cannot be saved; the old file is then untouched.
    """
    save_text(commented(Confirmed, confirmed.typed(), _HEAD, {}), path)


def confirmed_schema() -> dict[str, Any]:
    """JSON Schema of the file: every key with what it means and examples."""
    schema = Confirmed.model_json_schema(by_alias=True)
    without_null(schema)
    return {"$schema": DIALECT, **schema}
