"""What is asked for besides an answer: files that are written after it."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from viewer.console import note, progress
from viewer.written.outputs import PICTURE, Outputs

if TYPE_CHECKING:
    from viewer.scene.page import Sheet


@dataclass(frozen=True)
class Wanted:
    """A folder of parts and a picture; `force` lets them replace anything."""

    export: Path | None = None
    picture: Path | None = None
    force: bool = False

    @property
    def outputs(self) -> Outputs:
        """The files with what each is; those of an export are looked at when it is written."""
        return Outputs((("--picture", self.picture, PICTURE),), self.force)


def drawn(path: Path | None, picture: Callable[[], "Sheet"]) -> None:
    """Make and draw a picture where one is wanted, and say so. Raises what either raises."""
    if path is None:
        return
    from viewer.written.picture import save_picture

    with progress() as tell:
        tell("drawing the picture", 0.5)
        save_picture(picture(), path)
    note(f"drew {path}")
