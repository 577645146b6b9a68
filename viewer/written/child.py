"""The process a picture is drawn in: what goes wrong with a graphics driver stays in here.

Started by `viewer.written.picture` with a folder that holds the subject; leaves the picture there,
or a line that says why there is none. A driver that ends this process leaves neither.
"""

import pickle
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from geometry.errors import BindpointError

if TYPE_CHECKING:
    from viewer.draw.base import Image
    from viewer.scene.page import Sheet

SUBJECT, PICTURE, REASON = "subject.pickle", "picture.png", "reason.txt"
"""Names of the files in the folder."""

DOTS_PER_INCH = 160
"""Written into the file: a page of 1600 px prints 10 in wide."""


def main(room: Path) -> int:
    """Draw what the folder holds; 0 when the picture is there, 1 when a reason is."""
    try:
        # Only ever written by the process that started this one.
        _draw(pickle.loads((room / SUBJECT).read_bytes()), room / PICTURE)
    except ImportError as error:
        missing = str(error).splitlines()[0]
        return _explain(room, f"the drawing library does not load ({missing})")
    except (BindpointError, OSError, MemoryError) as error:
        return _explain(room, str(error) or type(error).__name__)
    return 0


def _draw(sheet: "Sheet", path: Path) -> None:
    from viewer.draw.pyvista_paper import PyVistaPaper

    paper = PyVistaPaper(sheet.size, sheet.unit)
    sheet.draw(paper, paper.region)
    image = paper.image()
    paper.close()
    if image.min() == image.max():
        raise BlankError("the graphics driver left the page empty; expected a picture")
    save_png(image, path)


def save_png(image: "Image", path: Path) -> None:
    """Write an image as PNG. Raises OSError where the file cannot be written."""
    from PIL import Image as Pictures

    Pictures.fromarray(image).save(path, format="PNG", dpi=(DOTS_PER_INCH, DOTS_PER_INCH))


class BlankError(BindpointError, RuntimeError):
    """A driver that works and draws nothing."""


def _explain(room: Path, reason: str) -> int:
    (room / REASON).write_text(reason, encoding="utf-8")
    return 1


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
