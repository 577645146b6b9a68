"""The live scene: what a session knows, said to a stage. Parts are built once and then moved."""

from collections.abc import Iterator
from itertools import chain

import numpy as np

from sim.check import Check
from sim.derive import derive
from sim.line import LineState, turn
from sim.rig import Rig
from sim.vehicle import Joint, Pose, Vehicle
from viewer.draw.base import Pen
from viewer.draw.camera import UP, Floats
from viewer.draw.shading import sharp_edges
from viewer.draw.stage import Stage
from viewer.live.floor import ARROW, WORD, arrow_on_floor, lay_floor
from viewer.live.ghost import Ghost
from viewer.live.looking import look_from
from viewer.live.looks import EDGE, LIGHT, SIZE, SMALL, Look
from viewer.live.marks import JointMarks
from viewer.live.preview import notice, preview_parts
from viewer.live.sight import ALONG, Sight
from viewer.scene.figure import put_up
from viewer.scene.joint_bodies import joint_frame
from viewer.scene.mount import Frames, frames_of
from viewer.scene.part import Facts, Part, Shown, same_pieces
from viewer.scene.shaft_parts import checked_shaft
from viewer.scene.surroundings import checked_things
from viewer.scene.suspension import suspension_parts
from viewer.session.session import Session

FAINT = 0.15
"""How dense the axle housing is where it is looked through."""

CHOSEN, LOST, TO_COME = "chosen part", "out of reach", "parts to come"
"""What the stage calls the edges of the part that is pointed out, the words that no part can be
where it was sent, and the words that something is old or not there yet."""


class LiveScene:
    """A session on a stage.

    The owner calls `answered`, `posed` and `measured` when the session says so, does `work` while
    there is some, and then lets the stage draw.
    """

    def __init__(self, stage: Stage, session: Session, look: Look = LIGHT) -> None:
        self.stage, self._session, self.look = stage, session, look
        self.parts: dict[str, Part] = {}
        self.marks: dict[Joint, JointMarks] = {}
        self.frames: Frames = {}
        self.line: LineState | None = None
        self.sight = Sight()
        self._ghost = Ghost(stage, look)
        self._hidden: set[str] = set()
        self._opacity: dict[str, float] = {}
        self._source: Check | Rig | None = None
        self._building: Iterator[Part] | None = None
        self._fresh: set[str] = set()
        self._bites: list[Joint] = []
        self._chosen = ""
        self._framed = self._lost = False
        stage.backdrop(look.sky, look.floor)
        self.answered()

    # What the session says

    def answered(self) -> None:
        """There may be another answer, or another rig and no answer yet."""
        if not self._is_new:
            self._announce()
            return
        check, rig = self._session.check, self._session.document.rig
        self._source = rig if check is None else check
        vehicle = self._vehicle()
        for marks in self.marks.values():
            marks.clear()
        self.marks, self._bites, self._fresh = {}, [], set()
        self.choose("")
        if check is None:
            self._building = preview_parts(rig, vehicle)
        else:
            around = chain(suspension_parts(vehicle), checked_things(check))
            self._building = chain(checked_shaft(check), around)
            for name, joint in check.joints.items():
                self.marks[name] = JointMarks(self.stage, name, joint.hardware, self.look)
        lay_floor(self.stage, vehicle, self.look)
        self._suit_view()
        self.posed()
        self._announce()

    def posed(self) -> None:
        """Axle and shaft are somewhere else: move every part there."""
        if self._is_new:
            self.answered()
            return
        before = self.frames
        if not self._take_frames():
            self._lose()
            return
        if self._lost:
            self._lost = False
            self.stage.remove(LOST)
        for name in [name for name, part in self.parts.items() if not part.mount.fits(self.frames)]:
            self._take_down(name)  # of another kind of shaft
        for part in self.parts.values():
            self._move(part)
        if self._chosen in self.parts:
            self.stage.move(CHOSEN, self.parts[self._chosen].mount.pose(self.frames))
        self._pose_marks()
        self._move_words()
        self._ghost.pose(*self._place, self.parts, self.frames, self.sight)
        if self.sight.follow(before, self.frames):
            self._aim()

    def measured(self) -> None:
        """Gaps of this pose have become known."""
        now = self._session.now
        if now is None:
            return
        for joint, marks in self.marks.items():
            gap = self._session.gaps.get(joint)
            if gap is not None and gap is not marks.gap and joint in now.joints:
                marks.measured(gap, now.joints[joint])
                marks.face(self.sight)
                if marks.wants_bite and joint not in self._bites:
                    self._bites.append(joint)

    def opened(self) -> None:
        """Another rig altogether: forget what was hidden, and look at the whole of it."""
        self._hidden, self._opacity, self._framed = set(), {}, False
        self.sight = Sight()
        self._source = None
        self._ghost.show(None)

    def compared(self) -> None:
        """Another version was put aside, or none."""
        other = self._session.other
        self._ghost.show(None if other is None else other.check)

    # Work between events

    @property
    def has_work(self) -> bool:
        """Whether `work` has something to do."""
        return self._building is not None or bool(self._bites) or self._ghost.has_work

    @property
    def is_building(self) -> bool:
        """Whether parts are still to come."""
        return self._building is not None

    def work(self) -> bool:
        """Do one short piece: build a part, or find the metal that would have to give."""
        if self._building is not None:
            part = next(self._building, None)
            if part is not None:
                self._put_up(part)
            else:
                self._building = None
                for name in [name for name in self.parts if name not in self._fresh]:
                    self._take_down(name)
                self._all_there()
        elif self._bites:
            marks = self.marks.get(self._bites.pop(0))
            if marks is not None:
                marks.bite()
                marks.face(self.sight)
        elif self._ghost.has_work:
            self._ghost.work()
            self._ghost.pose(*self._place, self.parts, self.frames, self.sight)
        return self.has_work

    # What the user does

    def listed(self) -> tuple[Shown, ...]:
        """Every part as a menu lists it."""
        return tuple(
            Shown(
                name,
                part.title,
                part.group,
                name not in self._hidden,
                self._opacity.get(name, part.opacity),
            )
            for name, part in self.parts.items()
            if not part.of
        )

    def show(self, name: str, shown: bool) -> None:
        """Hide a part or let it be seen."""
        (self._hidden.discard if shown else self._hidden.add)(name)
        for each in self._lengths(name):
            self.stage.show(each, shown)

    def fade(self, name: str, opacity: float) -> None:
        """Make a part more or less dense, 0 to 1."""
        self._opacity[name] = opacity
        for each in self._lengths(name):
            self.stage.fade(each, self._dense(self.parts[each]))

    def _lengths(self, name: str) -> list[str]:
        """What the stage calls a part, or the lengths it is drawn in."""
        return [each for each, part in self.parts.items() if part.whole == name]

    def facts(self, name: str) -> Facts | None:
        """What is known of a part; None for what is no part."""
        part = self.parts.get(name)
        return None if part is None else part.facts

    def choose(self, name: str) -> None:
        """Point out one part by the colour of its edges; "" for none."""
        self.stage.remove(CHOSEN)
        part = self.parts.get(name)
        self._chosen = name if part is not None else ""
        if part is not None:
            edges = np.concatenate([sharp_edges(mesh) for mesh, _ in part.meshes])
            X = part.mount.pose(self.frames)
            self.stage.lines(CHOSEN, edges, Pen(self.look.accent, 3.0), X)

    def look_at(self, view: str) -> None:
        """Look from one of `sight.views`."""
        if self.line is not None:
            look_from(self.sight, view, self)
            self._suit_view()
            self._aim()

    def orbit(self, right: float, up: float) -> None:
        """Go round what is looked at, rad."""
        self.sight.orbit(right, up)
        self._suit_view()
        self._aim()

    def pan(self, right: float, up: float) -> None:
        """Move what is seen, in shares of the height of the view."""
        self.sight.pan(right, up)
        self._aim()

    def zoom(self, factor: float, about: Floats | None = None) -> None:
        """Go nearer by a factor above 1."""
        self.sight.zoom(factor, about)
        self._aim()

    def dress(self, look: Look) -> None:
        """Take on another look."""
        if look is self.look:
            return
        self.look = look
        self.stage.backdrop(look.sky, look.floor)
        self._ghost.dress(look)
        self._source = None
        self.answered()

    def close(self) -> None:
        """Take everything down."""
        self._building, self._bites = None, []
        self.stage.close()

    # Inside

    def _vehicle(self) -> Vehicle:
        check = self._session.check
        if check is not None:
            return check.derivation.vehicle
        return derive(self._session.document.rig).vehicle

    @property
    def vehicle(self) -> Vehicle:
        """The vehicle as it is shown."""
        return self._vehicle()

    @property
    def _is_new(self) -> bool:
        """Whether what is shown is of another answer, or of another rig."""
        check = self._session.check
        return (self._session.document.rig if check is None else check) is not self._source

    @property
    def _place(self) -> tuple[Pose, float]:
        """Pose of the axle and turn of the shaft."""
        now, motion = self._session.now, self._session.motion
        return (motion.at, motion.spin) if now is None else (now.at, now.spin)

    def _take_frames(self) -> bool:
        """Read where everything is; whether that can be known."""
        now, vehicle = self._session.now, self._vehicle()
        if now is not None and self._session.check is not None:
            state = now.state
        else:
            at = self._session.motion.at
            state = turn(vehicle, at.travel, at.roll, at.wrap, self._session.motion.spin)
            if not bool(state.line.reachable):
                state = turn(vehicle, 0.0, 0.0, 0.0, 0.0)
        if state is None:
            return False
        self.frames, self.line = frames_of(vehicle, state), state.line
        return True

    def _lose(self) -> None:
        """Say that nothing can be where it was sent; what is seen is the last pose there was."""
        self._lost = True
        for marks in self.marks.values():
            marks.clear()
        letters, plate = self.look.letters(SIZE, True), self.look.framed("touches")
        self.stage.words(LOST, "out of reach\nshown: the last pose before it", UP, letters, plate)
        X = np.eye(4)
        X[:3, 3] = self.sight.camera.focus - UP
        self.stage.move(LOST, X)

    def _put_up(self, part: Part) -> None:
        old = self.parts.get(part.name)
        self.parts[part.name] = part
        self._fresh.add(part.name)
        if old is not None and same_pieces(old, part):
            self._move(part)
            self._caption(part)
            return
        self.stage.remove(part.name)
        put_up(self.stage, part.name, part.meshes, part.mount.pose(self.frames), EDGE)
        self._caption(part)
        self.stage.show(part.name, part.whole not in self._hidden)
        self.stage.fade(part.name, self._dense(part))

    def _caption(self, part: Part) -> None:
        if part.caption:
            letters, plate = self.look.letters(SMALL), self.look.plate
            self.stage.words(part.name, part.title, part.middle, letters, plate)

    def _dense(self, part: Part) -> float:
        """How dense a part is drawn: as it was chosen, unless it is looked through."""
        chosen = self._opacity.get(part.whole, part.opacity)
        return min(chosen, FAINT) if self.sight.through and part.name == "housing" else chosen

    def _suit_view(self) -> None:
        """Put the arrow forward where it is seen, and look through what lies before all else."""
        at = self.sight.arrow_at
        X = arrow_on_floor(self._vehicle()) if at is None else at
        end_on = self.sight.view == ALONG  # an arrow says nothing then
        for name, seen in ((ARROW, not end_on), (WORD, not end_on and self.sight.on is None)):
            self.stage.move(name, X)
            self.stage.show(name, seen)
        housing = self.parts.get("housing")
        if housing is not None:
            self.stage.fade(housing.name, self._dense(housing))

    def _take_down(self, name: str) -> None:
        self.stage.remove(name)
        del self.parts[name]

    def _all_there(self) -> None:
        """Everything is built: the first time, look at the whole of it."""
        if not self._framed:
            self._framed = self._session.check is not None
            if self.sight.view:  # unless the user has gone elsewhere meanwhile
                self.look_at(self.sight.view)
        self._pose_marks()
        self.measured()
        self._ghost.pose(*self._place, self.parts, self.frames, self.sight)
        self._announce()
        self._aim()

    def _announce(self) -> None:
        """Say on the shaft that its parts are still to come, or that the answer is old."""
        text = notice(self._session, self._building is not None)
        self.stage.remove(TO_COME)
        if text:
            plate = self.look.edged(self.look.ink)
            letters = self.look.letters(SMALL, True)
            self.stage.words(TO_COME, text, np.zeros(3), letters, plate)
            self._move_words()

    def _move_words(self) -> None:
        if self.line is not None:
            X = np.eye(4)
            X[:3, 3] = 0.5 * (self.line.p_C_output + self.line.p_C_pinion)
            self.stage.move(TO_COME, X)

    def _move(self, part: Part) -> None:
        self.stage.move(part.name, part.mount.pose(self.frames))

    def _pose_marks(self) -> None:
        now = self._session.now
        if now is None or self.line is None or now.state is None:
            return
        vehicle = self._vehicle()
        for joint, marks in self.marks.items():
            if joint in now.joints:
                marks.pose(joint_frame(vehicle, self.line, joint), now.joints[joint])
                marks.face(self.sight)

    def _aim(self) -> None:
        self.stage.aim(self.sight.camera, self.sight.perspective)
        for marks in self.marks.values():
            marks.face(self.sight)
        self._ghost.face(self.sight)
