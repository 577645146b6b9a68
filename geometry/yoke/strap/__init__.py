"""The strap yoke: half-round saddles open toward the cross, the caps held down by straps."""

from geometry.yoke.strap.shape import StrapYoke

__all__ = ["StrapYoke"]
