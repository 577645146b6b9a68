"""What both kinds of pairs of a joint have: a first touch, and the room between them."""

from dataclasses import dataclass
from functools import cached_property

from geometry.distance import MeshPair, Nearest
from geometry.mesh import Mesh


@dataclass(frozen=True)
class Touch:
    """First touch of one pair at one spin.

    Attributes
    ----------
    clear : rad, no contact at this spin at any bend up to here.
    touch : rad, contact is seen here.
    nearest : the nearest points just before contact, in the frame of the first body.
    """

    clear: float
    touch: float
    nearest: Nearest


class WholePair:
    """The whole of two bodies, for asking how much room there is.

    What lies beyond the reach cannot touch, but may still be what is nearest; so room is asked of
    the whole meshes, made ready when first asked.
    """

    def __init__(self, a: Mesh, b: Mesh) -> None:
        self.a, self.b = a, b
        self.radius = min(a.radius, b.radius)

    @cached_property
    def meshes(self) -> MeshPair:
        """Both meshes, ready for queries."""
        return MeshPair(self.a, self.b)

    def surfaces(self, nearest: Nearest) -> tuple[str, str]:
        """Names of the two surfaces that carry the nearest points."""
        return self.a.label_of(nearest.triangle_a), self.b.label_of(nearest.triangle_b)
