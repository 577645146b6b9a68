"""How far off the wrap is that a [wrap] table tells."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from math import sqrt
from typing import Any, Final, Literal

from geometry.errors import BindpointError
from sim.accuracy.put import put_off
from sim.accuracy.source import Source
from sim.rig import Rig
from sim.rig.numbers import numbers_in
from sim.table.part import Part
from sim.units import Angle, Length
from sim.wrap import AxleWrap, axle_wrap

Way = Literal["nose_up", "nose_down"]
WAYS: Final[tuple[Way, Way]] = ("nose_up", "nose_down")
Path = tuple[str, ...]


def wrap_sources(rig: Rig) -> Iterator[Source]:
    """Wrap each way as a [wrap] table tells it, off as far as what it is worked out from may be.

    Each share and reading of the table has an `_off` of its own, typed or generic; what one of them
    leaves open of the wrap when the others are sure is half of low to high, and they add up by
    squares, since they are independent [derivation: the variance of a sum]. So does what else has
    an error typed behind it. The middle is the high end, the careful one, as in the check.
    """
    wrap = rig.wrap
    if wrap is None:
        return
    offs = tuple(_offs(wrap))
    for way in WAYS:
        value: float = getattr(_told(rig), way).high
        squares = 0.0
        for mine in offs:
            sure = wrap
            for other in offs:
                sure = sure if other == mine else _sure(sure, other)
            left = getattr(_told(rig.model_copy(update={"wrap": sure})), way)
            squares += (0.5 * (left.high - left.low)) ** 2
        squares += sum(_typed(rig, way))
        if squares > 0.0:
            put = partial(_with_wrap, way=way)
            yield Source(f"travel.{way}", value, "rad", sqrt(squares), "typed", put=put)


def _told(rig: Rig) -> AxleWrap:
    assert rig.wrap is not None
    return axle_wrap(rig.wrap, rig.suspension, rig.travel, rig.axle.front)


def _typed(rig: Rig, way: Way) -> Iterator[float]:
    """Square of what every error typed behind a length or a slope of the table does, rad2."""
    for path, value in numbers_in(rig.wrap, ("wrap",)):
        if value.off is None or value.off.size is None or str(path[-1]).endswith("_off"):
            continue
        ends = []
        for sign in (1.0, -1.0):
            try:
                ends.append(getattr(_told(put_off(rig, sign * value.off.size, path)), way).high)
            except BindpointError:
                break
        if len(ends) == len((1.0, -1.0)):
            yield (0.5 * (ends[0] - ends[1])) ** 2


def _offs(part: Part, path: Path = ()) -> Iterator[Path]:
    """Path of every key that says how far off another one may be."""
    for name in type(part).model_fields:
        held = getattr(part, name)
        if name.endswith("_off"):
            yield (*path, name)
        elif isinstance(held, Part):
            yield from _offs(held, (*path, name))


def _sure(part: Any, path: Path) -> Any:
    """The table with one of these saying that nothing is off."""
    name, *rest = path
    if rest:
        return part.model_copy(update={name: _sure(getattr(part, name), tuple(rest))})
    (example, *_) = type(part).model_fields[name].examples
    nothing: str | Length | Angle = "0 %"
    if example.endswith("deg"):
        nothing = Angle(0.0, "0 deg")
    elif example.endswith("in"):
        nothing = Length(0.0, "0 in")
    return part.model_copy(update={name: nothing})


def _with_wrap(rig: Rig, off: float, way: Way) -> Rig:
    """A rig with degrees in place of its [wrap] table, off by so much (rad) one way."""
    travel = rig.travel
    if rig.wrap is not None:
        told = _told(rig)
        both = {str(each): Angle.exactly(getattr(told, each).high) for each in WAYS}
        travel = travel.model_copy(update=both)
    put = Angle.exactly(max(getattr(travel, way).rad + off, 0.0))
    return rig.model_copy(
        update={"wrap": None, "travel": travel.model_copy(update={way: put})},
    )
