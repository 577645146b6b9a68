"""What speaks for and against a suspect: points by clear rules, each told.

All of them are common practice, no source, but for what the rig's own numbers foretell.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from sim.vibration.case import Case
from sim.vibration.suspect import Prediction, Says, Suspect
from sim.vibration.symptom import Feel

ReasonCode = Literal[
    "common", "when", "load", "drive", "feel", "per-turn", "follows", "too-slow", "still", "rig"
]
"""common: how often it is the cause at all. when, load, drive, feel, per-turn, follows: what was
said. too-slow: for it to be felt. still: this shaft does not turn. rig: what its numbers foretell.
"""

BANDS: Final[Mapping[Feel, tuple[float, float]]] = MappingProxyType(
    {"shudder": (3.0, 25.0), "buzz": (25.0, 150.0), "boom": (25.0, 120.0)}
)
"""Hz between which a shake feels so; common practice, no source."""

BESIDE: Final = 1.5
"""Times a band's end past which a shake does not feel so."""

FORETOLD: Final[Mapping[Says, int]] = MappingProxyType({"yes": 3, "near": 1, "no": -3, "untold": 0})


@dataclass(frozen=True)
class Reason:
    """Points for (positive) or against a suspect."""

    code: ReasonCode
    points: int


def reasons(suspect: Suspect, case: Case, foretold: Prediction) -> tuple[Reason, ...]:
    """Every rule that has something to say."""
    return tuple(Reason(*each) for each in _rules(suspect, case, foretold) if each[1])


def _rules(suspect: Suspect, case: Case, foretold: Prediction) -> Iterator[tuple[ReasonCode, int]]:
    said = case.symptom
    yield "common", suspect.common
    if said.when is not None:
        yield "when", suspect.at[said.when]
    if said.only in ("loaded", "drooped"):
        yield "load", suspect.under_load
    elif said.only is not None:
        yield "drive", _drive(suspect, case)
    yield "feel", _feels(suspect, case)
    if said.per_turn is not None and suspect.turns_with == "shaft" and not suspect.is_span:
        yield "per-turn", 2 if float(said.per_turn) in suspect.orders else -4
    elif said.per_turn is not None:
        yield "per-turn", -4
    if said.follows is not None:
        with_engine = suspect.turns_with == "engine"
        yield (
            "follows",
            4
            if with_engine and said.follows == "engine"
            else (-4 if with_engine or said.follows == "engine" else 1),
        )
    frequencies = suspect.frequencies(case)
    if frequencies and max(frequencies) < suspect.least:
        yield "too-slow", -3
    if case.stands_still:
        yield "still", 4 if suspect.code == "other-shaft" else -8 * suspect.of_shaft
    yield "rig", FORETOLD[foretold.says]


def _drive(suspect: Suspect, case: Case) -> int:
    """It takes four-wheel drive or locked hubs: it is the front shaft."""
    if suspect.code == "other-shaft":
        return 6
    if case.vehicle.front:
        return 2 if suspect.of_shaft else -3
    return -5


def _feels(suspect: Suspect, case: Case) -> int:
    """Whether it shakes as often as it feels."""
    found = suspect.frequencies(case)
    if case.symptom.feel is None or not found:
        return 0
    low, high = BANDS[case.symptom.feel]
    if any(low <= each <= high for each in found):
        return 1
    return -2 if max(found) < low / BESIDE or min(found) > high * BESIDE else 0
