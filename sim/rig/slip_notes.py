"""What is odd about a slip but possible: one that slides farther than its barrel is long."""

from collections.abc import Iterator

from geometry.errors import BindpointError
from sim.remark import Remark
from sim.rig.fitted import fitted_cross, fitted_yoke
from sim.rig.shaft import Shaft
from sim.table.limits import LIMITS


def slip_notes(shaft: Shaft) -> Iterator[Remark]:
    """Everything odd about a slip."""
    slip, choice = shaft.slip, shaft.output_end.output_yoke
    if slip.at != "output" or slip.comes_apart is None or choice.is_own:
        return
    try:
        barrel = fitted_yoke(choice, fitted_cross(shaft.output_end.cross), shaft.tube).barrel
    except BindpointError:  # of an unfinished rig; told as a problem
        return
    slides = slip.closes.mm + slip.comes_apart.mm
    if barrel is not None and slides > barrel.length + LIMITS.length:
        yield Remark(
            "beyond_barrel",
            "shaft.slip",
            slides=slides,
            barrel=barrel.length,
            generic="barrel_end" not in choice.overrides,
        )
