"""`bindpoint yoke FILE`: a customer's yoke from a scan or a drawing, and its lines for a rig."""

import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from geometry.errors import BindpointError
from geometry.imported import Fittings, ImportedYoke, UnitQuestion, format_of, imported_yoke
from geometry.imported.units import unit_named
from sim.parts.catalogue import cross_shape
from sim.parts.cross_fit import cross_that_fits, size_named
from viewer.commands.wanted import drawn
from viewer.console import complain, note, progress, put, say, say_json
from viewer.endings import CLEAR
from viewer.words.yoke import sizes
from viewer.written.files import FileError, replace
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
class Told:
    """What the user says of a mesh, as typed."""

    unit: str | None
    cross: str | None
    picks: str | None


@dataclass(frozen=True)
class Wanted:
    """Files asked for besides the answer; `force` lets them replace anything."""

    write: Path | None = None
    picture: Path | None = None
    force: bool = False

    @property
    def outputs(self) -> Outputs:
        """The files with what each of them is."""
        wanted = (("--write", self.write, SOMEBODYS), ("--picture", self.picture, PICTURE))
        return Outputs(wanted, self.force)

    def demand_room(self) -> None:
        """Refuse at once what cannot be written. Raises FileError or AskedError."""
        self.outputs.demand_room()
        if self.write is not None and not self.write.absolute().parent.is_dir():
            raise FileError(f"{self.write}: the folder is not there, expected one that is")


def run(file: Path, told: Told, wanted: Wanted, as_json: bool) -> int:
    """Read a yoke and say what was found; return the exit code."""
    wanted.demand_room()
    picks = None if told.picks is None else picks_of(told.picks)
    kind = format_of(file)
    made = _made(file, told, picks, as_json)
    unit = made.report.unit.unit
    cross = _fitting(made) if told.cross is None else size_named(told.cross)
    lines = scan_lines(file.name, unit, picks, cross, made.report.source)
    if as_json:
        say_json(yoke_data(made, kind, cross, lines))
    else:
        text = [*yoke_lines(made, kind, cross, told.cross is not None), ""]
        say("\n".join([*text, *pasting(lines, wanted.write)]))
    return finish(lines, wanted, lambda: _picture(made))


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


def _made(file: Path, told: Told, picks: Points | None, as_json: bool) -> ImportedYoke:
    """Read the yoke, asking for its unit where it cannot be told and somebody is there."""
    fittings = Fittings()
    if told.cross is not None:
        shape = cross_shape(told.cross)
        fittings = Fittings(True, shape.cap_diameter, shape.span, shape.cap_length)
    try:
        return _read(file, told.unit, picks, fittings)
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


def _picture(made: ImportedYoke) -> "Sheet":
    from viewer.yoke.picture import imported_picture

    return imported_picture(made)


def pasting(lines: str, write: Path | None) -> Iterator[str]:
    """The lines for a rig file, or where they were written."""
    if write is None:
        yield "For the rig file:"
        yield lines
    else:
        yield f"The lines for the rig file are in {write}."


def finish(lines: str, wanted: Wanted, picture: Callable[[], "Sheet"]) -> int:
    """Write what was wanted beside the answer; return the exit code."""
    wanted.outputs.demand_room()
    if wanted.write is not None:
        replace(wanted.write, lines + "\n", "the lines for the rig file")
        note(f"wrote {wanted.write}")
    drawn(wanted.picture, picture)
    return CLEAR
