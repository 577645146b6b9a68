"""A customer view with stubs in place of its pictures, and what is pressed in it."""

from collections.abc import Callable, Iterator

import numpy as np
from PIL import Image as Pictures
from psygnal import Signal
from PyQt6.QtWidgets import QPushButton, QWidget

from tests.viewer.session.conftest import Scripted as Worker
from tests.viewer.session.test_beside import strapped
from viewer.draw.base import Image
from viewer.session.cures.lines import CureLine
from viewer.session.session import Session
from viewer.window.customer.parts import BigSlider
from viewer.window.customer.pictures import Heading
from viewer.window.customer.view import CustomerView

Opening = Callable[[str], Session]


class StubView(QWidget):
    """A view that remembers what it was asked."""

    aimed = Signal()

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self.session = session
        self.bar = QWidget(self)
        self.asked: list[object] = []
        self.shots: list[tuple[float, float, int]] = []
        self.was_shut = 0
        self.last_shade = -1

    def snapshot(self) -> Image:
        motion = self.session.motion
        self.shots.append((motion.at.travel, motion.spin, len(self.session.gaps)))
        shade = int(np.interp(motion.at.travel, motion.bounds("travel"), (0, 255)))
        self.last_shade = shade
        return np.full((300, 480, 3), shade, dtype=np.uint8)

    def finely(self) -> Iterator[Image | None]:
        yield None
        yield self.snapshot()

    def fill(self) -> None:
        self.asked.append("fill")

    def look_at(self, view: str) -> None:
        self.asked.append(view)

    def see_with(self, other: "StubView") -> None:
        self.asked.append(other)

    def see_alone(self) -> None:
        self.asked.append("see alone")

    def see_again(self) -> None:
        self.asked.append("see again")

    def shut(self) -> None:
        self.was_shut += 1


def plain(text: str) -> str:
    """A text whose rows may end anywhere."""
    return text.replace("\N{NO-BREAK SPACE}", " ")


def head(view: CustomerView) -> Heading:
    return view.pictures.heading


def height(view: CustomerView) -> BigSlider:
    return view.controls["travel"].slider


def turn(view: CustomerView) -> BigSlider:
    return view.controls["spin"].slider


def stub(view: CustomerView) -> StubView:
    assert isinstance(view.view, StubView)
    return view.view


def cured(session: Session) -> CureLine:
    text = session.document.text.replace('droop = "9 in"', 'droop = "4 in"')
    says = ("Limit straps that end the droop at 4 in.", "Price: droop.", "")
    return CureLine("limit straps at 4 in droop", *says, True, "clear", "CLEAR", (), text)


def try_it(view: CustomerView, session: Session, worker: Worker) -> None:
    """Press what shows the cure, and have its answer."""
    button = next(b for b in view.findChildren(QPushButton) if b.text().startswith("Show it"))
    button.click()
    assert view.pictures.paired.says.text() == "Computing ...", "no old verdict on the cure"
    assert view.pictures.paired.mark.verdict is None
    worker.say(answer=strapped(), share=1.0)
    session.tick()


def pair(view: CustomerView) -> tuple[StubView, StubView]:
    """The views from the left."""
    left, right = view.pictures.views
    assert isinstance(left, StubView)
    assert isinstance(right, StubView)
    return left, right


def times_of(clip: Pictures.Image) -> list[int]:
    times = []
    for number in range(getattr(clip, "n_frames", 1)):
        clip.seek(number)
        times.append(int(clip.info["duration"]))
    return times
