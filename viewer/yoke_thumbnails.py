"""Small pictures of the catalogue's yokes, drawn once in a process of their own and kept."""

from contextlib import suppress
from hashlib import sha256
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import numpy as np

from geometry.errors import BindpointError
from geometry.yoke import Yoke
from sim.catalogue import cross_shape, yoke_kinds, yoke_shape
from sim.touch_cache import cache_folder
from viewer.draw.base import Canvas
from viewer.draw.camera import framing
from viewer.scene.parts import yoke_parts
from viewer.scene.staging import show

SIZE = (320, 240)
"""px."""

FORMAT = 1
"""Raised whenever pictures look different, so that old ones are left alone."""

TOWARD = (-0.75, -0.75, 0.55)
"""From where a yoke is looked at, in its own frame: the ears toward the eye."""

_PATIENCE = 2.0


def place(kind: str, size: str, folder: Path | None = None) -> Path:
    """Where the picture of a kind of yoke for a size of cross is kept."""
    name = sha256(f"{FORMAT} {kind} {size} {SIZE}".encode()).hexdigest()[:20]
    return (folder or cache_folder().parent / "yokes") / f"{name}.png"


def draw_yoke(yoke: Yoke, canvas: Canvas) -> None:
    """Draw a yoke alone, seen from in front of its ears."""
    parts = yoke_parts("yoke", yoke, np.eye(4), "grey steel")
    points = np.concatenate([part.in_chassis for part in parts])
    camera = framing(points, TOWARD, (0.0, 0.0, 1.0), canvas.page)
    canvas.view("yoke", canvas.page, camera)
    show(canvas, parts, camera, 0.5)


class Thumbnails:
    """Pictures of every kind for one size of cross, drawn in the background."""

    def __init__(self, size: str, folder: Path | None = None) -> None:
        self.size, self.folder = size, folder
        missing = [kind for kind in yoke_kinds() if not place(kind, size, folder).exists()]
        self._process: Any = None
        if missing:
            context = get_context("spawn")
            self._process = context.Process(
                target=_draw_all, args=(missing, size, folder), daemon=True
            )
            self._process.start()

    def path(self, kind: str) -> Path | None:
        """The picture of a kind, once it is there."""
        found = place(kind, self.size, self.folder)
        return found if found.exists() else None

    @property
    def drawing(self) -> bool:
        """Whether more pictures may come."""
        return self._process is not None and self._process.is_alive()

    def close(self) -> None:
        """Draw no more."""
        if self._process is not None:
            self._process.kill()
            self._process.join(_PATIENCE)
            self._process = None


def _draw_all(kinds: list[str], size: str, folder: Path | None) -> None:
    """Draw the pictures of some kinds; one that cannot be drawn is left out."""
    from viewer.draw.pyvista_canvas import PyVistaCanvas

    for kind in kinds:
        path = place(kind, size, folder)
        with suppress(OSError, BindpointError):
            path.parent.mkdir(parents=True, exist_ok=True)
            yoke = yoke_shape(kind, cross_shape(size)).build()
            canvas = PyVistaCanvas(SIZE)
            draw_yoke(yoke, canvas)
            beside = path.with_suffix(".new.png")
            canvas.save(beside)
            canvas.close()
            beside.replace(path)
