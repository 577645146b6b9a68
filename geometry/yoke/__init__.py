"""Yokes: all that is known of each kind, in its module or folder; one entry in `YOKES`."""

from collections.abc import Mapping
from typing import Final

from geometry.yoke.base import Yoke, YokeShape
from geometry.yoke.flange import FlangeYoke
from geometry.yoke.sliding import SlidingYoke
from geometry.yoke.strap import StrapYoke
from geometry.yoke.weld import WeldYoke

YOKES: Final[Mapping[str, type[YokeShape]]] = {
    WeldYoke.kind: WeldYoke,
    FlangeYoke.kind: FlangeYoke,
    StrapYoke.kind: StrapYoke,
    SlidingYoke.kind: SlidingYoke,
}
"""Every kind of yoke that there is in the catalogue, by its name."""

__all__ = ["YOKES", "FlangeYoke", "SlidingYoke", "StrapYoke", "WeldYoke", "Yoke", "YokeShape"]
