"""The process a picture is drawn in: what goes wrong with a graphics driver stays in here.

Started by `viewer.written.picture` with a folder that holds the subject; leaves the picture there,
or a line that says why there is none. A driver that ends this process leaves neither.
"""

import pickle
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from geometry.errors import BindpointError
from viewer.draw.base import Canvas

if TYPE_CHECKING:
    from viewer.scene.check_scene import CheckPicture
    from viewer.scene.joint import JointPicture
    from viewer.scene.relief import ReliefPicture
    from viewer.scene.shaft import ShaftPicture
    from viewer.scene.yoke import YokePicture
    from viewer.scene.yoke_shelf import YokeShelf

    Subject = JointPicture | ShaftPicture | CheckPicture | ReliefPicture | YokePicture | YokeShelf

SUBJECT, PICTURE, REASON = "subject.pickle", "picture.png", "reason.txt"
"""Names of the files in the folder."""


def draw(subject: "Subject", canvas: Canvas) -> None:
    """Draw a subject on a canvas."""
    # Read late: whoever only starts this process has no use for any of them.
    from viewer.scene.check_scene import CheckPicture, draw_check_sheet
    from viewer.scene.joint import JointPicture
    from viewer.scene.joint_scene import draw_joint
    from viewer.scene.relief import ReliefPicture
    from viewer.scene.relief_scene import draw_relief
    from viewer.scene.shaft_scene import draw_shaft
    from viewer.scene.yoke import YokePicture
    from viewer.scene.yoke_scene import draw_yoke
    from viewer.scene.yoke_shelf import YokeShelf, draw_yoke_shelf

    if isinstance(subject, JointPicture):
        draw_joint(subject, canvas)
    elif isinstance(subject, CheckPicture):
        draw_check_sheet(subject, canvas)
    elif isinstance(subject, ReliefPicture):
        draw_relief(subject, canvas)
    elif isinstance(subject, YokePicture):
        draw_yoke(subject, canvas)
    elif isinstance(subject, YokeShelf):
        draw_yoke_shelf(subject, canvas)
    else:
        draw_shaft(subject, canvas)


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
    from viewer.draw.pyvista_canvas import PyVistaCanvas

    canvas = PyVistaCanvas(size)
    draw(subject, canvas)
    if canvas.image().min() == canvas.image().max():
        raise BlankError("the graphics driver left the page empty; expected a picture")
    canvas.save(path)
    canvas.close()


class BlankError(BindpointError, RuntimeError):
    """A driver that works and draws nothing."""


def _explain(room: Path, reason: str) -> int:
    (room / REASON).write_text(reason, encoding="utf-8")
    return 1


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
