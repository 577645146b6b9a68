"""From a file on disk to its plain data."""

import re
import tomllib
from codecs import BOM_UTF8
from collections.abc import Mapping
from os import PathLike
from pathlib import Path
from typing import Any, Final

from sim.table.problems import RigError, one_problem

LARGEST: Final = 1_000_000
"""Bytes. A file of ours has a few thousand; a larger file is something else."""
LONGEST_LINE: Final = 2_000
"""Characters. Keys of thousands of parts, which take the parser minutes, end here."""
DEEPEST: Final = 12
"""Tables within tables. The schema needs five."""

_PLACE: Final = re.compile(r"\s*\(at (?P<place>line \d+, column \d+|end of document)\)$")
_TEXT: Final = "a TOML text in UTF-8"


def read_text(path: str | PathLike[str], kind: str = "a rig file") -> str:
    """Text of a file of a kind, refused in one line when it cannot be one."""
    file = str(path)
    raw = _read_bytes(Path(path), file, kind)
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise one_problem(file, "", "a text in UTF-16", f"{_TEXT}; save it again as UTF-8")
    if b"\0" in raw:
        raise one_problem(file, "", "a binary file", _TEXT)
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = raw.count(b"\n", 0, fault.start) + 1
        came = f"byte 0x{raw[fault.start]:02x} in line {line}, which is not UTF-8"
        raise one_problem(file, "", came, f"{_TEXT}; save it again as UTF-8") from None
    return text.replace("\r\n", "\n")


def parse_toml(text: str, file: str = "rig", kind: str = "a rig file") -> dict[str, Any]:
    """Plain data of a TOML text. Raises `RigError` with the line and column."""
    for number, line in enumerate(text.split("\n"), start=1):
        if len(line) > LONGEST_LINE:
            raise one_problem(
                file, f"line {number}", f"{len(line)} characters", f"at most {LONGEST_LINE}"
            )
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise _unreadable(str(fault), text, file) from None
    except (RecursionError, ValueError):  # ValueError: a number of thousands of digits
        raise one_problem(file, "", "a text nested too deep, or a number too long", _TEXT) from None
    if _depth(data) > DEEPEST:
        raise one_problem(
            file, "", f"tables nested more than {DEEPEST} deep", f"the tables of {kind}"
        )
    return data


def _read_bytes(path: Path, file: str, kind: str) -> bytes:
    try:
        odd = _not_a_file(path)
        if odd:
            raise one_problem(file, "", odd, kind)
        with path.open("rb") as stream:
            raw = stream.read(LARGEST + 1)
    except OSError as fault:
        why = fault.strerror or type(fault).__name__
        raise one_problem(file, "", why.lower(), "a file that can be read") from None
    if len(raw) > LARGEST:
        raise one_problem(
            file, "", f"more than {LARGEST:,} bytes", f"{kind}, which has a few thousand"
        )
    if not raw.removeprefix(BOM_UTF8).strip():
        raise one_problem(file, "", "an empty file", _TEXT)
    return raw


def _not_a_file(path: Path) -> str:
    """What a path leads to when it is no plain file; empty when it is one."""
    try:
        if path.is_file():
            return ""
        if path.is_dir():
            return "a folder"
        return "not a plain file" if path.exists() else "no such file"
    except ValueError:  # a NUL inside a path
        return "not a path"


def _unreadable(message: str, text: str, file: str) -> RigError:
    """Put the parser's complaint in our order: place, what came, what was expected."""
    place = _PLACE.search(message)
    said = _PLACE.sub("", message)
    where = place["place"] if place else ""
    line = re.search(r"line (\d+)", where)
    stands = text.split("\n")[int(line[1]) - 1].strip()[:60] if line else "the text"
    why, expected = next(
        (plain for words, plain in _PLAINLY if words in said),
        (said[:1].lower() + said[1:], _LINE),
    )
    shown = "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in stands)
    return one_problem(file, where, f"{shown or 'an empty line'} ({why})", expected)


_LINE: Final = 'a line such as length = "36 5/16 in"'
_QUOTED: Final = 'a measurement in quotes, such as length = "36 5/16 in"'
_PLAINLY: Final = (
    ("end of a table declaration", ("the ] at its end is missing", "a title such as [output]")),
    ("Unterminated string", ("a quote is never closed", _QUOTED)),
    ("Illegal character '\\n'", ("a quote is never closed", _QUOTED)),
    ("Unclosed array", ("the ] of a list is missing", 'a list such as ["47 in", "0 in", "9 in"]')),
    ("Unclosed inline table", ("the } of a table is missing", 'such as { size = "27 x 82" }')),
    ("Expected '='", ("there is no = after the name", _LINE)),
    ("Invalid value", ("not in quotes", _QUOTED)),
    ("after a statement", ("something is left over after the value", _QUOTED)),
    ("Invalid statement", ("not a name of a value", _LINE)),
    ("overwrite", ("it is there twice", "each key once")),
    ("declare", ("it is there twice", "each key once")),
    ("twice", ("it is there twice", "each key once")),
    ("mutate", ("it is there twice", "each key once")),
)
"""Words of the parser of the standard library: what they mean at the counter, and what goes."""


def _depth(data: Mapping[str, Any]) -> int:
    """How deep tables and arrays are nested, counted without recursion."""
    level: list[Any] = [data]
    depth = 0
    while level and depth <= DEEPEST:
        depth += 1
        level = [
            inner
            for each in level
            for inner in (each.values() if isinstance(each, Mapping) else each)
            if isinstance(inner, Mapping | list)
        ]
    return depth
