"""A first touch: what both kinds of pairs of a joint answer."""

from dataclasses import dataclass

from geometry.distance import Nearest


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
