"""The view of the shaft in 3D, and how mouse and keys move it."""

from collections.abc import Iterator
from typing import cast

import numpy as np
from psygnal import SignalInstance
from PyQt6.QtCore import QElapsedTimer, QEvent, QObject, QPoint, QPointF, Qt, QTimer, pyqtSignal
from PyQt6.QtGui import QContextMenuEvent, QKeyEvent, QMouseEvent, QResizeEvent, QWheelEvent
from PyQt6.QtWidgets import QWidget

from viewer.draw.base import Image
from viewer.draw.camera import Floats, Region
from viewer.live.near_marks import chosen_thing
from viewer.live.scene import LiveScene
from viewer.live.sight import NEAR, SLIP, WHOLE, views
from viewer.session.charts.travel_map import Layer
from viewer.session.session import Session
from viewer.window.kit.follower import Follower
from viewer.window.kit.pieces import column, once
from viewer.window.view.bar import FAINT, HIDDEN, ViewBar
from viewer.window.view.facts_card import FactsCard
from viewer.window.view.gl import Drawing, Factory, gl_drawing
from viewer.window.view.look import look_for
from viewer.window.view.moving import NOTCH, SHIFT, TURN, is_click, key_moves
from viewer.window.view.part_menu import PartMenu
from viewer.words.now import now_says

BREATH = 30
"""ms until another rig is drawn: its sheet is made meanwhile, and whatever waits is done."""

FILLING = 250
"""ms between drawings while parts come in; a drawing after each would be most of the wait."""


class View3D(Follower):
    """The shaft in 3D.

    Left button turns the view, middle or right moves it, the wheel goes nearer, a click tells what
    is under it, a right click what can be done with it; in the close-up the wheel goes nearer
    there, and a click looks at its joint. Arrow keys turn, with Shift they move; + and - go nearer
    and farther; number keys choose a view, Home the whole; N goes from part to part, H hides one, G
    makes it glass, A brings all back; Esc puts the card away.

    Signals
    -------
    picked : name of a part and its `Facts`, which a card tells too; "" and None where nothing is.
    """

    picked = pyqtSignal(str, object)

    def __init__(
        self, session: Session, parent: QWidget | None = None, factory: Factory = gl_drawing
    ) -> None:
        super().__init__(session, parent)
        self.drawing: Drawing | None = factory(self)
        self._widget = widget = self.drawing.widget
        self.scene = LiveScene(self.drawing.stage, session, look_for(self))
        self._press: QPointF | None = None
        self._last = QPointF()
        self._button = Qt.MouseButton.NoButton
        self._in_closeup = False
        self._is_due = self._is_covered = False
        self._work = once(self, self._do_work)
        self._begin = once(self, self._on_begun, BREATH)
        self._since_drawn = QElapsedTimer()
        self.bar = ViewBar(self.scene, self)
        self.bar.chosen.connect(self._on_view)
        self.bar.changed.connect(self.redraw)
        column(self.bar, (widget, 1), on=self, gap=0, edge=0)
        self.card = FactsCard(self, self.bar)
        widget.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        widget.setAccessibleName("Shaft in 3D")
        self.setAccessibleName("View of the shaft")
        widget.installEventFilter(self)
        self.setFocusProxy(widget)
        self.follow(
            (session.posed, self._on_posed),
            (session.measured, self._on_measured),
            (session.answered, self._on_answered),
            (session.rig_changed, self._on_answered),
            (session.compared, self._on_compared),
            (session.chose, self._on_chose),
            (session.motion.moved, self._on_moved),
        )

    # What others ask for

    def snapshot(self) -> Image:
        """What is seen now, (height, width, 3), first row on top, with everything that is due."""
        if self.drawing is None:
            raise RuntimeError("the view is closed; expected one that is open")
        self.fill()
        self._draw()
        return self.drawing.grab()

    def fill(self) -> None:
        """Do everything that is due in the scene at once."""
        while self.scene.has_work:
            self.scene.work()

    @property
    def aimed(self) -> SignalInstance:
        """Tells that the eye is elsewhere."""
        return self.scene.aimed

    def see_with(self, other: "View3D") -> None:
        """Look with the eye of another view, which leads it; `see_again` when it has moved."""
        self.scene.see_with(other.scene)
        self.redraw()
        other.redraw()

    def see_alone(self) -> None:
        """Look at what is here alone again."""
        self.scene.see_alone()
        self.redraw()

    def see_again(self) -> None:
        """Look from where the eye has gone."""
        self.scene.aim_again()
        self.bar.refresh()
        self.redraw()

    def finely(self) -> Iterator[Image | None]:
        """`snapshot` with edges as smooth as they can be, in steps to go between events.

        None while it is being drawn, which may take a while; the picture comes last.
        """
        if self.drawing is None:
            raise RuntimeError("the view is closed; expected one that is open")
        with self.drawing.finest():
            self.redraw()
            yield None
            yield None  # drawn in between
            yield self.snapshot()

    def look_at(self, view: str) -> None:
        """Look from one of `viewer.live.sight.views`."""
        self.scene.look_at(view)
        self.bar.refresh()
        self.redraw()

    def redraw(self) -> None:
        """Draw once, when the window is painted next.

        The drawing then is of the same pose as the numbers that are painted beside it.
        """
        self._is_due = True
        self._widget.update()

    def cover(self, on: bool) -> None:
        """Take no notice of the session while another view stands over it; then catch up."""
        self._is_covered = on
        if not on and self.drawing is not None:
            self._on_answered()
            self._on_compared()
            self._on_posed()
            self._on_measured()

    def shut(self) -> None:
        """Let go of OpenGL; nothing is drawn afterwards. Called once, before the window goes."""
        if self.drawing is None:
            return
        self._links.let_go()
        self._work.stop()
        self._begin.stop()
        self._widget.removeEventFilter(self)
        self.drawing.close()
        self.drawing = None

    # The session speaks

    def refresh(self) -> None:
        """Take on a light or dark palette, and show everything anew."""
        if self.drawing is not None:
            self.scene.dress(look_for(self))
            self._show()

    def _show(self, other_words: bool = True) -> None:
        """Do what is due in the scene, and draw it, with other words where they changed."""
        if other_words:
            self._tell()
        self._go_on()
        self.redraw()

    def _on_moved(self) -> None:
        # With an answer the session poses everything itself and says `posed`.
        if self.session.check is None:
            self._on_posed()

    def _on_posed(self) -> None:
        if not self._is_covered:
            self.scene.posed()
            self._show()

    def _on_measured(self) -> None:
        # Most of what is measured is for the strip alone, which is no reason to draw this anew.
        if not self._is_covered and self.scene.measured():
            self._show(other_words=False)

    def _on_answered(self) -> None:
        if not self._is_covered:
            self.scene.answered()
            self._show()

    def on_opened(self) -> None:
        """Begin with another rig, a moment later."""
        self.scene.opened()
        self.card.tell(None)
        self._begin.start()

    def _on_begun(self) -> None:
        self.bar.rebuild()
        self._on_answered()

    def _on_compared(self) -> None:
        if not self._is_covered:
            self.scene.compared()
            self._show(other_words=False)

    def _on_chose(self) -> None:
        """Look at what was chosen; at the whole where that is no one place."""
        if self._is_covered:
            return
        self.look_at(self._chosen)

    @property
    def _chosen(self) -> str:
        """From where what was chosen is seen."""
        chosen, finding = self.session.chosen, self.session.finding
        if chosen in views(self.scene.vehicle):
            return chosen
        return NEAR if chosen_thing(finding) else WHOLE

    def _on_view(self, view: str) -> None:
        """Look from a view; that of a joint or the slip chooses it everywhere."""
        if view == SLIP or view in self.scene.vehicle.joints:
            self.session.choose(cast(Layer, view))
        else:
            self.look_at(view)

    def _go_on(self) -> None:
        if self.scene.has_work and not self._work.isActive():
            self._work.start()

    def _do_work(self) -> None:
        if self.scene.work():
            self._work.start()
        else:
            self.bar.rebuild()
            self._since_drawn.invalidate()
        if not self._since_drawn.isValid() or self._since_drawn.hasExpired(FILLING):
            self._since_drawn.start()
            self.redraw()

    def _tell(self) -> None:
        """Say in words what is to be seen, for those who do not see it."""
        now = self.session.now
        text = (
            "The shaft from the rig's numbers; the parts follow." if now is None else now_says(now)
        )
        self.setAccessibleDescription(text)
        self._widget.setAccessibleDescription(text)

    # Drawing

    def _draw(self) -> None:
        if self.drawing is not None:
            # The stage may take on its new size only after it was told of it.
            if not self.scene.closeup.fits:
                self.scene.lay()
            self.drawing.stage.draw()

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Keep a chosen view whole."""
        super().resizeEvent(event)
        QTimer.singleShot(0, self._on_resized)

    def _on_resized(self) -> None:
        if self.drawing is None:
            return
        self.card.place()
        stage = self.drawing.stage
        points = self.fontInfo().pixelSize() / 15.0
        stage.scale = self.drawing.widget.devicePixelRatioF() * max(0.6, points)
        self.scene.lay()
        if self.scene.leads and self.scene.sight.view and self.scene.sight.on is None:
            self.scene.look_at(self.scene.sight.view)
        self.redraw()

    # Mouse and keys

    def eventFilter(self, watched: QObject | None, event: QEvent | None) -> bool:
        """Read mouse and keys of the drawing; they go no further."""
        if event is None or self.drawing is None or watched is not self._widget:
            return super().eventFilter(watched, event)
        if event.type() == QEvent.Type.Paint and self._is_due:
            self._is_due = False
            self._draw()
            return False  # the widget itself puts it on the screen
        if isinstance(event, QMouseEvent):
            self._on_mouse(event)
            return True
        if isinstance(event, QWheelEvent):
            self._on_wheel(event)
            return True
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            return self._on_key(event)
        return super().eventFilter(watched, event)

    def contextMenuEvent(self, event: QContextMenuEvent | None) -> None:
        """Offer the part that is meant; the mouse opens it when it is let go, after no drag."""
        if event is not None and event.reason() == QContextMenuEvent.Reason.Keyboard:
            self._offer(self.scene.bodies.chosen, self._widget.rect().center())

    def _on_mouse(self, event: QMouseEvent) -> None:
        place = event.position()
        if event.type() == QEvent.Type.MouseButtonPress:
            self._in_closeup = self._is_in_closeup(place)
            self._press, self._last, self._button = place, place, event.button()
            self.setFocus(Qt.FocusReason.MouseFocusReason)
        elif event.type() == QEvent.Type.MouseMove and self._press is not None:
            moved = place - self._last
            self._last = place
            if not self._in_closeup:
                self._drag(moved.x(), moved.y())
        elif event.type() == QEvent.Type.MouseButtonRelease and self._press is not None:
            aside = place - self._press
            self._press = None
            still = is_click(aside)
            if still and event.button() == Qt.MouseButton.LeftButton:
                self._click(place)
            elif still and event.button() == Qt.MouseButton.RightButton:
                self._offer("" if self._in_closeup else self._under(place), place.toPoint())

    def _click(self, place: QPointF) -> None:
        joint = self.scene.closeup.joint
        if not self._in_closeup:
            self._choose(self._under(place))
        elif joint is not None:
            self._on_view(joint)

    def _drag(self, right: float, down: float) -> None:
        if self._button == Qt.MouseButton.LeftButton:
            self.scene.orbit(-TURN * right, TURN * down)
        else:
            real = self._stage_size[1] / max(1, self._widget.height()) / self._main.height
            self.scene.pan(right * real, -down * real)
        self.bar.refresh()
        self.redraw()

    def _on_wheel(self, event: QWheelEvent) -> None:
        notches = event.angleDelta().y() / 120.0
        place = event.position()
        if self._is_in_closeup(place):
            self.scene.zoom_closeup(NOTCH**notches)
            self.redraw()
            return
        # What is under the mouse stays there: its place in the plane that is looked at.
        camera, region = self.scene.sight.camera, self._main
        right, up = (self._on_stage(place) - region.middle) / region.height
        about = camera.focus + camera.span * (right * camera.R_VC[0] + up * camera.R_VC[1])
        self.scene.zoom(NOTCH**notches, about)
        self.redraw()

    def _on_key(self, event: QKeyEvent) -> bool:
        key = event.key()
        if key_moves(event, self.scene):
            self.bar.refresh()
        elif key == Qt.Key.Key_Escape and not self.card.isHidden():
            self._choose("")
        elif key == Qt.Key.Key_Home:
            self.look_at(WHOLE)
        elif Qt.Key.Key_1 <= key <= Qt.Key.Key_9:
            there = list(self.bar.buttons)
            number = key - Qt.Key.Key_1
            if number >= len(there):
                return False
            self._on_view(there[number])
        elif not self._on_part_key(key, bool(event.modifiers() & SHIFT)):
            return False
        self.redraw()
        return True

    def _on_stage(self, place: QPointF) -> Floats:
        """A place of the widget on the stage, (2,) px of that."""
        widget, size = self._widget, self._stage_size
        # Shares of the widget, so that it holds on a screen of any density.
        right, down = place.x() / max(1, widget.width()), place.y() / max(1, widget.height())
        return np.array([right, 1.0 - down]) * size

    @property
    def _stage_size(self) -> tuple[int, int]:
        return (1, 1) if self.drawing is None else self.drawing.stage.size

    @property
    def _main(self) -> Region:
        """Where the shaft is shown, px of the stage."""
        return Region(0.0, 0.0, 1.0, 1.0) if self.drawing is None else self.drawing.stage.region

    def _is_in_closeup(self, place: QPointF) -> bool:
        return self.scene.closeup.region.holds(Region.around(self._on_stage(place), 0.0))

    def _under(self, place: QPointF) -> str:
        """Name of the part under a place of the widget; "" where there is none."""
        found = None if self.drawing is None else self.drawing.stage.pick(*self._on_stage(place))
        return "" if found is None or self.scene.bodies.facts(found.name) is None else found.name

    def _offer(self, name: str, place: QPoint) -> None:
        """Open the menu over a part, or over none."""
        part = self.scene.bodies.parts.get(name)
        whole, title = ("", "") if part is None else (part.whole, part.title)
        title = title[:1].upper() + title[1:]
        self.menu = PartMenu(
            self.bar, whole, title, lambda: self._choose(name), self.actions(), self
        )
        self.menu.aboutToHide.connect(self.menu.deleteLater)
        self.menu.popup(self._widget.mapToGlobal(place))

    def _on_part_key(self, key: int, back: bool) -> bool:
        """Go from part to part, hide the one that is meant, make it glass, bring all back."""
        bodies = self.scene.bodies
        if key == Qt.Key.Key_A:
            self.bar.show_everything()
        elif key == Qt.Key.Key_N:
            names = [part.name for part, _ in bodies.listed()]
            at = names.index(bodies.chosen) if bodies.chosen in names else -1 + back
            self._choose(names[(at + (-1 if back else 1)) % len(names)] if names else "")
        elif key in (Qt.Key.Key_H, Qt.Key.Key_G) and bodies.chosen:
            how = HIDDEN if key == Qt.Key.Key_H else FAINT
            self.bar.set_part(bodies.parts[bodies.chosen].whole, how)
        else:
            return False
        return True

    def _choose(self, name: str) -> None:
        """Show which part is meant and tell about it; "" for none."""
        facts = self.scene.bodies.facts(name)
        self.scene.choose(name)
        self.card.tell(facts)
        self.redraw()
        self.picked.emit(name, facts)
