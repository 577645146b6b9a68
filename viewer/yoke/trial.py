"""A yoke's mesh file, read and drawn on trial, by a program of its own: nothing is taken yet.

Reading takes seconds, a hostile file more, and drawing may end the process it is in. Started as
`python -m viewer.yoke.trial FOLDER FILE UNIT CROSS`; leaves in the folder what was found, and a
picture of the yoke as it was placed where there is one.
"""

import json
import sys
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

from geometry.errors import BindpointError
from geometry.imported import Fittings, ImportedYoke, UnitQuestion, imported_yoke
from geometry.imported.units import UnitGuess
from sim.kept.atomic import replace_file
from sim.parts.catalogue import cross_shape
from sim.remark import remark_of
from viewer.words.remarks import said
from viewer.words.yoke import trial_rows, trial_sizes

MODULE = "viewer.yoke.trial"

FOUND, PICTURE = "found.json", "placed.png"
"""Names of the files in the folder."""

State = Literal["placed", "asks", "refused"]


@dataclass(frozen=True)
class Trial:
    """What came of it.

    Attributes
    ----------
    state : whether the yoke stands in its place, its unit has to be said first, or it cannot be
        read.
    says : what is asked, or why it cannot be read; else "".
    unit : the one it was read in; "" while it is asked.
    sizes : for each unit the numbers may be in, how long the yoke would be, in words.
    rows : what was found, each with its name.
    doubts : what to look at before it is taken, the gravest first.
    """

    state: State
    says: str = ""
    unit: str = ""
    sizes: dict[str, str] = field(default_factory=dict)
    rows: tuple[tuple[str, str], ...] = ()
    doubts: tuple[str, ...] = ()

    def text(self) -> str:
        """All of it, to be read back by `found`."""
        return json.dumps(self.__dict__)


def found(room: Path) -> Trial | None:
    """What a program left in a folder; None where it left nothing, or half of it."""
    with suppress(OSError, ValueError, TypeError, KeyError):
        told: dict[str, Any] = json.loads((room / FOUND).read_text(encoding="utf-8"))
        rows = tuple((str(name), str(text)) for name, text in told["rows"])
        return Trial(**(told | {"rows": rows, "doubts": tuple(told["doubts"])}))
    return None


def trial(file: Path, unit: str, cross: str) -> tuple[Trial, ImportedYoke | None]:
    """Read a file in a unit, "" for the one that its size tells, for the cross that goes in."""
    shape = cross_shape(cross)
    fittings = Fittings(True, shape.cap_diameter, shape.span, shape.cap_length)
    try:
        made = imported_yoke(file, unit or None, None, fittings=fittings)
    except UnitQuestion as question:
        return Trial("asks", str(question), sizes=_sizes(question.guess)), None
    except (BindpointError, OSError) as error:
        return Trial("refused", str(error), unit), None
    guess = made.report.unit
    return (
        Trial(
            "placed",
            unit=guess.unit or "",
            sizes=_sizes(guess),
            rows=tuple(trial_rows(made, shape.cap_diameter)),
            doubts=tuple(said(remark_of(note)) for note in made.report.checks),
        ),
        made,
    )


def _sizes(guess: UnitGuess) -> dict[str, str]:
    """Units to choose from with the length in each: the possible ones, or else all."""
    return dict(trial_sizes(guess))


def main(folder: str, file: str, unit: str, cross: str) -> int:
    """Leave in the folder what came of it; 0 always, since a refusal is an answer too."""
    room = Path(folder)
    told, made = trial(Path(file), unit, cross)
    if made is not None:
        from viewer.written.picture import PictureError, save_picture
        from viewer.yoke.picture import imported_picture

        with suppress(PictureError):  # then it is taken by what is told of it
            save_picture(imported_picture(made), room / PICTURE)
    replace_file(room / FOUND, told.text().encode())
    return 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:5]))
