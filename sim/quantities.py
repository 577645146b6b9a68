"""Numbers that come from outside, refused with one clear line when they make no sense."""

import re
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


def require_fields(
    error: type[BindpointError],
    of: object,
    positive: str = "",
    not_negative: str = "",
    shares: str = "",
) -> None:
    """Raise `error` for the first of an object's numbers that cannot be; None is no number.

    positive, not_negative, shares : names of its fields, as for the functions above.
    """
    kind = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", type(of).__name__).lower()
    for require, names in (
        (require_positive, positive),
        (require_not_negative, not_negative),
        (require_share, shares),
    ):
        numbers = {f"{kind} {name}": getattr(of, name) for name in names.split()}
        require(error, **{name: value for name, value in numbers.items() if value is not None})


def _said(name: str) -> str:
    return name.replace("_", " ")
