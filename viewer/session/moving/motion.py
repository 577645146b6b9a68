"""Where the axle is and how the shaft is turned: what the sliders move."""

from collections.abc import Callable
from math import pi, tau
from typing import Literal

from psygnal import Signal

from sim.vehicle import RIDE, Pose, TravelRegion
from viewer.pose.posing import TYPED_AXES, PoseTextError
from viewer.session.moving.drives import Course, Drive

AXES = ("travel", "roll", "wrap", "spin")
"""What can be moved: mm, and rad for the rest."""

STEPS = {"travel": 6.35, "roll": pi / 360.0, "wrap": pi / 360.0, "spin": pi / 36.0}
"""One press of a key or notch of the wheel: 1/4 in, half a degree, 5 deg of turn."""

FARTHEST = {"travel": 500.0, "roll": pi / 4.0, "wrap": pi / 4.0}
"""How far out of its reach an axle is shown that is typed there, mm and rad."""

Axis = Literal["travel", "roll", "wrap"]


class Motion:
    """The pose of the axle and the turn of the shaft, held to where the axle can be.

    What is moved goes as far as it can at any pose, and the rest gives way to it: with both sides
    on their straps a roll lifts the axle off them. What gave way comes back with the next move that
    leaves room for it. Only a typed value is shown though the axle cannot be there.

    Signals
    -------
    moved : the pose or the turn is another one.
    bounded : the travel is another one.
    played : a drive was started, paused or ended.
    arrived : a drive stopped at what it is about, or ended there; with what it says of that.
    """

    moved = Signal()
    bounded = Signal()
    played = Signal()
    arrived = Signal(str)

    def __init__(self, box: TravelRegion, front: bool = False) -> None:
        self.begin(box, front)

    def begin(self, box: TravelRegion, front: bool) -> None:
        """Begin with an axle at ride height, and tell nobody."""
        self.box = box
        """How far the axle goes."""
        self.front = front
        self.still: Callable[[Pose], float] = lambda _: 0.0
        """Spin (rad) of an output yoke that nobody turns: its zero swings with the axle."""
        self._values = dict.fromkeys(AXES, 0.0)
        self._asked = dict(self._values)
        """Where each axis was put last, before it gave way to another."""
        self.drive: Drive | None = None
        self.playing = False
        self.speed = 1.0
        """Times the drive's own pace."""
        self.said = ""
        """What the drive that plays, or the last one, said where it stopped or ended."""
        self._course: Course | None = None
        self._begun = RIDE, 0.0
        self._time = 0.0
        self._stop_at = 0.0

    @property
    def at(self) -> Pose:
        """Pose of the axle."""
        return Pose(self._values["travel"], self._values["roll"], self._values["wrap"])

    @property
    def spin(self) -> float:
        """Turn of the output yoke, rad in [0, 2 pi)."""
        return self._values["spin"]

    def value(self, axis: str) -> float:
        """Where one axis is, mm or rad."""
        return self._values[axis]

    def bounds(self, axis: str) -> tuple[float, float]:
        """Least and most of one axis, mm or rad."""
        if axis == "spin":
            return 0.0, tau
        place = AXES.index(axis)
        return float(self.box.low[place]), float(self.box.high[place])

    def bound(self, box: TravelRegion) -> None:
        """Take another travel; a pose outside it moves to its edge."""
        if box != self.box:
            self.box = box
            self.bounded.emit()
            self._asked = dict(self._values)
            self.go(**self._values)

    def go(self, **values: float) -> None:
        """Move some axes (mm, rad), each as far as it goes; the turn goes round."""
        asked = self._asked | {axis: self._held(axis, value) for axis, value in values.items()}
        first: Axis = "travel"
        if len(values) == 1 and "travel" not in values and "spin" not in values:
            first = "roll" if "roll" in values else "wrap"
        if set(values) == {"spin"}:  # the axle stays as it is, also where it was typed to
            self._take(self._values | {"spin": asked["spin"]}, asked)
            return
        at = self.box.held(Pose(asked["travel"], asked["roll"], asked["wrap"]), first)
        new = {"travel": at.travel, "roll": at.roll, "wrap": at.wrap, "spin": asked["spin"]}
        self._take(new, asked)

    def _take(self, values: dict[str, float], asked: dict[str, float]) -> None:
        self._asked = asked
        if self.drive is None:
            self.said = ""  # moved by hand, it is no longer where the drive ended
        if values != self._values:
            self._values = values
            self.moved.emit()

    def go_to(self, at: Pose, spin: float | None = None) -> None:
        """Move the axle to a pose, and turn the shaft if a turn is given."""
        turn = {} if spin is None else {"spin": spin}
        self.go(travel=at.travel, roll=at.roll, wrap=at.wrap, **turn)

    def go_home(self) -> None:
        """End whatever plays, and put the axle at ride height, level and unwrapped."""
        self.stop()
        self.go_to(RIDE)

    def step(self, axis: str, notches: float) -> None:
        """Move one axis by some notches; a slight fault of rounding does not add up."""
        size = STEPS[axis]
        self.go(**{axis: round((self._values[axis] / size + notches) * 64.0) / 64.0 * size})

    def type(self, axis: str, text: str) -> float:
        """Move one axis to what was typed, such as "6 in droop" or "4 deg nose down".

        What was asked for (mm, rad) comes back, and is shown also where the axle cannot be there,
        up to `FARTHEST`. Raises PoseTextError for words that cannot be read, and for a number that
        says neither way.
        """
        way = TYPED_AXES[axis]
        wanted = way.read(text)
        if way.ways and not way.tells_way(text):
            one, other = way.ways
            number = text.strip()
            raise PoseTextError(
                f'--{axis}: came "{number}", which says neither way, expected "{number} {one}" or '
                f'"{number} {other}"'
            )
        if axis == "spin":
            self.go(spin=wanted)
            return wanted
        far = FARTHEST[axis]
        typed = self._values | {axis: min(max(wanted, -far), far)}
        if self.box.contains(typed["travel"], typed["roll"], typed["wrap"]):
            self.go(**{axis: wanted})
        else:
            self._take(typed, self._asked | {axis: self._held(axis, wanted)})
        return wanted

    def play(self, drive: Drive) -> None:
        """Start a drive from its beginning, to which the axle goes from where it is."""
        self.drive, self.said = drive, ""
        self._course = drive.course(self.at, self.spin, self.box, self.front)
        self._begun = self.at, self.spin
        self._stop_at = self._course.arrives or self._course.seconds
        self._time, self.playing = 0.0, True
        self.played.emit()

    def pause(self) -> None:
        """Hold the drive where it is, or go on; at its stop it is pushed on."""
        if self.stands:
            self.push_on()
        elif self.drive is not None:
            self.playing = not self.playing
            self.played.emit()

    @property
    def stands(self) -> bool:
        """Whether the drive stands at its stop, from where it may be pushed on."""
        course = self._course
        return (
            course is not None
            and not self.playing
            and self._time == self._stop_at == course.arrives
            and course.arrives < course.seconds
        )

    def push_on(self) -> None:
        """Go on past the stop, to the worst."""
        if self._course is not None and self.stands:
            self._stop_at, self.playing, self.said = self._course.seconds, True, ""
            self.played.emit()

    def stop(self) -> None:
        """End the drive; the axle stays where it is."""
        if self.drive is not None:
            self.drive, self._course, self.playing = None, None, False
            self.played.emit()

    def on(self, course: Course, begun: tuple[Pose, float], seconds: float) -> tuple[Pose, float]:
        """Pose and turn (rad) after some seconds of a course, given those at its beginning."""
        start, spin = begun
        at = course.at(start, seconds)
        return at, (spin + course.turned(seconds) + self.still(at) - self.still(start)) % tau

    @property
    def progress(self) -> float:
        """Share of the drive that is over, 0 to 1."""
        return 0.0 if self._course is None else min(1.0, self._time / self._course.seconds)

    def advance(self, seconds: float) -> None:
        """Let some time of the clock go by while a drive plays."""
        drive, course = self.drive, self._course
        if drive is None or course is None or not self.playing:
            return
        self._time = min(self._time + seconds * self.speed, self._stop_at)
        self.go_to(*self.on(course, self._begun, self._time))
        if self._time < self._stop_at:
            return
        if self._stop_at < course.seconds:
            self.said, self.playing = drive.stopped_says(), False
            self.played.emit()
        else:
            self.said = drive.ended_says()
            self.stop()
        if self.said:
            self.arrived.emit(self.said)

    def _held(self, axis: str, value: float) -> float:
        if axis == "spin":
            return value % tau
        low, high = self.bounds(axis)
        return min(max(value, low), high)
