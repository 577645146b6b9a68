"""The live scene: what a session knows, said to a stage. Parts are built once and then moved."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from psygnal import Signal

from sim.check import Check
from sim.derive import derive
from sim.line import LineState, turn
from sim.pose import PoseCheck
from sim.rig import Rig
from sim.vehicle import Joint, Vehicle
from viewer.draw.camera import Floats
from viewer.draw.stage import Stage
from viewer.live.bodies import Bodies
from viewer.live.closeup.closeup import LiveCloseUp
from viewer.live.eye import panned, zoomed
from viewer.live.floor import ARROW, WORD, arrow_on_floor, lay_floor
from viewer.live.ghost import Ghost
from viewer.live.looks import LIGHT, Look
from viewer.live.marks import JointMarks
from viewer.live.near_marks import NearMarks, chosen_thing
from viewer.live.notices import Notices
from viewer.live.preview import preview_parts
from viewer.live.sight import ALONG, FRONT, NEAR, REAR, SLIP, TOWARD, WHOLE, Sight, points_of
from viewer.live.slip_marks import SlipMarks
from viewer.scene.joint_bodies import joint_frame
from viewer.scene.kept_parts import parts_of
from viewer.scene.mount import Frames, frames_of
from viewer.scene.part import Part
from viewer.scene.shaft_parts import tube_size
from viewer.scene.slip_place import slip_place
from viewer.session.session import Session


class LiveScene:
    """A session on a stage.

    The owner calls `answered`, `posed` and `measured` when the session says so, does `work` while
    there is some, and then lets the stage draw.

    Attributes
    ----------
    leads : whether the eye goes along with what moves here; not where it is that of another scene.
    has_ghost : whether the version put aside is seen as a thin shape.

    Signals
    -------
    aimed : it is looked at from elsewhere.
    """

    aimed = Signal()

    def __init__(self, stage: Stage, session: Session, look: Look = LIGHT) -> None:
        self.stage, self._session, self.look = stage, session, look
        self.bodies = Bodies(stage)
        self.marks: dict[Joint, JointMarks] = {}
        self.slip: SlipMarks | None = None
        self.near = NearMarks(stage, look)
        self.frames: Frames = {}
        self.line: LineState | None = None
        self.sight = Sight()
        self._ghost, self._notices = Ghost(stage, look), Notices(stage, session)
        self._source: Check | Rig | None = None
        self._thing = ""
        self._building: Iterator[Part] | None = None
        self._bites: list[Joint] = []
        self._framed = False
        self.leads = self.has_ghost = True
        self._beside: LiveScene | None = None
        stage.backdrop(look.sky, look.floor)
        self.closeup = LiveCloseUp(stage, session, look)
        self.answered()

    # What the session says

    def answered(self) -> None:
        """There may be another answer, or another rig and no answer yet."""
        if not self._is_new:
            self._announce()
            self._show_closeup()
            return
        check, rig = self._session.check, self._session.document.rig
        self._source = rig if check is None else check
        vehicle = self.vehicle
        self._clear_marks()
        self.marks, self._bites, self.slip = {}, [], None
        self.bodies.begin()
        self.choose("")
        if check is None:
            self._building = preview_parts(rig, vehicle)
        else:
            self._building = parts_of(check)
            for name, joint in check.joints.items():
                self.marks[name] = JointMarks(self.stage, name, joint.hardware, self.look)
            hardware = {name: joint.hardware for name, joint in check.joints.items()}
            place = slip_place(vehicle, hardware, tube_size(check.rig))
            self.slip = SlipMarks(self.stage, place, self.look)
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
            self._show_closeup()
            return
        self._notices.find()
        self.bodies.move(self.frames)
        self._pose_marks()
        if self.slip is not None and self.slip.frame is not None:
            self.frames = {**self.frames, SLIP: self.slip.frame}
        self._pose_ghost()
        self._show_closeup()
        if self.leads and self.sight.follow(before, self.frames):
            self._aim()

    def measured(self) -> bool:
        """Gaps of this pose, or of its strip, have become known; whether that is seen here."""
        now = self._session.now
        if now is None:
            return False
        changed = self._session.closeup_joint != self.closeup.joint
        if changed:
            self._show_closeup()
        if self._thing != chosen_thing(self._session.finding):
            changed = True
            self._pose_near(now)
        for joint, marks in self.marks.items():
            gap = self._session.gaps.get(joint)
            if gap is not None and gap is not marks.gap and joint in now.joints:
                marks.measured(gap, now.joints[joint])
                marks.face(self.sight)
                changed = True
                if marks.wants_bite and joint not in self._bites:
                    self._bites.append(joint)
        return changed

    def opened(self) -> None:
        """Another rig altogether: forget what was hidden, and look at the whole of it."""
        self._framed = False
        self.bodies.forget()
        self.sight = Sight()
        self._source = None
        self._ghost.show(None)

    def compared(self) -> None:
        """Another version was put aside, or none."""
        other = self._session.other
        self._ghost.show(None if other is None or not self.has_ghost else other.check)

    # Work between events

    @property
    def has_work(self) -> bool:
        """Whether `work` has something to do."""
        return (
            self._building is not None
            or bool(self._bites)
            or self._ghost.has_work
            or self.closeup.has_work
        )

    def work(self) -> bool:
        """Do one short piece: build a part, or find the metal that would have to give."""
        if self.closeup.has_work:
            self.closeup.work()
        elif self._building is not None:
            part = next(self._building, None)
            if part is not None:
                self.bodies.put_up(part, self.frames, self.look)
            else:
                self._building = None
                self.bodies.all_there()
                self._all_there()
        elif self._bites:
            marks = self.marks.get(self._bites.pop(0))
            if marks is not None:
                marks.bite()
                marks.face(self.sight)
        elif self._ghost.has_work:
            self._ghost.work()
            self._pose_ghost()
        return self.has_work

    # What the user does

    def choose(self, name: str) -> None:
        """Point out one part; "" for none."""
        self.bodies.choose(name, self.frames, self.look)

    def look_at(self, view: str) -> None:
        """Look from one of `sight.views`, or NEAR; at the whole where nothing is near."""
        if self.line is None:
            return
        vehicle = self.vehicle
        for joint in vehicle.joints:
            if joint == view:
                frame = joint_frame(vehicle, self.line, joint)
                marks = self.marks.get(joint)
                tight = () if marks is None else (marks.reach, marks.telling_side(), marks.spot)
                self.sight.look_at_joint(joint, frame, *tight)
                self._take_in_both()
        if view == SLIP and self.slip is not None and self.slip.frame is not None:
            self.sight.look_at_slip(self.slip.ends, self.slip.thick, self.stage.region)
        if view == NEAR:
            found = self.near.seen_from(self._thing)
            if found is None:
                view = WHOLE if self.leads else view
            else:
                self.sight.look_near(*found, tube_size(self._session.document.rig)[0])
        if view in TOWARD:
            parts, building = self.bodies.parts.values(), self._building is not None
            points = points_of(parts, self.frames, building, view)
            self.sight.look(view, points, self.line, self.stage.region)
        self._suit_view()
        self._aim()

    def see_with(self, other: "LiveScene") -> None:
        """Look with the eye of another scene from now on, which leads it, at what both show."""
        self.sight, self.leads = other.sight, False
        self._beside, other._beside = other, self
        for scene in (self, other):
            scene.closeup.below = True  # beside each other there is no room for more beside
        self.closeup.eye.beside, other.closeup.eye.beside = other.closeup.eye, self.closeup.eye
        for scene in (self, other):
            scene.lay()
        other._take_in_both()
        other._aim()
        self.aim_again()

    def see_alone(self) -> None:
        """Look at what is here alone from now on."""
        if self._beside is not None:
            self._beside.closeup.eye.beside = None
        self._beside, self.closeup.below, self.closeup.eye.beside = None, False, None
        self.lay()
        if self.sight.on is not None:
            self.look_at(self.sight.on)

    def _take_in_both(self) -> None:
        """Look at the middle between a joint here and the same beside, from as far as both need."""
        on, other = self.sight.on, self._beside
        if other is None or self.line is None or other.line is None:
            return
        if on not in self.vehicle.joints or on not in other.vehicle.joints:
            return
        lines = (self.vehicle, self.line), (other.vehicle, other.line)
        here, there = (joint_frame(vehicle, line, on).centre for vehicle, line in lines)
        camera, apart = self.sight.camera, there - here
        across = float(np.linalg.norm(camera.R_VC[:2] @ apart))
        focus, span = camera.focus + 0.5 * apart, camera.span + across
        self.sight.camera = replace(camera, focus=focus, span=span)

    def aim_again(self) -> None:
        """Look as the eye says, which was moved elsewhere."""
        self._suit_view()
        self._turn_eye()

    def orbit(self, right: float, up: float) -> None:
        """Go round what is looked at, rad."""
        self.sight.orbit(right, up)
        self._suit_view()
        self._aim()

    def pan(self, right: float, up: float) -> None:
        """Move what is seen, in shares of the height of the view."""
        self.sight.camera = panned(self.sight.camera, right, up)
        self._aim()

    def zoom(self, factor: float, about: Floats | None = None) -> None:
        """Go nearer by a factor above 1."""
        self.sight.camera = zoomed(self.sight.camera, factor, about)
        self._aim()

    def zoom_closeup(self, factor: float) -> None:
        """Go nearer in the close-up by a factor above 1."""
        self.closeup.zoom(factor)
        if self._beside is not None:
            self._beside.closeup.zoom(factor)
        self._show_closeup()

    def lay(self) -> None:
        """The stage has another size: share it anew between the shaft and its close-up."""
        self.closeup.lay()
        self._show_closeup()

    def dress(self, look: Look) -> None:
        """Take on another look."""
        if look is self.look:
            return
        self.look = look
        self.stage.backdrop(look.sky, look.floor)
        self._ghost.dress(look)
        self.near.clear()
        self.near = NearMarks(self.stage, look)
        self.closeup.dress(look)
        self._source = None
        self.answered()

    def close(self) -> None:
        """Take everything down."""
        self._building, self._bites = None, []
        self.stage.close()

    # Inside

    @property
    def vehicle(self) -> Vehicle:
        """The vehicle as it is shown."""
        check = self._session.check
        return (
            derive(self._session.document.rig).vehicle
            if check is None
            else check.derivation.vehicle
        )

    @property
    def _is_new(self) -> bool:
        """Whether what is shown is of another answer, or of another rig."""
        check = self._session.check
        return (self._session.document.rig if check is None else check) is not self._source

    def _show_closeup(self) -> None:
        self.closeup.show(self.vehicle, self.line)
        if self._beside is not None and self._beside.closeup.suit_scale():
            self.aimed.emit()  # what is beside is to be seen anew

    def _take_frames(self) -> bool:
        """Read where everything is; whether that can be known."""
        now, vehicle = self._session.now, self.vehicle
        if now is not None and self._session.check is not None:
            if not now.reached:
                return False
            state = now.state
        else:
            at = self._session.motion.at
            state = turn(vehicle, at.travel, at.roll, at.wrap, self._session.motion.spin)
            if not bool(state.line.reachable):
                state = turn(vehicle, 0.0, 0.0, 0.0, 0.0)
        self.frames, self.line = frames_of(vehicle, state), state.line
        return True

    def _lose(self) -> None:
        """Nothing can be where it was sent."""
        self._clear_marks()
        self._notices.lose(self.look, self.sight.camera)

    def _clear_marks(self) -> None:
        for marks in self.marks.values():
            marks.clear()
        if self.slip is not None:
            self.slip.clear()
        self.near.clear()

    def _suit_view(self) -> None:
        """Put the arrow forward where it is seen, and look through what lies before all else."""
        at = self.sight.arrow_at
        X = arrow_on_floor(self.vehicle) if at is None else at
        # Seen end on an arrow says nothing, and close on something it is cut off.
        is_close = self.sight.on is not None or self.sight.view == NEAR
        seen = not is_close and self.sight.view not in (ALONG, FRONT, REAR)
        for name in (ARROW, WORD):
            self.stage.move(name, X)
            self.stage.show(name, seen)
        before = "case" if self.sight.on == SLIP else "housing"
        self.bodies.look_through(before if self.sight.through else "")

    def _all_there(self) -> None:
        """Everything is built: the first time, look at the whole of it."""
        if not self._framed:
            self._framed = self._session.check is not None
            if self.sight.view and self.leads:  # unless the user has gone elsewhere meanwhile
                self.look_at(self.sight.view)
        self._pose_marks()
        self.measured()
        self._pose_ghost()
        self._announce()
        self._aim()

    def _announce(self) -> None:
        self._notices.announce(self._building is not None, self.look, self.sight.camera)

    def _pose_ghost(self) -> None:
        now, motion = self._session.now, self._session.motion
        at, spin = (motion.at, motion.spin) if now is None else (now.at, now.spin)
        self._ghost.pose(at, spin, self.bodies.parts, self.frames, self.sight)

    def _pose_marks(self) -> None:
        now = self._session.now
        if now is None or self.line is None or not now.reached:
            return
        vehicle = self.vehicle
        for joint, marks in self.marks.items():
            if joint in now.joints:
                marks.pose(joint_frame(vehicle, self.line, joint), now.joints[joint])
                marks.face(self.sight)
        if self.slip is not None:
            self.slip.pose(self.frames, now)
            self.slip.face(self.sight)
        self._pose_near(now)

    def _pose_near(self, now: PoseCheck) -> None:
        self._thing = chosen_thing(self._session.finding)
        if now.reached:
            self.near.pose(self.frames, now, self._thing)
            self.near.face(self.sight)

    def _aim(self) -> None:
        self._turn_eye()
        self.aimed.emit()

    def _turn_eye(self) -> None:
        self.stage.aim(self.sight.camera, self.sight.perspective)
        for marks in self.marks.values():
            marks.face(self.sight)
        if self.slip is not None:
            self.slip.face(self.sight)
        self.near.face(self.sight)
        self._notices.face(self.sight.camera)
        self._ghost.face(self.sight)
