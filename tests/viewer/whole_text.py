"""All that `bindpoint check` prints of a rig, but for how sure that is."""

from sim.check import Check
from sim.cures.first_cure import FirstCure
from sim.turning_over import TurningOver
from viewer.check.text import page_text, rest_text


def check_text(
    result: Check,
    told: TurningOver | None = None,
    cure: FirstCure | None = None,
    name: str = "RIG",
    full: bool = True,
) -> str:
    """The first page, and with `full` all the rest."""
    page = page_text(result, told, cure, name, full)
    return f"{page}\n{rest_text(result)}" if full else page
