"""Everything a window shows, without a window: the rig, the pose, the answer, all together."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from math import inf, radians
from typing import Any

from psygnal import Signal

from geometry.contact.gap import Gap
from geometry.tolerances import TOL
from sim.bars.give_or_take import PoseOff
from sim.check import Check
from sim.derive import derive
from sim.findings import Finding
from sim.front_section import JOINTS
from sim.pose import PoseCheck, pose_of
from sim.vehicle import Joint
from viewer.pose.off import posed_off
from viewer.session.charts.travel_map import HEIGHTS, WRAPS, Layer, TravelMap, travel_map
from viewer.session.charts.turn_strip import StripWork, TurnStrip
from viewer.session.cures.lines import CureList
from viewer.session.moving.bind import BindDrive, bind_drives, still_turn
from viewer.session.moving.drives import DRIVES, Drive
from viewer.session.moving.left_out import left_out
from viewer.session.moving.motion import Motion
from viewer.session.text.document import Document
from viewer.session.work.asking import Asking
from viewer.session.work.first_said import FirstSaid
from viewer.session.work.sure_said import SureSaid
from viewer.session.work.worker import Worker
from viewer.vibration.asked import Asked
from viewer.vibration.told import Answer

COARSE = (33, 17)
"""Columns and rows of a travel map while a drive plays and the roll changes at every step."""


@dataclass(frozen=True)
class Version:
    """A version of the rig put aside to compare with: its text and its answer."""

    name: str
    text: str
    check: Check


class Session:
    """One rig being worked on.

    Attributes
    ----------
    now, gaps : the pose that is shown, and its gaps as far as they are known. off : how far off
        it may be; that of the last pose until it is known.

    Signals
    -------
    rig_changed : the rig, or the text of it, is another one.
    answered : there is a new answer, or the old one became stale.
    posed : `now` is another one.
    measured : `gaps` or the strip know more.
    chose : something was chosen to look at, be it what was looked at before.
    mapped : `map` is another one.
    compared : the version put aside is another one.
    opened : the whole document is another one; nothing else is said of it then.
    """

    rig_changed = Signal()
    answered = Signal()
    posed = Signal()
    measured = Signal()
    chose = Signal()
    mapped = Signal()
    compared = Signal()
    opened = Signal()

    def __init__(self, document: Document, worker: Worker) -> None:
        self.answers: Asking[Check] = Asking(worker)
        self.answers.changed.connect(self._on_answer)
        self.cures: Asking[CureList] = Asking(lambda: worker.other("cures"))
        self.without: tuple[str, ...] = ()
        """Codes of the remedies that are ruled out, in the order in which they were."""
        self.ticket: Asking[str] = Asking(lambda: worker.other("ticket"))
        self.first = FirstSaid(lambda: worker.other("turning"))
        self.sure = SureSaid(lambda: worker.other("sure"), lambda: worker.other("surest"))
        self.sure.changed.connect(self._on_sure)
        self.cures.changed.connect(self._on_cures)
        self.shake: Asking[Answer] = Asking(lambda: worker.other("shake"))
        self.worker_for = worker.other
        """A worker for another task, of whoever asks for it."""
        self.now: PoseCheck | None = None
        self.gaps: dict[Joint, Gap] = {}
        self.off: PoseOff | None = None
        self.map: TravelMap | None = None
        self.other: Version | None = None
        self.chosen: Layer = "worst"
        """What strip, map, close-up and eye are of: a joint, the slip, or the worst of all."""
        self.finding: Finding | None = None
        """The finding that chose it; None where somebody chose it otherwise."""
        self._strip: StripWork | None = None
        self._due: set[str] = set()
        self._to_measure: list[Joint] = []
        self._answered_text: str | None = None
        self._is_opening = False
        self._binds: tuple[Check, tuple[BindDrive, ...]] | None = None
        self._left_out: tuple[object, str] | None = None
        vehicle = derive(document.rig).vehicle
        self.motion = Motion(vehicle.travel, vehicle.front)
        self.motion.still = partial(still_turn, vehicle)
        self.motion.moved.connect(self._pose)
        self.motion.played.connect(self._on_played)
        self._use(document)

    def _use(self, document: Document) -> None:
        self.document = document
        document.changed.connect(self._on_document)
        document.rewritten.connect(self._on_rewritten)
        self._on_document()

    def open(self, document: Document) -> None:
        """Work on another document; the caller has asked about unsaved changes."""
        self.document.changed.disconnect(self._on_document)
        self.document.rewritten.disconnect(self._on_rewritten)
        vehicle = derive(document.rig).vehicle
        self.motion.begin(vehicle.travel, vehicle.front)
        self.motion.still = partial(still_turn, vehicle)
        self.answers.answer, self.now, self.map, self._strip = None, None, None, None
        self.gaps, self.other, self.chosen, self.finding = {}, None, "worst", None
        self.off = None
        self.cures.forget()
        self.ticket.forget()
        self.first.forget()
        self.sure.forget()
        self.shake.forget()
        self._is_opening = True  # who hears `opened` shows everything anew: once is enough
        try:
            self._use(document)
        finally:
            self._is_opening = False
        self.opened.emit()

    @property
    def check(self) -> Check | None:
        """The last answer, which may be stale."""
        return self.answers.answer

    @property
    def strip_joint(self) -> Joint:
        """The joint of strip and close-up: the one that was chosen, else the rig's tightest."""
        check = self.check
        there: tuple[Joint, ...] = JOINTS if check is None else tuple(check.joints)
        tightest: Joint = "pinion" if check is None else check.tightest
        return next((joint for joint in there if joint == self.chosen), tightest)

    @property
    def closeup_joint(self) -> Joint | None:
        """The joint that the close-up is of, as the strip; None where what was chosen is none."""
        is_other = self.chosen == "slip" or (self.chosen == "worst" and self.finding is not None)
        return None if is_other else self.strip_joint

    @property
    def strip(self) -> TurnStrip | None:
        """The turn strip of `strip_joint` as far as it is known."""
        return self._strip.strip if self._strip is not None else None

    def choose(self, what: Layer, finding: Finding | None = None) -> None:
        """Choose what to look at, everywhere: a joint, the slip, or the worst of all."""
        self.chosen, self.finding = what, finding
        if self._strip is None or self._strip.strip.joint != self.strip_joint:
            self._begin_strip()
        self.measured.emit()
        self.chose.emit()

    def go_to(self, finding: Finding) -> None:
        """Bring what a finding is about: its worst pose, the turn where it meets, and the look."""
        self.motion.stop()
        what = about(finding)
        self.chosen, self.finding = what, finding
        if finding.at is not None:
            spin = finding.detail.get("spin_deg")
            self.motion.go_to(finding.at, None if spin is None else radians(float(spin)))
        now = self.now
        if now is not None and what in now.joints:
            self.turn_to_tightest(self.strip_joint)
            self.measure(self.strip_joint)  # so that the eye knows at once where to look from
        self.choose(what, finding)

    @property
    def binds(self) -> tuple[BindDrive, ...]:
        """A drive to each finding of the last answer, the worst first; none while it is stale."""
        if self.check is None or self.answers.state != "fresh":
            return ()
        if self._binds is None or self._binds[0] is not self.check:
            self._binds = self.check, bind_drives(self.check)
        return self._binds[1]

    @property
    def drives(self) -> tuple[Drive, ...]:
        """All that can be played: to each finding, the worst first, then those of the road."""
        return *(bind for bind in self.binds if bind.shows), *DRIVES.values()

    def left_out(self, drive: Drive) -> str:
        """What of all that stops the shaft a drive leaves out, in a line; "" for nothing."""
        if not self.binds:
            return ""
        key = (self.check, drive, self.motion.at if drive.stays else None)
        if self._left_out is None or self._left_out[0] != key:
            self._left_out = key, left_out(drive, self.binds, self.motion)
        return self._left_out[1]

    def show_me(self, finding: Finding | None = None) -> None:
        """Play the drive to a finding, or to the worst there is, and choose what it is about.

        Nothing is played while there is no fresh answer, or for a finding of another one.
        """
        for drive in self.binds:
            asked = drive.finding if finding is None else finding
            if (drive.finding.code, drive.finding.subject) == (asked.code, asked.subject):
                self.motion.play(drive)
                self.choose(about(drive.finding), drive.finding)
                return

    def turn_to_tightest(self, joint: Joint | None = None) -> None:
        """Turn the shaft to where a joint, or the tightest of this pose, has the least left."""
        now, check = self.now, self.check
        if now is None or check is None or now.tightest is None:
            return
        work = StripWork(check, joint or now.tightest, now.at, spins=360)
        self.motion.go(spin=work.strip.tightest.spin)

    def put_aside(self, name: str = "before") -> None:
        """Keep this version to compare with what comes after."""
        if self.check is not None and self._answered_text is not None:
            self.other = Version(name, self._answered_text, self.check)
            self.compared.emit()

    def swap(self) -> None:
        """Go on with the version put aside and put this one aside; undo takes it back."""
        if self.other is None:
            return
        other = self.other
        self.put_aside(other.name)
        self.document.replace(other.text, "back to the version put aside")

    def compare_with(self, version: Version | None) -> None:
        """Compare with another version, or with none any more."""
        self.other = version
        self.compared.emit()

    def drop_other(self) -> None:
        """Compare no more."""
        self.compare_with(None)

    def measure(self, joint: Joint) -> None:
        """Find the gap of a joint in this pose at once."""
        if joint in self._to_measure and self.now is not None:
            self._to_measure.remove(joint)
            if self.now.joints[joint].bend <= TOL.bend_limit:
                self.gaps[joint] = self.now.joints[joint].gap
            self.measured.emit()

    @property
    def has_work(self) -> bool:
        """Whether `idle` has something to do."""
        return bool(self._due or self._to_measure)

    def tick(self) -> None:
        """Take in what the worker said; called a few dozen times a second."""
        for each in (self.answers, self.cures, self.ticket, self.shake):
            each.poll()
        self.first.poll()
        self.sure.poll()

    def idle(self) -> bool:
        """Do one short piece of the exact work; whether there is more. Called between events."""
        check, now = self.check, self.now
        if check is None or now is None:
            self._due.clear()
            self._to_measure.clear()
            return False
        if "map" in self._due:
            self._due.discard("map")
            size = COARSE if self.motion.playing else (HEIGHTS, WRAPS)
            self.map = travel_map(check, now.at.roll, *size)
            self.mapped.emit()
        elif "first page" in self._due:
            self._due.discard("first page")
            self.first.look()
        elif self._to_measure:
            self.measure(self._to_measure[0])
        elif "strip gaps" in self._due:
            if self._strip is None or not self._strip.run():
                self._due.discard("strip gaps")
            self.measured.emit()
        elif "how sure" in self._due:
            self._due.discard("how sure")
            self.off = posed_off(now, self.sure.sure.doubts)
            self.measured.emit()
        return self.has_work

    def ask_again(self) -> None:
        """Compute the answer to the rig as it stands, after it was stopped or failed."""
        document = self.document
        if document.is_right:
            self._asked_text = document.text
            self.answers.ask(document.order())

    def look_for(self, asking: Asking[Any]) -> None:
        """Ask for the cures or the ticket of the rig as it stands, if it is right."""
        document = self.document
        if document.is_right:
            asking.ask(document.order(self.without if asking is self.cures else ()))

    def ask_of_shake(self, asked: Asked) -> None:
        """Ask what a shake of the rig as it stands most likely is, if the rig is right."""
        if self.document.is_right:
            self.shake.ask(replace(self.document.order(), shake=asked))

    def rule_out(self, remedy: str, out: bool) -> None:
        """Have a remedy, by its code, tried no more, or again; the list there is stays as it is."""
        others = [code for code in self.without if code != remedy]
        self.without = (*others, remedy) if out else tuple(others)
        self.cures.changed.emit()

    def try_cure(self, place: int) -> None:
        """Go on with the rig that one of the cures makes; undo takes it back.

        What it was before any cure is put aside, to compare with. Raises IndexError for a place
        that is not in the list.
        """
        found = self.cures.answer
        if found is None:
            return
        if self.document.text == found.text and self.answers.state == "fresh":
            self.put_aside("before the cure")
        self.document.replace(found.cures[place].text, f"cure {place + 1}")

    def try_mend(self, text: str) -> None:
        """Go on with the rig that a cure of a shake makes; undo takes it back.

        What it was before is put aside, to compare with.
        """
        if self.answers.state == "fresh":
            self.put_aside("before the cure")
        self.document.replace(text, "cure of a shake")

    def close(self) -> None:
        """Let the workers go."""
        for each in (self.answers, self.cures, self.ticket, self.shake):
            each.close()
        self.first.close()
        self.sure.close()

    def now_left(self, joint: Joint) -> float:
        """Bend (rad) left at a joint in this pose, at its tightest spin; inf where not known."""
        if self.now is None or joint not in self.now.joints:
            return inf
        return self.now.joints[joint].left

    def _on_document(self) -> None:
        document = self.document
        for each in (self.cures, self.ticket, self.shake):
            each.cancel()
        self.first.stop()
        self.sure.stop()
        self.motion.said = ""  # a drive told of the rig as it was
        if document.is_right:
            vehicle = derive(document.rig).vehicle
            self.motion.front, self.motion.still = vehicle.front, partial(still_turn, vehicle)
            self.motion.bound(vehicle.travel)
            self.ask_again()
        else:
            self.answers.mark_stale()
        if not self._is_opening:
            self.rig_changed.emit()

    def _on_rewritten(self, put: Callable[[str], str]) -> None:
        if self.other is not None:
            self.other = replace(self.other, text=put(self.other.text))

    def _on_answer(self) -> None:
        if self.answers.state == "fresh":
            self._answered_text = self._asked_text
            self._due |= {"map", "first page"}
            self.motion.said = ""
            if self.check is not None:
                self.first.begin(self.check, self.document.order())
                self.sure.begin(self.check, self.document.order())
            self._pose()
        if isinstance(self.motion.drive, BindDrive) and self.motion.drive not in self.binds:
            self.motion.stop()
        if not self._is_opening:
            self.answered.emit()

    def _on_sure(self) -> None:
        self._due |= {"how sure"}
        self.measured.emit()  # wakes whoever calls `idle`

    def _on_cures(self) -> None:
        if self.cures.state == "fresh":
            self.first.look()

    def _on_played(self) -> None:
        if self.motion.stands and self.finding is not None:
            self.measure(self.strip_joint)
            self.choose(self.chosen, self.finding)  # the eye goes round to where it is seen best
        if not self.motion.playing:
            is_coarse = self.map is not None and self.map.travel.size < HEIGHTS
            self._due |= {"map", "how sure"} if is_coarse else {"how sure"}
            self.measured.emit()  # wakes whoever calls `idle`

    def _pose(self) -> None:
        if self.check is None:
            return
        before = self.now
        self.now = pose_of(self.check, self.motion.at, self.motion.spin)
        self.gaps = {}
        self._to_measure = sorted(self.now.joints, key=self.now_left)
        self._due |= set() if self.motion.playing else {"how sure"}
        if before is None or before.at != self.now.at or self._strip_is_of_another_answer:
            self._begin_strip()
        if self.map is None or self.map.roll != self.now.at.roll:
            self._due |= {"map"}
        self.posed.emit()

    @property
    def _strip_is_of_another_answer(self) -> bool:
        return self._strip is None or self._strip.check is not self.check

    def _begin_strip(self) -> None:
        """Begin the strip of this pose: the bend left is known at once, its gaps come later."""
        check, now = self.check, self.now
        self._strip = None
        self._due.discard("strip gaps")
        if check is None or now is None or not now.reached:
            return
        self._strip = StripWork(check, self.strip_joint, now.at)
        self._due |= {"strip gaps"}


def about(finding: Finding) -> Layer:
    """What a finding is about: a joint, the slip, or neither, as what lives near the shaft."""
    if finding.subject == "slip":
        return "slip"
    named = finding.detail.get("joint", finding.subject)
    return next((joint for joint in JOINTS if joint == named), "worst")
