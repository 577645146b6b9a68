"""The drawings of a joint's bench readings as PNG files, and the sheet to print."""

from functools import partial
from pathlib import Path

from viewer.bench.plans import SHAFT_YOKE, Bench
from viewer.draw.plan import svg
from viewer.draw.plan_page import PlanPage
from viewer.draw.plan_sheet import Entry, sheet
from viewer.words.bench import CAUTION, LEAD, SEEN, SIGNS, WAYS, BenchWay
from viewer.written.files import replace
from viewer.written.plans import save_plans


class BenchSheet(Bench):
    """A joint on the bench, on paper."""

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
