"""What a command does once something was found: answers, and writes what else was asked for."""

import json
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

from viewer.console import note, progress, say, say_json
from viewer.endings import CLEAR
from viewer.written.files import replace
from viewer.written.outputs import Kind, Outputs

if TYPE_CHECKING:
    from viewer.scene.page import Sheet


def answer(as_json: bool, data: Callable[[], dict[str, Any]], text: Callable[[], str]) -> None:
    """Print what was found as one JSON object, or as text."""
    if as_json:
        say_json(data())
    else:
        say(text())


def drawn(path: Path | None, picture: "Callable[[], Sheet]") -> None:
    """Make and draw a picture where one is wanted, and say so. Raises what either raises."""
    if path is None:
        return
    from viewer.written.picture import save_picture

    with progress() as tell:
        tell("drawing the picture", 0.5)
        save_picture(picture(), path)
    note(f"drew {path}")


def picture_of(name: str, *found: object) -> "Callable[[], Sheet]":
    """What makes a picture of what was found, by `module.function`, read when it is drawn.

    Drawing loads libraries that take longer than most answers.
    """
    module, _, function = f"viewer.{name}".rpartition(".")
    return lambda: getattr(import_module(module), function)(*found)


def schema_written(
    path: Path, kind: Kind, schema: Callable[[], dict[str, Any]], force: bool
) -> int:
    """Write the JSON Schema of a kind of file and say so; return the exit code."""
    Outputs((("--json-schema", path, kind),), force).demand_room()
    replace(path, json.dumps(schema(), indent=2) + "\n", "the JSON Schema")
    note(f"wrote {path}")
    return CLEAR
