"""What a rig does not say, and what cannot be told without it."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Missing:
    """One key that is not there."""

    key: str
    """Key path in the rig file."""
    why: str
    """What it would tell."""


def missing_of(keys: tuple[str, ...], why: str) -> tuple[Missing, ...]:
    """The same reason for several keys."""
    return tuple(Missing(key, why) for key in keys)
