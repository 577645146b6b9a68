"""The drawings of all the ways to read one joint, and the sheet to print of them."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from math import pi
from pathlib import Path
from typing import Final

from sim.front_section import shaft_drives
from sim.hardware.joint import JointHardware, joint_hardware
from sim.rig import Rig
from sim.vehicle import Joint
from viewer.bench.drawing import Bend, bent_on_bench
from viewer.bench.elsewhere import hand_turned, in_papers
from viewer.draw.plan import Plan, svg
from viewer.draw.plan_page import PlanPage
from viewer.draw.plan_sheet import Entry, sheet
from viewer.words.bench import CAUTION, LEAD, SEEN, SIGNS, WAYS, BenchWay
from viewer.words.sentence import capital
from viewer.written.files import replace
from viewer.written.plans import save_plans

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
    return Bench.of(joint_hardware(rig, joint), held).plan(named)


@dataclass(frozen=True)
class Bench:
    """A joint taken to the bench: how each of its readings is drawn and called.

    hardware : its parts. clamped : "driving" or "driven", the yoke in the vise.
    """

    hardware: JointHardware
    clamped: str

    @classmethod
    def of(cls, hardware: JointHardware, held: str = SHAFT_YOKE) -> "Bench":
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

    def page(self, way: BenchWay, number: int) -> bytes:
        """The drawing with its words, a PNG picture."""
        plan = self.plan(way)
        foot = "Generic yokes; yours may look different." if way.ears else ""
        head = f"{number} of {len(WAYS)}   {self.hardware.joint} joint: {way.name}"
        return PlanPage(head, self.asks(way), way.how, plan, SEEN[plan.view], SIGNS, foot).png()

    def sheet(self) -> str:
        """The sheet to print and fill in."""
        joint = self.hardware.joint
        return sheet(
            f"Measuring a joint on the bench: {joint} joint",
            LEAD,
            [Entry(svg(self.plan(way), way.name), self.asks(way), way.how) for way in WAYS],
            CAUTION,
            wide=True,
        )

    def drawn(self, way: BenchWay, held: str, folder: Path) -> Path:
        """The file of a drawing in the folder that `save` filled; of another yoke, made now."""
        number = WAYS.index(way) + 1
        name = f"{number:02d}-{way.name.replace(' ', '-')}"
        if way.ears in ("", "any") or held == SHAFT_YOKE:
            return folder / f"{name}.png"
        file = folder / f"{name}-{held.replace(' ', '-')}.png"
        if not file.exists():
            replace(file, self.page(way, number), "the drawing")
        return file

    def save(self, folder: Path, force: bool) -> dict[str, Path]:
        """Write a PNG of each way and the sheet; the PNGs by the names of the ways.

        force : whether they may replace files of another kind.
        Raises FileError where nothing can be written.
        """
        pages = {
            way.name: partial(self.page, way, number) for number, way in enumerate(WAYS, start=1)
        }
        return save_plans(folder, pages, self.sheet, force)
