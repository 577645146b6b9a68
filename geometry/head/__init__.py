"""The double-Cardan head: two crosses, a center yoke, a centring ball and its socket."""

from geometry.head.centre_yoke import CentreYoke
from geometry.head.outer_yoke import OuterYoke
from geometry.head.parts import HeadParts
from geometry.head.shape import HeadShape

__all__ = ["CentreYoke", "HeadParts", "HeadShape", "OuterYoke"]
