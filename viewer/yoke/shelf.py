"""The pictures to choose a yoke by, kept on disk by what the yokes are.

Drawn by a program of its own (`python -m viewer.yoke.shelf "27 x 82"`), since both building and
drawing take a second or more.
"""

import sys
from hashlib import sha256
from pathlib import Path

from geometry.errors import BindpointError
from sim.kept.answers import cache_folder
from sim.parts.catalogue import yoke_kinds, yoke_shape

FORMAT = 1
"""Raised whenever the pictures look different or their yokes are built differently."""

FAILED = 1
"""Exit code where there are no pictures; the reason is on the error stream."""


def shelf_folder() -> Path:
    """Where the pictures are kept: beside the touch curves."""
    return cache_folder().parent / "yokes"


def shelf_place(cross: str, folder: Path | None = None) -> Path:
    """Where the pictures of every kind of yoke for a size of cross are, or will be.

    Kinds stand in the order of `yoke_kinds()`. Raises CatalogueError for an unknown size.
    """
    shapes = [yoke_shape(kind, cross) for kind in yoke_kinds()]
    name = sha256(f"{FORMAT} {shapes!r}".encode()).hexdigest()
    return (folder or shelf_folder()) / f"{name}.png"


def draw_shelf(cross: str, folder: Path | None = None) -> Path:
    """Draw the pictures for a size of cross unless they are there.

    Raises PictureError when there can be none, CatalogueError for an unknown size.
    """
    place = shelf_place(cross, folder)
    if not place.exists():
        from viewer.scene.yoke_shelf import YokeShelf, shown_parts
        from viewer.written.picture import save_picture

        yokes = (yoke_shape(kind, cross).build() for kind in yoke_kinds())
        shelf = YokeShelf(tuple(shown_parts(yoke) for yoke in yokes))
        place.parent.mkdir(parents=True, exist_ok=True)
        save_picture(shelf, place)
    return place


def main(cross: str) -> int:
    """Draw for a size of cross; 0 when the pictures are there."""
    try:
        draw_shelf(cross)
    except (BindpointError, OSError) as error:
        sys.stderr.write(f"{error}\n")
        return FAILED
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
