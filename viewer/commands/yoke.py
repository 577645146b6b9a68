"""`bindpoint yoke FILE`: a customer's yoke from a scan or a drawing, and its lines for a rig."""

import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from geometry.errors import BindpointError
from geometry.imported import Fittings, ImportedYoke, UnitQuestion, format_of, imported_yoke
from geometry.imported.units import unit_named
from sim.parts.catalogue import cross_shape
from sim.parts.cross_fit import cross_that_fits, size_named
from viewer.commands.answer import answer, drawn, picture_of
from viewer.console import complain, note, progress, put, say
from viewer.endings import CLEAR
from viewer.words.yoke import sizes
from viewer.written.files import AskedError, FileError, replace
from viewer.written.outputs import PICTURE, SOMEBODYS, Outputs
from viewer.yoke.json import yoke_data
from viewer.yoke.lines import scan_lines
from viewer.yoke.text import yoke_lines

if TYPE_CHECKING:
    from viewer.scene.page import Sheet

Points = tuple[tuple[float, float, float], ...]


class PicksError(BindpointError, ValueError):
    """Picks that are no three points."""


@dataclass(frozen=True)
class Wanted:
    """Files asked for besides the answer; `force` lets them replace anything."""

    write: Path | None
    picture: Path | None
    force: bool

    def demand_room(self) -> None:
        """Refuse at once what cannot be written. Raises FileError or AskedError."""
        wanted = (("--write", self.write, SOMEBODYS), ("--picture", self.picture, PICTURE))
        Outputs(wanted, self.force).demand_room()
        if self.write is not None and not self.write.absolute().parent.is_dir():
            raise FileError(f"{self.write}: the folder is not there, expected one that is")

    def finish(self, lines: str, picture: "Callable[[], Sheet]") -> int:
        """Write them beside the answer; return the exit code."""
        self.demand_room()
        if self.write is not None:
            replace(self.write, lines + "\n", "the lines for the rig file")
            note(f"wrote {self.write}")
        drawn(self.picture, picture)
        return CLEAR

    def pasting(self, lines: str) -> str:
        """The lines for a rig file, or where they were written."""
        if self.write is None:
            return f"For the rig file:\n{lines}"
        return f"The lines for the rig file are in {self.write}."


def run(
    file: Path | None,
    unit: str | None,
    cross: str | None,
    picks: str | None,
    as_json: bool,
    wanted: Wanted,
) -> int:
    """Read a yoke and say what was found; return the exit code.

    unit, cross, picks : what the user says of the mesh, as typed.
    """
    if file is None:
        raise AskedError("yoke: no file named, expected a scan or drawing, or --measured")
    wanted.demand_room()
    points = None if picks is None else picks_of(picks)
    kind = format_of(file)
    made = _made(file, unit, cross, points, as_json)
    fitting = _fitting(made) if cross is None else size_named(cross)
    lines = scan_lines(file.name, made.report.unit.unit, points, fitting, made.report.source)
    answer(
        as_json,
        lambda: yoke_data(made, kind, fitting, lines),
        lambda: "\n".join(
            [*yoke_lines(made, kind, fitting, cross is not None), "", wanted.pasting(lines)]
        ),
    )
    return wanted.finish(lines, picture_of("yoke.picture.imported_picture", made))


def picks_of(text: str) -> Points:
    """Read three points such as "0,41,0; 0,-41,0; 90,0,0". Raises PicksError."""
    points = []
    for point in text.split(";"):
        try:
            points.append(tuple(float(number) for number in point.replace(",", " ").split()))
        except ValueError:
            points.append(())
    if len(points) != 3 or any(len(point) != 3 for point in points):
        raise PicksError(
            f'--picks: came "{text}", expected three points in the numbers of the file, the '
            "middle of each bore and a point on the shaft's axis, such as \"0,41,0; 0,-41,0; "
            '90,0,0"'
        )
    return tuple((point[0], point[1], point[2]) for point in points)


def _made(
    file: Path, unit: str | None, cross: str | None, picks: Points | None, as_json: bool
) -> ImportedYoke:
    """Read the yoke, asking for its unit where it cannot be told and somebody is there."""
    fittings = Fittings()
    if cross is not None:
        shape = cross_shape(cross)
        fittings = Fittings(True, shape.cap_diameter, shape.span, shape.cap_length)
    try:
        return _read(file, unit, picks, fittings)
    except UnitQuestion as question:
        if as_json or not sys.stdin.isatty():
            choices = "|".join(_possible(question))
            raise FileError(f"{question}; say it with --unit {choices}") from question
        unit = _asked(question)
    return _read(file, unit, picks, fittings)


def _read(file: Path, unit: str | None, picks: Points | None, fittings: Fittings) -> ImportedYoke:
    with progress() as tell:
        tell(f"reading {file.name}", 0.2)
        return imported_yoke(file, unit, picks, fittings=fittings)


def _possible(question: UnitQuestion) -> list[str]:
    candidates = question.guess.candidates
    return [item.unit for item in candidates if item.plausible] or [c.unit for c in candidates]


def _asked(question: UnitQuestion) -> str:
    """Ask at the console until there is a unit that is known."""
    say(f"{question}\nThe longest side would be {', '.join(sizes(question.guess))}.")
    while True:
        put(f"Unit ({', '.join(_possible(question))}): ")
        line = sys.stdin.readline()
        if not line:
            raise FileError(f"{question}; nothing was answered, say it with --unit")
        try:
            return unit_named(line.strip())
        except BindpointError as error:
            complain(error)


def _fitting(made: ImportedYoke) -> str | None:
    bores = made.report.placement.bores
    return None if bores is None else cross_that_fits(bores.diameter, bores.outside_span)
