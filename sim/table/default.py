"""A generic value for a key that a rig file leaves out."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

Data = Mapping[str, Any]
"""A rig file as plain data."""

Can = Literal["either", "hurt", "help"]
"""What another value can do to a verdict: the more an axle moves, the worse it can only get."""


@dataclass(frozen=True)
class Other:
    """A value that may as well be the true one where a default stands.

    Attributes
    ----------
    value : typed, by key path where it is not typed at the key of the default; or a function from
        the file's data to either, None where there is none.
    can : what it can do.
    """

    value: Any
    can: Can = "either"

    def typed(self, key: str, data: Data) -> Mapping[str, Any] | None:
        """What is typed for it in a file that says `data`, by key path."""
        value = self.value(data) if callable(self.value) else self.value
        if value is None or isinstance(value, Mapping):
            return value
        return {key: value}


def more(value: Any) -> Other:
    """Another value with which the axle moves farther, everything else being as it was."""
    return Other(value, "hurt")


def less(value: Any) -> Other:
    """Another value with which the axle moves less far."""
    return Other(value, "help")


@dataclass(frozen=True)
class Default:
    """A value for a key that is left out, and when it applies."""

    key: str
    value: Any
    """Typed value, or a function from the file's data to it."""
    why: str
    unless: tuple[str, ...] = ()
    """Key paths any of which says the same, so that the default does not apply."""
    when: str = ""
    """Key path that must be there for the default to apply."""
    others: tuple[Other, ...] = ()
    """Values that may as well be the true one, the likelier first."""
    because: str = ""
    """Why those, and no farther off; or why no other value could turn a verdict."""
    off: Any = None
    """How far off a length or an angle may be, typed or a function from the file's data to it: 95
    of 100 trucks are no farther off (from memory, as the others are); a list of a point's."""

    def typed(self, data: Data) -> Any:
        """The value for a file that says `data`."""
        return self.value(data) if callable(self.value) else self.value


def at(data: Data, key: str) -> Any:
    """What stands at a key path, or None."""
    here: Any = data
    for part in key.split("."):
        if not isinstance(here, Mapping):
            return None
        here = here.get(part)
    return here
