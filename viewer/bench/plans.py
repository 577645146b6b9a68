"""The drawings of all the ways to read one joint."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import pi
from typing import Final, Self

from sim.front_section import shaft_drives
from sim.hardware.joint import JointHardware, joint_hardware
from sim.rig import Rig, changed
from sim.rig.typed_joints import typed_joint
from sim.vehicle import Joint
from viewer.bench.drawing import Bend, bent_on_bench
from viewer.bench.elsewhere import hand_turned, in_papers
from viewer.draw.plan import Plan
from viewer.words.bench import WAYS, BenchWay
from viewer.words.sentence import capital

SHAFT_YOKE: Final = "shaft yoke"
"""The word of a rig file for the yoke that is clamped where nothing is said."""

EARS: Final[Mapping[str, float | None]] = {
    "in line": 0.0,
    "between": 0.25 * pi,
    "across": 0.5 * pi,
    "any": None,
}
"""rad, of the clamped yoke's ears from in line with the bend; None for a whole turn."""


def plan_of(rig: Rig, joint: Joint, way: str, held: str) -> Plan:
    """The drawing of a way, by its name, with a yoke of a joint clamped.

    Raises BindpointError for a joint that cannot be built, and for a double-Cardan head.
    """
    named = next(each for each in WAYS if each.name == way)
    bench = f"{typed_joint(rig, joint).table}.bench"
    # As the file names the yokes: a drawing needs no fit of what is still being read.
    plain = changed(rig, {bench: None})
    return Bench.of(joint_hardware(plain, joint), held).plan(named)


@dataclass(frozen=True)
class Bench:
    """A joint taken to the bench: how each of its readings is drawn and called.

    hardware : its parts. clamped : "driving" or "driven", the yoke in the vise.
    """

    hardware: JointHardware
    clamped: str

    @classmethod
    def of(cls, hardware: JointHardware, held: str = SHAFT_YOKE) -> Self:
        """Take a joint to the bench with a yoke held, by its word of the rig file."""
        shaft = "driving" if shaft_drives(hardware.joint) else "driven"
        other = "driven" if shaft == "driving" else "driving"
        return cls(hardware, shaft if held == SHAFT_YOKE else other)

    @property
    def name(self) -> str:
        """What the shop calls the yoke in the vise."""
        return self.hardware.yoke_name(self.clamped)

    def asks(self, way: BenchWay) -> str:
        """The question of a way."""
        return capital(way.asks.format(clamped=self.name))

    def plan(self, way: BenchWay) -> Plan:
        """The drawing of a way."""
        if way.value == "catches_at":
            return hand_turned(self.hardware)
        if way.value == "maker_says":
            return in_papers(self.hardware)
        return bent_on_bench(Bend.of(self.hardware, self.clamped, EARS[way.ears]))
