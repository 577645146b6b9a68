"""Yokes: one file a kind, all drawn in their own frame around the cross centre."""

from geometry.yoke.base import Yoke, YokeShape
from geometry.yoke.flange import FlangeYoke
from geometry.yoke.sliding import SlidingYoke
from geometry.yoke.strap import StrapYoke
from geometry.yoke.weld import WeldYoke

__all__ = ["FlangeYoke", "SlidingYoke", "StrapYoke", "WeldYoke", "Yoke", "YokeShape"]
