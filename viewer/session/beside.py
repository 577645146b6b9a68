"""The version put aside, alive beside the rig being worked on: both in one pose, turned alike."""

from sim.vehicle import Pose
from viewer.session.moving.motion import Motion
from viewer.session.session import Session, Version
from viewer.session.text.document import Document
from viewer.session.work.known import Known
from viewer.words.poses import pose_words

SAME = 0.4, 1e-3, 1e-3
"""mm and rad: poses closer than that read as one."""


class Beside:
    """Two sessions that move together, each as far as its own axle goes.

    It moves as one `Motion` does, over all that either of them can reach.

    Attributes
    ----------
    before : a session on the version put aside; it is only looked at.
    """

    def __init__(self, session: Session, version: Version, at: Pose, spin: float) -> None:
        """Begin with both in a pose (mm, rad), or as near to it as each can be."""
        self.session = session
        self.before = Session(Document.of(version.check.rig), Known(version.check))
        self.before.tick()
        self._motions = self.before.motion, session.motion
        self._is_led = False
        self.go(travel=at.travel, roll=at.roll, wrap=at.wrap, spin=spin)
        session.motion.moved.connect(self._on_now)
        self.before.motion.moved.connect(self._on_before)

    def close(self) -> None:
        """Let go of both."""
        self.session.motion.moved.disconnect(self._on_now, missing_ok=True)
        self.before.motion.moved.disconnect(self._on_before, missing_ok=True)
        self.before.motion.stop()
        self.before.close()

    def bounds(self, axis: str) -> tuple[float, float]:
        """Least and most of one axis in either of them, mm or rad."""
        lows, highs = zip(*(motion.bounds(axis) for motion in self._motions), strict=True)
        return min(lows), max(highs)

    def value(self, axis: str) -> float:
        """Where one axis is, mm or rad: where it was sent, if either can be there."""
        if axis == "spin":
            return self.session.motion.spin
        return max((motion.value(axis) for motion in self._motions), key=abs)

    def go(self, **values: float) -> None:
        """Move some axes (mm, rad) of both."""
        self._lead(*self._motions, values=values)

    def stop(self) -> None:
        """End whatever drives either of them."""
        for motion in self._motions:
            motion.stop()

    def go_home(self) -> None:
        """Put both at ride height, level and unwrapped."""
        self.stop()
        self.go(travel=0.0, roll=0.0, wrap=0.0)

    @property
    def apart(self) -> tuple[str, str] | None:
        """Both poses in words, before and now, where one of them cannot follow; None if alike."""
        one, other = (motion.at for motion in self._motions)
        pairs = zip(SAME, _numbers(one), _numbers(other), strict=True)
        if all(abs(a - b) < same for same, a, b in pairs):
            return None
        return pose_words(one), pose_words(other)

    def _on_now(self) -> None:
        self._follow(self.session.motion, self.before.motion)

    def _on_before(self) -> None:
        self._follow(self.before.motion, self.session.motion)

    def _follow(self, leader: Motion, led: Motion) -> None:
        if not self._is_led:
            at = leader.at
            values = {"travel": at.travel, "roll": at.roll, "wrap": at.wrap, "spin": leader.spin}
            self._lead(led, values=values)

    def _lead(self, *motions: Motion, values: dict[str, float]) -> None:
        before, self._is_led = self._is_led, True
        try:
            for motion in motions:
                motion.go(**values)
        finally:
            self._is_led = before


def _numbers(at: Pose) -> tuple[float, float, float]:
    return at.travel, at.roll, at.wrap
