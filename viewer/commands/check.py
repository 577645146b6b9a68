"""`bindpoint check`: the whole sweep, its verdict, and what else was asked for."""

import json
import sys
from dataclasses import dataclass
from pathlib import Path

from geometry.errors import BindpointError
from sim.check import check
from viewer.check_json import check_data
from viewer.check_text import check_text
from viewer.command_line import BAD_INPUT, CLEAR, TOUCHES
from viewer.console import complain, progress
from viewer.rigs import named_rig


@dataclass(frozen=True)
class Wanted:
    """Files asked for besides the answer."""

    table: Path | None = None
    picture: Path | None = None
    path: Path | None = None


def run(name: str, as_json: bool, wanted: Wanted) -> int:
    """Check a rig and print the answer; return the exit code.

    The verdict is printed before a table or picture is tried, so it is never lost to them.
    """
    rig = named_rig(name)
    with progress() as tell:
        result = check(rig, tell)
    if as_json:
        sys.stdout.write(json.dumps(check_data(result, rig.name), indent=2) + "\n")
    else:
        sys.stdout.write(check_text(result) + "\n")
    sys.stdout.flush()
    code = TOUCHES if result.verdict == "touches" else CLEAR
    try:
        if wanted.table is not None:
            from viewer.check_table import write_table

            rows = write_table(result, wanted.table)
            sys.stderr.write(f"wrote {rows} poses to {wanted.table}\n")
        if wanted.path is not None:
            from viewer.pinion_path import write_path

            write_path(rig, result.derivation.vehicle, wanted.path)
            sys.stderr.write(f"wrote {wanted.path}\n")
        if wanted.picture is not None:
            from viewer.check_picture import draw_check

            with progress() as tell:
                tell("drawing the picture", 0.5)
                draw_check(result, wanted.picture)
            sys.stderr.write(f"drew {wanted.picture}\n")
    except BindpointError as error:
        complain(error)
        return BAD_INPUT
    return code
