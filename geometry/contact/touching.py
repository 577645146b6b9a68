"""What touching means: how near counts, how exactly it is found, and what is told of it."""

from dataclasses import dataclass

from geometry.contact.distance import Nearest
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
