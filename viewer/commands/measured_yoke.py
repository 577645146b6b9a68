"""`bindpoint yoke --measured`: the caliper form, asked or from a file, and its lines for a rig."""

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from geometry.errors import BindpointError
from sim.parts.caliper import caliper_form, doubts, yoke_read
from sim.parts.cross_fit import size_named
from sim.table.problems import RigError, as_typed
from sim.table.reading import read_text
from sim.units import UnitsError, parse_length
from viewer.caliper.form import CAUTION, yoke_table
from viewer.caliper.talk import MeasuredYoke, ask_yoke
from viewer.commands.answer import picture_of
from viewer.commands.terminal import ask_line, tell_text
from viewer.commands.yoke import Wanted
from viewer.console import note, say, say_json
from viewer.encoder import keyed, plain
from viewer.endings import BAD_INPUT
from viewer.words.remarks import said
from viewer.yoke.lines import caliper_lines


class ReadingsError(BindpointError, ValueError):
    """A file of readings that cannot be used."""


def run(
    file: Path | None, cross: str | None, drawings: Path | None, as_json: bool, wanted: Wanted
) -> int:
    """Take the readings of a yoke and give its lines for a rig; return the exit code."""
    wanted.demand_room()
    if cross is not None:
        cross = size_named(cross)
    yoke = _taken(file, cross, drawings, as_json, wanted.force)
    if yoke is None:
        return BAD_INPUT
    table = yoke_table(yoke.kind, yoke.cross, yoke.readings)
    shape = yoke_read(yoke.kind, yoke.cross, yoke.readings)
    asked = len(caliper_form(yoke.kind, yoke.cross))
    lines = caliper_lines(yoke.cross, table, len(yoke.readings), asked)
    odd = doubts(yoke.kind, yoke.cross, yoke.readings)
    if as_json:
        data = {"dimensions": table, "doubts": plain(odd), "toml": lines}
        say_json(keyed(yoke, "kind cross readings_mm=readings") | data)
    else:
        for doubt in odd:
            tell_text(f"Check: {said(doubt)}")
        say(wanted.pasting(lines))
        tell_text(CAUTION)

    picture = picture_of("yoke.picture.measured_picture", shape, f"The {yoke.kind} as measured")
    return wanted.finish(lines, picture)


def _taken(
    file: Path | None, cross: str | None, drawings: Path | None, as_json: bool, force: bool
) -> MeasuredYoke | None:
    """The readings of a file, or as they are answered; None where nobody answers any more."""

    def draw(kind: str, cross: str) -> Mapping[str, Path]:
        from viewer.caliper.png import save_drawings

        files = {} if drawings is None else save_drawings(kind, cross, drawings, force)
        note(f"wrote {len(files)} drawings and sheet.html to {drawings}")
        return files

    if file is None:
        if as_json:
            raise ReadingsError("--json: no file of readings, expected one; it cannot ask")
        return ask_yoke(ask_line, tell_text, cross=cross, draw=None if drawings is None else draw)
    yoke = readings_of(file, cross)
    if drawings is not None:
        draw(yoke.kind, yoke.cross)
    return yoke


def readings_of(file: Path, cross: str | None = None) -> MeasuredYoke:
    """Read a TOML file of readings: `kind`, `cross`, and a table `readings` of lengths by name.

    Raises ReadingsError, CatalogueError or ShapeError in one line that names the file.
    """
    data = _loaded(file)
    kind, size = data.get("kind"), data.get("cross", cross)
    if not isinstance(kind, str) or not isinstance(size, str):
        missing = "cross" if isinstance(kind, str) else "kind"
        raise ReadingsError(f"{file}: no {missing} typed, expected such as {_EXAMPLES[missing]}")
    unknown = sorted(set(data) - {"kind", "cross", "readings"})
    typed = data.get("readings", {})
    if unknown or not isinstance(typed, dict):
        came = ", ".join(unknown) or "readings that are no table"
        raise ReadingsError(f"{file}: came {came}, expected kind, cross and [readings]")
    try:
        known = {reading.name for reading in caliper_form(kind, size)}
        readings = {_name(key, known): _length(key, value) for key, value in typed.items()}
        yoke_read(kind, size, readings)
        return MeasuredYoke(kind, size_named(size), readings)
    except BindpointError as error:
        raise ReadingsError(f"{file}: {error}") from error


_EXAMPLES = {"kind": 'kind = "weld yoke"', "cross": 'cross = "27 x 82"'}


def _loaded(file: Path) -> Mapping[str, Any]:
    try:
        return tomllib.loads(read_text(file))
    except RigError as error:
        raise ReadingsError(f"{file}: cannot be read ({error.problems[0].came})") from error
    except (ValueError, RecursionError) as error:
        raise ReadingsError(f"{file}: not a sound TOML file ({error})") from error


def _name(key: str, known: set[str]) -> str:
    """The name of a reading, which may be written with underscores."""
    plain = key.replace("_", " ")
    if plain not in known:
        raise ReadingsError(f"no reading {key!r}; there are: {', '.join(sorted(known))}")
    return plain


def _length(key: str, value: object) -> float:
    if not isinstance(value, str):
        raise ReadingsError(
            f'{key}: came {as_typed(value)}, expected a length with its unit, "16.5 mm"'
        )
    try:
        return parse_length(value)
    except UnitsError as error:
        raise ReadingsError(f"{key}: {error}") from error
