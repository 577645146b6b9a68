"""What a worker can be asked about a rig."""

from collections.abc import Mapping
from functools import partial
from importlib import import_module
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal

from viewer.session.text.order import Order

if TYPE_CHECKING:
    from sim.progress import Progress
    from sim.rig import Rig

Task = Literal[
    "check", "turning", "cures", "ticket", "shake", "why", "sure", "surest", "bench", "forecast",
    "drawing",
]  # fmt: skip
"""check: `sim.check.Check`. turning: `TurningOver`. cures: `CureList`. ticket: the text of the
build ticket. shake: what it most likely is, an `Answer`. why: why a joint failed, a `WhyTold`.
sure: how sure the answer is at a first look, a `Sure`; surest: with whole trucks drawn.
bench: what a joint's readings come to, a `BenchTold`; forecast: the same at once, by forecast.
drawing: how one is taken, a `Plan`."""

MODULES: Mapping[Task, str] = MappingProxyType(
    {
        "check": "sim.check",
        "turning": "sim.turning_over",
        "cures": "viewer.session.cures.list",
        "ticket": "viewer.ticket.text",
        "shake": "viewer.vibration.told",
        "why": "viewer.why.follow",
        "sure": "viewer.bars.asked",
        "surest": "viewer.bars.asked",
        "bench": "viewer.bench.told",
        "forecast": "viewer.bench.told",
        "drawing": "viewer.bench.plans",
    }
)
"""What each needs, read late: the process that shows the window must not wait for it."""


def make_ready(task: Task) -> None:
    """Read what the task needs."""
    import_module(MODULES[task])


def compute(task: Task, order: Order, tell: "Progress") -> object:
    """Do the task. Raises BindpointError for a rig that cannot be computed."""
    from sim.rig import parse_rig

    rig = parse_rig(order.text, order.name)
    rig._folder = order.folder
    if task in ("bench", "forecast", "drawing"):
        return _of_a_joint(task, rig, order, tell)
    if task == "cures":
        from viewer.session.cures.list import list_cures

        return list_cures(rig, order.text, tell, order.without)
    if task == "ticket":
        from sim.ticket.ticket import build_ticket, with_bars
        from viewer.ticket.text import build_text

        return build_text(with_bars(build_ticket(rig, tell), tell))
    if task == "shake" and order.shake is not None:
        from sim.vibration import find_vibration
        from viewer.session.cures.text import mended_text
        from viewer.vibration.asked import symptom_of
        from viewer.vibration.told import told_of

        found = find_vibration(rig, symptom_of(order.shake), tell)
        return told_of(found, partial(mended_text, rig, order.text))
    if task == "why":
        from viewer.why.follow import answer_of

        return answer_of(rig, order.text, order.name, order.seen, tell)
    return _of_the_answer(task, rig, tell)


def _of_a_joint(task: Task, rig: "Rig", order: Order, tell: "Progress") -> object:
    """What its bench readings come to, or how one of them is taken."""
    if task == "drawing":
        from viewer.bench.plans import plan_of

        return plan_of(rig, order.joint, *order.reading)
    from viewer.bench.told import bench_foretold, bench_told

    if task == "forecast":
        return bench_foretold(rig, order.joint)
    return bench_told(rig, order.joint, tell)


def _of_the_answer(task: Task, rig: "Rig", tell: "Progress") -> object:
    """The check, or what is asked of it."""
    from sim.check import check

    result = check(rig, tell)
    if task == "turning":
        from sim.turning_over import turning_over

        return turning_over(result, tell)
    if task in ("sure", "surest"):
        from viewer.bars.asked import how_sure

        return how_sure(result.found, tell, full=task == "surest")
    return result
