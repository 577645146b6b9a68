"""The process a picture is drawn in: what goes wrong with a graphics driver stays in here.

Started by `viewer.written.picture` with a folder that holds the subject; leaves the picture there,
or a line that says why there is none. A driver that ends this process leaves neither.
"""

import pickle
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from geometry.errors import BindpointError
from viewer.draw.stage import Stage

if TYPE_CHECKING:
    from viewer.draw.base import Image
    from viewer.scene.check_scene import CheckPicture
    from viewer.scene.joint import JointPicture
    from viewer.scene.relief import ReliefPicture
    from viewer.scene.shaft import ShaftPicture
    from viewer.scene.yoke import YokePicture
    from viewer.scene.yoke_shelf import YokeShelf

    Subject = JointPicture | ShaftPicture | CheckPicture | ReliefPicture | YokePicture | YokeShelf

SUBJECT, PICTURE, REASON = "subject.pickle", "picture.png", "reason.txt"
"""Names of the files in the folder."""

DOTS_PER_INCH = 160
"""Written into the file: a page of 1600 px prints 10 in wide."""


def draw(subject: "Subject", stage: Stage) -> None:
    """Draw a subject on all of a stage."""
    # Read late: whoever only starts this process has no use for any of them.
    from viewer.scene.check_scene import CheckPicture, draw_check_sheet
    from viewer.scene.joint import JointPicture
    from viewer.scene.joint_scene import draw_joint
    from viewer.scene.relief import ReliefPicture
    from viewer.scene.relief_scene import draw_relief
    from viewer.scene.shaft import ShaftPicture
    from viewer.scene.shaft_scene import draw_shaft
    from viewer.scene.yoke import YokePicture
    from viewer.scene.yoke_scene import draw_yoke
    from viewer.scene.yoke_shelf import YokeShelf, draw_yoke_shelf

    drawers: dict[type, Callable[..., None]] = {
        JointPicture: draw_joint,
        ShaftPicture: draw_shaft,
        CheckPicture: draw_check_sheet,
        ReliefPicture: draw_relief,
        YokePicture: draw_yoke,
        YokeShelf: draw_yoke_shelf,
    }
    drawers[type(subject)](subject, stage, stage.region)


def main(room: Path) -> int:
    """Draw what the folder holds; 0 when the picture is there, 1 when a reason is."""
    try:
        # Only ever written by the process that started this one.
        subject, size = pickle.loads((room / SUBJECT).read_bytes())
        _draw(subject, size, room / PICTURE)
    except ImportError as error:
        missing = str(error).splitlines()[0]
        return _explain(room, f"the drawing library does not load ({missing})")
    except (BindpointError, OSError, MemoryError) as error:
        return _explain(room, str(error) or type(error).__name__)
    return 0


def _draw(subject: "Subject", size: tuple[int, int], path: Path) -> None:
    from viewer.draw.pyvista_stage import PyVistaStage
    from viewer.scene.page import unit_of
    from viewer.scene.yoke_shelf import YokeShelf

    stage = PyVistaStage.of_paper(size, 1.0 if isinstance(subject, YokeShelf) else unit_of(size))
    draw(subject, stage)
    image = stage.image()
    stage.close()
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
