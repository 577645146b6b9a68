"""The close-up of the joint that strip and map are of, beside the shaft and as live as it is.

Cut open by a plane through the place where it is tightest, and seen square to that plane, so that
nothing can stand before the place.
"""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from sim.check import Check
from sim.line import LineState
from sim.pose import PoseCheck, PosedJoint
from sim.vehicle import Joint, Vehicle
from viewer.draw.camera import Floats, Region
from viewer.draw.stage import Inset, Stage
from viewer.draw.verdict_mark import BLUE, RED
from viewer.live.closeup.eye import Eye
from viewer.live.closeup.labels import Keep, Labels
from viewer.live.closeup.meeting import Meeting, meeting_of
from viewer.live.closeup.metal import NOTHING, cut_open, lay_metal, lay_overlap, overlap_of
from viewer.live.closeup.sheet import (
    Told,
    foot,
    frame_off,
    free,
    measure,
    on_page,
    title,
)
from viewer.live.looks import EDGE, Look
from viewer.scene.figure import put_up
from viewer.scene.joint_bodies import joint_frame
from viewer.scene.marks import touch_dot, touch_ring
from viewer.session.charts.turn_strip import verdict_here
from viewer.session.session import Session
from viewer.session.told.state_words import OLD, is_old
from viewer.words.captions import seen_from, short_length
from viewer.words.now import bend_words

SHARE, SHARE_BELOW, SHARE_OF_TWO = 0.4, 0.5, 0.58
"""Share of the view that the close-up takes: beside the shaft, below it, and below it in one of two
views side by side, which is low."""

NARROW = 0.8
"""Width of the view by its height under which the close-up is below the shaft."""

LOST, BEFORE = "Out of reach", "shown: the last pose before it"
"""What stands where the joint cannot get to."""

SMALL = 0.1
"""Share of the width below which an overlap is ringed."""


NOWHERE = Region(0.0, 0.0, 0.0, 0.0)
"""Where it is while it is folded away."""


NEARER = (0.2, 4.0)
"""How much nearer than by itself the user may go."""


def shared(size: tuple[int, int], below: bool = False) -> tuple[Region, Region]:
    """Where the shaft and where its close-up are shown in a view of that size, px.

    below : whether the close-up is below the shaft however wide the view is.
    """
    width, height = map(float, size)
    if width >= NARROW * height and not below:
        split = round((1.0 - SHARE) * width)
        return Region(0.0, 0.0, split, height), Region(split, 0.0, width - split, height)
    split = round((SHARE_OF_TWO if below else SHARE_BELOW) * height)
    return Region(0.0, split, width, height - split), Region(0.0, 0.0, width, split)


class LiveCloseUp:
    """A joint cut open through its tightest place, on the inset of a stage.

    Attributes
    ----------
    page : the inset. region : its part of the stage, px of that; of no size while it is folded.
    joint : which joint is shown; None before there is an answer, and where what was chosen is none:
        the close-up is folded away then, and the shaft has all the room.
    meeting : where it is tightest; None where that is not known.
    below : whether it is below the shaft however wide the view is.
    folded : whether nothing of it is seen.
    """

    def __init__(self, stage: Stage, session: Session, look: Look) -> None:
        self._stage, self._session, self.look = stage, session, look
        self.eye, self._labels = Eye(), Labels()
        self.joint: Joint | None = None
        self.meeting: Meeting | None = None
        self._check: Check | None = None
        self._now: PoseCheck | None = None
        self._building: Iterator[None] | None = None
        self._up: set[str] = set()
        self._drawn: tuple[Meeting, Told] | None = None
        self.below = self.folded = False
        self.region, self.page = self.lay()

    def lay(self) -> tuple[Region, Inset]:
        """Take its part of the stage, whatever size that has become; where, and the inset there."""
        self._laid = self._stage.size, self._stage.scale
        main, self.region = (None, NOWHERE) if self.folded else shared(self._stage.size, self.below)
        self._stage.keep_to(main)
        self.page = self._stage.inset(None if self.folded else self.region)
        self.page.backdrop(self.look.floor)
        return self.region, self.page

    @property
    def fits(self) -> bool:
        """Whether the stage is still as large, and as dense, as when it was shared."""
        return self._laid == (self._stage.size, self._stage.scale)

    def zoom(self, factor: float) -> None:
        """Go nearer by a factor above 1; the place stays in the middle."""
        self.eye.nearer = float(np.clip(self.eye.nearer * factor, *NEARER))

    def dress(self, look: Look) -> None:
        """Take on another look."""
        self.look = look
        self.page.backdrop(look.floor)

    @property
    def has_work(self) -> bool:
        """Whether bodies are still to be put up."""
        return self._building is not None

    def work(self) -> None:
        """Put up one body."""
        if self._building is not None and next(self._building, self) is self:
            self._building = None

    def show(self, vehicle: Vehicle, line: LineState | None) -> None:
        """Show the joint as it stands now."""
        session = self._session
        now, check, joint = session.now, session.check, session.closeup_joint
        if check is not self._check or joint != self.joint:
            self._check, self.joint = check, joint
            self.meeting = None
            self.eye.forget()
            for name in self._up:
                self.page.remove(name)
            self._up, self._building, self._drawn = set(), None, None
        if self.folded != (joint is None):
            self.folded = joint is None
            self.lay()
        if joint is None:
            return
        self.page.grey(is_old(session))
        if now is None or check is None or line is None:
            self._say("The close-up comes with the answer.")
            return
        if not now.reached or joint not in now.joints:
            self._lose()
            return
        # The same pose again looks the same again, however often it is shown.
        if self.meeting is None or now is not self._now:
            frame = joint_frame(vehicle, line, joint)
            last = self.meeting
            before = None if last is None else last.spot.at + frame.centre - last.frame.centre
            self.meeting = meeting_of(frame, now.joints[joint], before)
            self.eye.turn(self.meeting)
            self._now = now
        if not self._up:
            self._building = self._put_up(self.meeting)
        self._draw(self.meeting, self._told(self.meeting, now.joints[joint]))

    def suit_scale(self) -> bool:
        """Take on the scale of a picture beside; whether anything was drawn anew for that."""
        eye = self.eye
        if self._drawn is None or eye.per_px == eye.shared_per_px:
            return False
        self._draw(*self._drawn)
        return True

    def _put_up(self, meeting: Meeting) -> Iterator[None]:
        self._up = set(meeting.bodies)
        for name, body in meeting.bodies.items():
            pieces = [(part.mesh, part.paint) for part in body.shown()]
            now = self.meeting
            X = body.X_CP if now is None else now.bodies[name].X_CP
            put_up(self.page, name, pieces, X, EDGE)
            yield

    def _say(self, text: str) -> None:
        """Nothing can be shown: say why."""
        self._drawn = None
        self.page.wipe()
        title(self.page, Told(self._title, text), self.look)
        frame_off(self.page, self.look)

    def _lose(self) -> None:
        """The joint cannot be where it was sent: show the last pose there was, in gray."""
        if self.meeting is None:
            self._say(LOST)
            return
        self.page.grey(True)
        names = self._names(self.meeting)
        told = Told(self._title, LOST, more=BEFORE, names=names)
        self._draw(self.meeting, told)

    @property
    def _title(self) -> str:
        text = f"{self._session.strip_joint} joint, cut open where it is tightest"
        return f"{OLD}: {text}" if is_old(self._session) else text.capitalize()

    def _draw(self, meeting: Meeting, told: Told) -> None:
        self._drawn = meeting, told
        page, room = self.page, free(self.page.region)
        page.wipe()
        found = meeting.measured(self.eye.toward)
        camera = self.eye.camera(meeting, found.at, found.extent, page.region, room)
        page.aim(camera)
        for name, body in meeting.bodies.items():
            page.move(name, body.X_CP)
        cut, overlaps = cut_open(meeting, camera, page.region), meeting.gap.overlaps
        lay_metal(page, cut)
        rim = overlap_of(cut) if overlaps else NOTHING
        lay_overlap(page, cut, rim)
        place = on_page(camera, found.at, page)
        marks = np.concatenate([rim, place[None, None].repeat(2, axis=1)])
        lines, boxes = NOTHING, []
        if len(rim) and _extent(rim) < 0.5 * page.region.width:
            corners = rim.reshape(-1, 2)
            boxes.append(Region.between(corners.min(axis=0), corners.max(axis=0)))
        touches = told.verdict == "touches"
        if touches and not overlaps:
            found = replace(found, ends=None)  # nothing to measure
            touch_dot(page, place)
        if found.ends is not None:
            lines = measure(page, on_page(camera, found.ends, page), overlaps)
            marks = np.concatenate([marks, lines])
        if touches and _extent(rim) < SMALL * page.region.width:
            radius = 0.5 * SMALL * page.region.width
            touch_ring(page, place, radius)
            boxes.append(Region.around(place, radius))
        self._labels.name(page, cut, meeting.pair, told, place, Keep(lines, tuple(boxes)))
        if found.size is not None:
            self._labels.number(page, marks, short_length(found.size), RED if overlaps else BLUE)
        title(page, told, self.look)
        foot(page, told, self.look, camera.px_per_mm(page.region))
        frame_off(page, self.look)

    def _told(self, meeting: Meeting, now: PosedJoint) -> Told:
        says, room = "Gap", short_length(meeting.gap.distance)
        verdict = verdict_here(now, meeting.gap)
        if meeting.gap.overlaps:
            size = meeting.measured(self.eye.toward).size
            says, room = "Metal in metal", "" if size is None else f"{short_length(size)} deep"
        elif verdict == "touches":
            says, room = "Metal touches", ""
        whole = self._session.now
        if whole is not None and verdict != whole.verdict:
            # What is said of the pose is of any turn of the shaft: no contradiction then.
            says = f"{says} at this turn"
        seen = seen_from(self.eye.toward.tolist())
        names = self._names(meeting)
        return Told(self._title, says, room, bend_words(now), verdict, seen, names)

    @staticmethod
    def _names(meeting: Meeting) -> tuple[tuple[str, str], ...]:
        """The surface of each that meets, and whose it is."""
        pairs = zip(meeting.gap.surfaces, meeting.names, strict=True)
        return tuple((surface, f"of the {body}") for surface, body in pairs)


def _extent(rim: Floats) -> float:
    """How far an outline reaches, px."""
    return float(np.ptp(rim.reshape(-1, 2), axis=0).max()) if len(rim) else 0.0
