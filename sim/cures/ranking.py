"""In which order cures are offered: a plain rule with weights that anyone can change."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from types import MappingProxyType
from typing import Any

from geometry.errors import BindpointError
from sim.cures.remedy import Item, Trial
from sim.rig import Rig
from sim.table.kinds import LARGEST_NUMBER
from sim.table.problems import RigError, as_typed, one_of
from sim.table.reading import read_text


class WeightsError(BindpointError, ValueError):
    """A weights file that cannot be used."""


@dataclass(frozen=True)
class Weight:
    """What a remedy takes.

    Attributes
    ----------
    parts : cost of parts, in units of a set of straps.
    hours : hours in the shop.
    parts_each, hours_each : the same for each unit of the dose on top: inch, degree or yoke.
    """

    parts: float
    hours: float
    parts_each: float = 0.0
    hours_each: float = 0.0


@dataclass(frozen=True)
class Weights:
    """What every remedy takes, and the price of an hour and of a lost share of travel.

    Attributes
    ----------
    remedies : by row: a remedy's code, or that of a dearer kind of it.
    hour : an hour, in units of parts.
    travel : losing all of the travel, in units of parts.
    source : where the numbers are from.
    """

    remedies: Mapping[str, Weight]
    hour: float
    travel: float
    source: str

    def price(self, trials: Sequence[Trial]) -> float:
        """Cost of a cure, of one remedy or several one after the other; less is offered first."""
        takes = sum(
            self.of(trial.remedy.bill(trial.case.rig, trial.case.dose, trial.case.cured))
            for trial in trials
        )
        return takes + self.lost(trials[0].case.rig, trials[-1].case.cured)

    def of(self, bill: Sequence[Item]) -> float:
        """What the items of a dose cost: parts and hours."""
        return sum(self._item(self.remedies[item.row], item.amount) for item in bill)

    def _item(self, weight: Weight, amount: float) -> float:
        parts = weight.parts + weight.parts_each * amount
        return parts + self.hour * (weight.hours + weight.hours_each * amount)

    def lost(self, rig: Rig, *cured: Rig) -> float:
        """Cost of the travel that is given up in at least one of the cured rigs."""
        return self.travel * lost_travel(rig, *cured)


def lost_travel(rig: Rig, *cured: Rig) -> float:
    """Share of the whole travel that is given up in at least one of the cured rigs."""
    before, after = rig.travel, [each.travel for each in cured]
    whole = before.bump.mm + before.droop.mm
    if not whole > 0.0:
        return 0.0
    left = min(travel.bump.mm for travel in after) + min(travel.droop.mm for travel in after)
    return max(0.0, 1.0 - left / whole)


def weights(path: Path | None = None) -> Weights:
    """Weights shipped with the program, with those of a file of one's own in place of them.

    Raises WeightsError for a file that cannot be read or names something that is no remedy.
    """
    shipped = files("models").joinpath("cures", "weights.toml").read_text("utf-8")
    data = tomllib.loads(shipped)
    if path is not None:
        own = _own(path)
        _known(str(path), own, data)
        data |= own
    name = "the shipped weights" if path is None else str(path)
    remedies = {
        code: _weight(name, table, code) for code, table in data.items() if isinstance(table, dict)
    }
    return Weights(
        MappingProxyType(remedies),
        _number(name, data, "", "hour"),
        _number(name, data, "", "travel"),
        name if path is not None else str(data["source"]),
    )


def _weight(file: str, table: Mapping[str, Any], code: str) -> Weight:
    for key in table:
        if key not in _KEYS:
            raise WeightsError(
                f"{file}: {code}.{key}: came an unknown key, expected {one_of(key, _KEYS)}"
            )
    each = [_number(file, table, code, key) if key in table else 0.0 for key in _KEYS[2:]]
    return Weight(_number(file, table, code, "parts"), _number(file, table, code, "hours"), *each)


_KEYS = ("parts", "hours", "parts_each", "hours_each")


def _own(path: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(read_text(path))
    except RigError as error:
        found = error.problems[0].found
        raise WeightsError(f"{path}: {found}, expected a TOML file of weights") from None
    except (ValueError, RecursionError) as error:
        raise WeightsError(f"{path}: {error}, expected a TOML file of weights") from None


def _known(file: str, own: Mapping[str, Any], shipped: Mapping[str, Any]) -> None:
    for key in own:
        if key not in shipped:
            raise WeightsError(
                f"{file}: {key}: came an unknown key, expected {one_of(key, sorted(shipped))}"
            )
        if isinstance(shipped[key], dict) != isinstance(own[key], dict):
            kind = "a table with parts and hours" if isinstance(shipped[key], dict) else "a number"
            raise WeightsError(f"{file}: {key}: came {as_typed(own[key])}, expected {kind}")


def _number(file: str, table: Mapping[str, Any], code: str, key: str) -> float:
    value = table.get(key)
    place = f"{code}.{key}" if code else key
    if (
        isinstance(value, int | float)
        and not isinstance(value, bool)
        and 0 <= value < LARGEST_NUMBER
    ):
        return float(value)
    found = "nothing typed" if value is None else f"came {as_typed(value)}"
    raise WeightsError(f"{file}: {place}: {found}, expected a number of zero or more")
