"""`bindpoint check`: the whole sweep, its verdict, and what else was asked for."""

from pathlib import Path

from sim.check import check
from sim.cures.first_cure import first_cure
from sim.turning_over import turning_over
from viewer.check.json import check_data
from viewer.check.path import kind_of, write_path
from viewer.check.table import COLUMNS, write_table
from viewer.check.text import check_text
from viewer.commands.answer import answer, drawn, picture_of
from viewer.console import note, progress
from viewer.endings import CLEAR, TOUCHES
from viewer.rigs import named_rig
from viewer.written.outputs import PICTURE, Outputs
from viewer.written.outputs import table as table_of


def run(
    name: str,
    as_json: bool,
    table: Path | None,
    picture: Path | None,
    path: Path | None,
    force: bool,
    full: bool = False,
) -> int:
    """Check a rig and print the answer, all of it with `full`; return the exit code.

    The verdict is printed before a table or picture is tried, so it is never lost to them.
    """
    outputs = Outputs(
        (
            ("--table", table, table_of(COLUMNS)),
            ("--path", path, kind_of(path)),
            ("--picture", picture, PICTURE),
        ),
        force,
    )
    outputs.demand_room()
    rig = named_rig(name)
    with progress() as tell:
        result = check(rig, tell)
        told, cure = turning_over(result, tell), first_cure(rig)
    answer(
        as_json,
        lambda: check_data(result, rig.name, told, cure),
        lambda: check_text(result, told, cure, name, full),
    )
    outputs.demand_room()
    if table is not None:
        note(f"wrote {write_table(result, table)} poses to {table}")
    if path is not None:
        write_path(rig, result.derivation.vehicle, path)
        note(f"wrote {path}")
    drawn(picture, picture_of("check.picture.check_picture", result, told, cure))
    return TOUCHES if result.verdict == "touches" else CLEAR
