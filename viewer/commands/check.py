"""`bindpoint check`: the whole sweep, its verdict, and what else was asked for."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from sim.check import Check, check
from viewer.check.json import check_data
from viewer.check.text import check_text
from viewer.commands.wanted import drawn
from viewer.console import note, progress, say, say_json
from viewer.endings import CLEAR, TOUCHES
from viewer.rigs import named_rig
from viewer.written.outputs import PICTURE, Outputs, table

if TYPE_CHECKING:
    from viewer.scene.page import Sheet


@dataclass(frozen=True)
class Wanted:
    """Files asked for besides the answer; `force` lets them replace anything."""

    table: Path | None = None
    picture: Path | None = None
    path: Path | None = None
    force: bool = False

    @property
    def outputs(self) -> Outputs:
        """The files with what each of them is."""
        from viewer.check import path as pinion_path
        from viewer.check import table as check_table

        return Outputs(
            (
                ("--table", self.table, table(check_table.COLUMNS)),
                ("--path", self.path, pinion_path.kind_of(self.path)),
                ("--picture", self.picture, PICTURE),
            ),
            self.force,
        )


def run(name: str, as_json: bool, wanted: Wanted) -> int:
    """Check a rig and print the answer; return the exit code.

    The verdict is printed before a table or picture is tried, so it is never lost to them.
    """
    wanted.outputs.demand_room()
    rig = named_rig(name)
    with progress() as tell:
        result = check(rig, tell)
    if as_json:
        say_json(check_data(result, rig.name))
    else:
        say(check_text(result))
    wanted.outputs.demand_room()
    if wanted.table is not None:
        from viewer.check.table import write_table

        rows = write_table(result, wanted.table)
        note(f"wrote {rows} poses to {wanted.table}")
    if wanted.path is not None:
        from viewer.check.path import write_path

        write_path(rig, result.derivation.vehicle, wanted.path)
        note(f"wrote {wanted.path}")
    drawn(wanted.picture, lambda: _picture(result))
    return TOUCHES if result.verdict == "touches" else CLEAR


def _picture(result: Check) -> "Sheet":
    from viewer.check.picture import check_picture

    return check_picture(result)
