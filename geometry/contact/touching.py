"""What both kinds of pairs of a joint have: a first touch, and the room between them."""

from dataclasses import dataclass
from functools import cached_property

from geometry.contact.distance import MeshPair, Nearest
from geometry.contact.naming import surface_at
from geometry.contact.row_tree import RowTree, row_tree
from geometry.contact.triangles import Array
from geometry.mesh import Mesh
from geometry.tolerances import TOL


@dataclass(frozen=True)
class Touch:
    """First touch of one pair at one spin.

    Attributes
    ----------
    clear : rad, no contact at this spin at any bend up to here, by proof.
    touch : rad, contact is seen here.
    nearest : the nearest points at `clear`, in the frame of the first body.
    surfaces : names of the two surfaces there.
    """

    clear: float
    touch: float
    nearest: Nearest
    surfaces: tuple[str, str]


@dataclass(frozen=True)
class Closeness:
    """How near counts as touching, and how exactly that is found.

    With a gap, bodies that come nearer than it count as touching, and the words of touching speak
    of that: "clear" leaves the gap, "contact" leaves less.

    gap : mm; 0 for metal on metal.
    """

    gap: float = 0.0

    @property
    def certificate(self) -> float:
        """Widest bracket (rad) between a certified clear bend and a contact."""
        return TOL.gap_certificate if self.gap > 0.0 else TOL.certificate

    @property
    def look(self) -> float:
        """How far ahead (rad) of a proof contact is looked for."""
        return 0.5 * TOL.certificate

    @property
    def fine(self) -> float:
        """Bracket (rad) to which a contact that is seen is narrowed down.

        Whether metal cuts metal is asked cheaply; how near it is, is not.
        """
        return self.look if self.gap > 0.0 else 0.02 * TOL.certificate

    @property
    def true(self) -> float:
        """By how much (rad) a line between two spins of a curve may lie over the touch."""
        return TOL.gap_certificate if self.gap > 0.0 else TOL.course


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

    @cached_property
    def trees(self) -> tuple[RowTree, RowTree]:
        """Trees of both meshes."""
        return row_tree(self.a), row_tree(self.b)

    def surfaces(self, nearest: Nearest, R_AB: Array) -> tuple[str, str]:
        """Names of the two surfaces at the nearest points, b turned by R_AB in the frame of a."""
        return names_at(self.a, self.b, nearest, R_AB)


def names_at(a: Mesh, b: Mesh, nearest: Nearest, R_AB: Array) -> tuple[str, str]:
    """Names of the surfaces of two meshes at their nearest points, which are in the frame of a."""
    return (
        surface_at(a, nearest.triangle_a, nearest.point_a),
        surface_at(b, nearest.triangle_b, nearest.point_b @ R_AB),
    )
