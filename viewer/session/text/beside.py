"""Files that a rig names, scanned yokes and things near the shaft: it keeps them where it goes.

A name is seen from the rig's folder, so in another folder it leads nowhere, or to another file of
that name.
"""

import filecmp
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from typing import Any

import tomlkit

from sim.kept.atomic import replace_file
from viewer.session.text.document import Document

KEY = "file"
"""The key that names one, wherever it stands in a rig file."""

Moves = Mapping[str, str]
"""New names of files by the names they have in the text."""


@dataclass(frozen=True)
class Beside:
    """A file that a rig names: `said` in its text, and where it lies."""

    said: str
    source: Path


def left_behind(document: Document, target: Path) -> list[Beside]:
    """Files that `target` would not name any more, or by a name that leads to another file.

    Of a rig that was never saved those with a full path, too: it had no other way to name them.
    """
    here, there = document.folder, target.parent
    found = []
    for said in dict.fromkeys(_named(document.data)):
        source = here / said
        if not source.is_file() or (Path(said).is_absolute() and document.path is not None):
            continue
        if not (
            _is_inside(source, there) if document.path is None else _is_same(source, there / said)
        ):
            found.append(Beside(said, source))
    return found


def nearer(document: Document, target: Path) -> Moves:
    """Short names for the files of a rig that was never saved, where they lie below its folder."""
    if document.path is not None:
        return {}
    here, there = document.folder, target.parent.resolve()
    whole = {said: (here / said).resolve() for said in _named(document.data)}
    return {
        said: file.relative_to(there).as_posix()
        for said, file in whole.items()
        if file.is_file() and file.is_relative_to(there)
    }


def pointed_at(files: list[Beside]) -> Moves:
    """Full names, by which files are found from anywhere."""
    return {each.said: each.source.resolve().as_posix() for each in files}


def copied(files: list[Beside], target: Path) -> Moves:
    """Copy files into the folder of `target` and give their names there.

    Nothing that is there is replaced: a name that is taken by another file gets a number. Raises
    OSError with nothing copied when that fails.
    """
    moves: dict[str, str] = {}
    made: list[Path] = []
    try:
        for each in files:
            place = _place(each, target.parent, made)
            if not place.exists():
                place.parent.mkdir(parents=True, exist_ok=True)
                replace_file(place, each.source.read_bytes())
                made.append(place)
            moves[each.said] = place.relative_to(target.parent).as_posix()
    except OSError:
        for place in made:
            place.unlink(missing_ok=True)
        raise
    return moves


def repointed(text: str, moves: Moves) -> str:
    """The text of a rig file with other names for its files; all else stays as it was typed."""
    if not any(said != name for said, name in moves.items()):
        return text
    document = tomlkit.parse(text)
    for table in _naming(document):
        if str(table[KEY]) in moves:
            table[KEY] = moves[str(table[KEY])]
    return tomlkit.dumps(document)


def elsewhere(text: str, here: Path, target: Path) -> str:
    """The text of a rig file seen from `here`, so that from `target` it names the same files."""
    named = (Beside(said, here / said) for said in _named(tomllib.loads(text)))
    files = [
        each
        for each in named
        if each.source.is_file() and not _is_same(each.source, target.parent / each.said)
    ]
    return repointed(text, pointed_at(files))


def _place(each: Beside, folder: Path, made: list[Path]) -> Path:
    """Where a copy goes: by its name in the text if that stays below the folder."""
    said = Path(each.said)
    outside = said.is_absolute() or ".." in said.parts
    wanted = folder / (each.source.name if outside else said)
    for number in count(2):
        if not wanted.exists() or (wanted not in made and _is_same(each.source, wanted)):
            return wanted
        wanted = wanted.with_name(f"{each.source.stem}-{number}{each.source.suffix}")
    raise AssertionError("numbers do not end")


def _named(data: Any) -> list[str]:
    """The files that a rig names."""
    return [table[KEY] for table in _naming(data)]


def _naming(data: Any) -> Iterator[Any]:
    """Every table of a rig file that names a file."""
    if isinstance(data, Mapping):
        if isinstance(data.get(KEY), str):
            yield data
        data = list(data.values())
    for each in data if isinstance(data, list) else ():
        yield from _naming(each)


def _is_same(one: Path, other: Path) -> bool:
    """Whether two names lead to one file, or to files that are alike to the last byte."""
    try:
        return other.is_file() and (one.samefile(other) or filecmp.cmp(one, other, shallow=False))
    except OSError:
        return False


def _is_inside(file: Path, folder: Path) -> bool:
    return file.resolve().is_relative_to(folder.resolve())
