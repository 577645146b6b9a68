"""Every numerical tolerance of the geometry, each with its reason."""

from dataclasses import dataclass
from math import radians


@dataclass(frozen=True)
class Tolerances:
    """Lengths in millimetres, angles in radians."""

    chord: float = 0.05
    """Largest distance between a true curved surface and its mesh. A feeler gauge in a shop
    starts at 0.04 mm, so a finer mesh would not be felt."""

    graze: float = 0.001
    """Gap that counts as touching where no contact is seen just ahead. Bodies that graze nearer
    than that without cutting would otherwise be followed in ever smaller steps."""

    touching: float = 0.1
    """Gap, mm, that still counts as touching at a turn that is not proved clear: the bracket below
    comes to 0.09 mm on an arm of 100 mm."""

    certificate: float = radians(0.05)
    """Widest bracket between a certified clear bend and a seen contact; a digital level reads
    0.1 deg, so half of that cannot be told apart in the shop."""

    gap_certificate: float = radians(0.1)
    """The same for a gap that is wanted, which is a reserve and no wall: what a digital level
    reads."""

    course: float = radians(0.01)
    """By how much a line between two spins of a touch curve may lie over the touch: what is left of
    a bend is shown by the hundredth where it is little. Of the curve of a gap its certificate."""

    witness: float = 1e-6
    """Agreement wanted between a distance and the distance of its two witness points;
    the parts are about 100 mm, and double precision leaves 1e-13 of that."""

    gap: float = 0.02
    """How true the smallest gap over a turn is: under a thousandth of an inch, and under the
    chord error of the meshes."""

    rod: float = 0.005
    """How true the distance of a rod to a convex piece is at one pose; a tenth of what a tube's
    clearance is wanted to."""

    rod_meets: float = 1e-7
    """Distance at which a rod and a piece count as meeting: rounding on a few metres, many times
    over, and nothing to a shop."""

    clearance: float = 0.05
    """How true the smallest clearance of a rod over all its poses is: under half of the 0.1 mm
    that is promised, and a fortieth of the clearance a shop wants."""

    outline: float = 0.25
    """How far the outline of a turning part may lie outside of the part, mm: a hundredth of an
    inch, which no forging is held to, and always on the safe side."""

    gap_share: float = 0.02
    """How true a wide gap is, as a share of itself: nobody measures 7 mm of room to a hundredth,
    and a wide gap changes so little over a turn that finding its very least takes long."""

    edge: float = 1.0
    """How near to an edge a place is said to be on it, mm: the corners of real forgings are broken
    by as much, so that nobody can tell which of two surfaces was touched there."""

    straight: float = 1e-9
    """Bend below which two axes count as aligned, so that the plane of the bend is free."""

    bend_limit: float = radians(60.0)
    """Highest bend searched. No single joint of the trade reaches it."""


TOL = Tolerances()
