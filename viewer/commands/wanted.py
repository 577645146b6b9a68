"""What is asked for besides an answer: files that are written after it."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from viewer.console import note, progress
from viewer.written.outputs import PICTURE, Outputs


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


def drawn(picture: Path | None, draw: Callable[[Path], object]) -> None:
    """Draw a picture where one is wanted, and say so. Raises what drawing raises."""
    if picture is not None:
        with progress() as tell:
            tell("drawing the picture", 0.5)
            draw(picture)
        note(f"drew {picture}")
