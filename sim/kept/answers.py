"""Answers kept on disk by what was asked, so that they are found once and for all.

An entry is named by everything the answer depends on: what was asked, and the code that builds,
searches and writes. So a changed dimension or a changed program is a new entry and nothing ever
goes stale. Entries are put in place in one step: two programs at once can only
overwrite one good entry by an equal one. Its checksum covers the name as well: an entry that cannot
be read back whole, or that stands where another one belongs, is as good as none.
"""

import json
import os
from collections.abc import Iterator
from contextlib import suppress
from functools import cache
from hashlib import sha256
from importlib.metadata import PackageNotFoundError, version
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any, Final
from uuid import uuid4

from platformdirs import user_cache_path

from sim.kept.atomic import replace_file

FOLDER_VARIABLE = "BINDPOINT_CACHE"
"""Environment variable naming another folder for the cache."""


def cache_folder() -> Path:
    """Where answers are kept."""
    named = os.environ.get(FOLDER_VARIABLE)
    return Path(named) if named else user_cache_path("bindpoint") / "touch"


MAKERS: Final = ("fast-simplification", "manifold3d", "numpy", "python-fcl", "scipy", "trimesh")
"""Libraries whose version decides what comes out."""


TOUCH: Final = ("geometry", "sim.kept")
"""Packages that decide when metal meets: all of `geometry` with its tolerances, and what keeps it.
"""

WHOLE: Final = ("geometry", "sim", "models")
"""Packages that decide what a whole rig comes to."""


def entry_name(packages: tuple[str, ...] = TOUCH, **asked: Any) -> str:
    """Name of the entry for what was asked: anything that can be told as JSON.

    packages : those whose code, and data, decides the answer.
    """
    told = json.dumps(asked | {"code": code_key(packages)}, sort_keys=True)
    return f"{sha256(told.encode()).hexdigest()}.json"


@cache
def code_key(packages: tuple[str, ...] = TOUCH) -> str:
    """Key of the code that answers.

    Where the sources are not there to be read, in a program that was packed without them, nothing
    tells two programs apart: then only this process finds again what it kept.
    """
    digest = sha256()
    for name in MAKERS:
        with suppress(PackageNotFoundError):
            digest.update(f"{name} {version(name)}".encode())
    for package in packages:
        found = [text for file in _sources(files(package)) if (text := file.read_bytes())]
        if not found:
            return uuid4().hex
        for text in found:
            digest.update(text)
    return digest.hexdigest()


def _sources(folder: Traversable) -> Iterator[Traversable]:
    """Every source file of a package, and its data, on disk or in an archive."""
    for each in sorted(folder.iterdir(), key=lambda one: one.name):
        if each.is_dir():
            yield from _sources(each)
        elif each.name.endswith((".py", ".toml")):
            yield each


code_key(TOUCH)  # of the sources as they were read to run, not as an update leaves them later


def read_entry(place: Path) -> Any:
    """The data of an entry, which was used just now; None where there is no sound one."""
    try:
        head, body = place.read_text("utf-8").split("\n", 1)
        if head != _checksum(place, body):
            return None
        data = json.loads(body)
    except (OSError, ValueError):
        return None
    with suppress(OSError):
        place.touch()
    return data


def write_entry(place: Path, data: Any, most: int) -> None:
    """Keep data, and drop the entries of the folder longest unused beyond `most`.

    Raises OSError where it cannot be written.
    """
    place.parent.mkdir(parents=True, exist_ok=True)
    body = json.dumps(data)
    text = f"{_checksum(place, body)}\n{body}"
    replace_file(place, text.encode(), to_disk=False)
    entries = sorted(place.parent.glob("*.json"), key=lambda entry: entry.stat().st_mtime)
    for old in entries[:-most]:
        old.unlink(missing_ok=True)


def _checksum(place: Path, body: str) -> str:
    """Of what an entry says and of what it is the answer to, which its name stands for."""
    return sha256(f"{place.name}\n{body}".encode()).hexdigest()
