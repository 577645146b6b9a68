"""Numbers that come from outside, refused with one clear line when they make no sense."""

from math import degrees, isfinite, pi

from geometry.errors import BindpointError


def require_positive(error: type[BindpointError], **numbers: float) -> None:
    """Raise `error` for the first of the numbers that is not finite and above zero."""
    for name, value in numbers.items():
        if not (isfinite(value) and value > 0.0):
            raise error(f"{_said(name)}: got {value}, expected a number above zero")


def require_not_negative(error: type[BindpointError], **numbers: float) -> None:
    """Raise `error` for the first of the numbers that is not finite or is under zero."""
    for name, value in numbers.items():
        if not (isfinite(value) and value >= 0.0):
            raise error(f"{_said(name)}: got {value}, expected zero or a number above it")


def require_share(error: type[BindpointError], **numbers: float) -> None:
    """Raise `error` for the first of the numbers that is no share of a whole, none excluded."""
    for name, value in numbers.items():
        if not 0.0 < value <= 1.0:
            raise error(f"{_said(name)}: got {value}, expected a share above 0 and up to 1")


def require_bend(error: type[BindpointError], **bends: float) -> None:
    """Raise `error` for the first bend (rad) that no joint can have and still turn."""
    for name, value in bends.items():
        if not 0.0 <= value < 0.5 * pi:
            raise error(
                f"{_said(name)}: got {degrees(value):g} deg, expected 0 deg up to under 90 deg"
            )


def _said(name: str) -> str:
    return name.replace("_", " ")
