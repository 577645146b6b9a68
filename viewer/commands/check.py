"""`bindpoint check`: the whole sweep, its verdict, and what else was asked for."""

from pathlib import Path

from sim.check import check
from sim.cures.first_cure import first_cure
from sim.turning_over import turning_over
from viewer.bars.asked import how_sure
from viewer.check.json import check_data
from viewer.check.path import kind_of, write_path
from viewer.check.table import COLUMNS, write_table
from viewer.check.text import page_text, rest_text
from viewer.commands.answer import drawn, picture_of
from viewer.console import note, progress, say, say_json
from viewer.endings import CLEAR, TOUCHES
from viewer.rigs import named_rig
from viewer.words.lines import item
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
    surely: bool = False,
) -> int:
    """Check a rig and print the answer, all of it with `full`; return the exit code.

    The verdict is printed before it is asked how sure that is, and before a table or picture is
    tried, so it is never lost to them.

    surely : whether to draw whole trucks for how sure it is, rather than to take a first look.
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
    if not as_json:
        say(page_text(result, told, cure, name, full))
    with progress() as tell:
        sure = how_sure(result.found, tell, surely)
    if as_json:
        say_json(check_data(result, rig.name, told, cure, sure))
    else:
        if sure.says:
            say("\n".join(item(sure.says)))
        if full:
            say(rest_text(result, sure))
    outputs.demand_room()
    if table is not None:
        note(f"wrote {write_table(result, table)} poses to {table}")
    if path is not None:
        write_path(rig, result.derivation.vehicle, path)
        note(f"wrote {path}")
    drawn(picture, picture_of("check.picture.check_picture", result, told, cure, sure))
    return TOUCHES if result.verdict == "touches" else CLEAR
