"""The numbers of the drive, from [drive] or else from [wrap.drive], and where each is from."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import inf
from types import MappingProxyType
from typing import Final, Literal, cast, get_args

from sim.balance import FINE
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.drive import SAME, DriveTable
from sim.table.kinds import Typed, kind_of
from sim.table.loads import share_or
from sim.units import Length
from sim.wrap.drive import ENGINE_OFF, FRICTION_OFF, LOAD_OFF

Number = Literal[
    "engine_torque",
    "low_gear",
    "low_range",
    "converter",
    "gearbox_efficiency",
    "case_efficiency",
    "share",
    "axle_ratio",
    "axle_load",
    "tyre_radius",
    "friction",
    "top_speed",
    "top_gear",
    "engine_top",
    "cruise",
    "balance",
]
"""Keys of [drive] that hold numbers."""

Word = Literal["use", "comes_on"]
"""Those that hold words."""

Key = Number | Word

ASSUMED: Final[Mapping[Key, float | str]] = MappingProxyType(
    {
        "low_range": 1.0,
        "converter": 1.0,
        "gearbox_efficiency": 0.85,
        "case_efficiency": 0.95,
        "share": 1.0,
        "friction": 1.0,
        "use": "road",
        "comes_on": "slowly",
        "balance": FINE,
        "cruise": 0.4,
    }
)
"""What is taken where nothing is said, each listed to the user."""


@dataclass(frozen=True)
class DriveSaid:
    """The drive in mm, N, rad and s.

    Attributes
    ----------
    numbers, words : by key of the [drive] table; what is not there is not known.
    borrowed : keys that were taken from [wrap.drive].
    off : share by which a number may be off and where that is from, by its key.
    generic : each value that was assumed, by its key.
    """

    numbers: Mapping[Number, float]
    words: Mapping[Word, str]
    borrowed: tuple[str, ...]
    off: Mapping[Number, tuple[float, str]]
    generic: Mapping[Key, Remark]

    @property
    def assumed(self) -> tuple[Remark, ...]:
        """Each value that was assumed, used or not."""
        return tuple(self.generic.values())

    def assumed_of(self, keys: Iterable[Key]) -> tuple[Remark, ...]:
        """Those keys that were assumed."""
        return tuple(self.generic[key] for key in keys if key in self.generic)

    def lacks(self, *keys: Number) -> tuple[str, ...]:
        """Key paths of those that are not known."""
        return tuple(f"drive.{key}" for key in keys if key not in self.numbers)

    def number(self, key: Number, otherwise: float = inf) -> float:
        """A number by its key."""
        return self.numbers.get(key, otherwise)


_NUMBERS: Final[tuple[Number, ...]] = get_args(Number)
_WORDS: Final[tuple[Word, ...]] = get_args(Word)


def drive_said(rig: Rig) -> DriveSaid:
    """Everything that a rig says of its drive, with the generic rest."""
    own, other = rig.drive, None if rig.wrap is None else rig.wrap.drive
    found: dict[str, float | str] = {}
    borrowed: list[str] = []
    for table, keys in ((own, tuple(type(own).model_fields) if own else ()), (other, SAME)):
        for key in keys:
            value = getattr(table, key, None)
            if value is not None and key not in found:
                found[key] = _plain(key, value)
                if table is other:
                    borrowed.append(key)
    taken = tuple(borrowed)
    whole = ("gearbox_efficiency", "case_efficiency")
    if other is not None and not any(key in found for key in whole):
        # There the two are one number.
        found |= {"gearbox_efficiency": other.efficiency, "case_efficiency": 1.0}
        borrowed.append("efficiency")
    there = {item.key for item in rig.assumed}
    borrowed = [key for key in borrowed if f"wrap.drive.{key}" not in there]
    generic: dict[Key, Remark] = {}
    for key, value in ASSUMED.items():
        if key not in found:
            found[key] = value
            generic[key] = Remark("drive-assumed", f"drive.{key}", name=key)
    return DriveSaid(
        numbers=MappingProxyType({k: float(found[k]) for k in _NUMBERS if k in found}),
        words=MappingProxyType({k: str(found[k]) for k in _WORDS}),
        borrowed=tuple(borrowed),
        off=MappingProxyType({key: _off(other if key in taken else None, key) for key in OFF}),
        generic=MappingProxyType(generic),
    )


OFF: Final[Mapping[Number, float]] = MappingProxyType(
    {"engine_torque": ENGINE_OFF, "axle_load": LOAD_OFF, "friction": FRICTION_OFF}
)
"""Share by which a number may be off where nothing is said of that (from memory)."""


def _off(table: object, key: Number) -> tuple[float, str]:
    typed = getattr(table, f"{key}_off", None)
    says = "from memory" if typed is None else f"wrap.drive.{key}_off"
    return share_or(typed, OFF[key]), says


def _plain(key: str, value: object) -> float | str:
    """A typed value as a number of the inside, or as the word it is."""
    if isinstance(value, Length):
        return value.mm
    if not isinstance(value, str):
        return cast(float, value)
    kind = kind_of(DriveTable.model_fields[key])
    return kind.sure(value) if isinstance(kind, Typed) else value
