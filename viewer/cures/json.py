"""What would cure a shaft, as plain data."""

from math import degrees
from typing import Any

from sim.assessment import Assessment
from sim.cures import Cure, Cures
from sim.cures.aim import Aim, AimCurve
from sim.cures.grinding import Grinding
from sim.cures.ranking import Weight
from sim.rig import Rig
from sim.ticket.felt_of import felt_of
from viewer.encoder import each_keyed, felt_data, keyed, number, plain, publish
from viewer.relief.json import relief_data
from viewer.words.aim import aim_says
from viewer.words.cure_names import cure_name
from viewer.words.cures import cost_words

publish({Weight: "parts hours parts_each hours_each"})
_NEAR = "name part of gap_mm certified_mm touches"
"""What is short of its clearance."""

_BESIDE = "code"
"""What stops the shaft otherwise, as `check --json` tells it."""

_AIM = (
    "turn_deg=turn pinion_up_deg=pinion_up lead_and_lag_deg=uneven "
    "lead_and_lag_driven_deg=uneven_driven least_left=outcome.least"
)


def cures_data(found: Cures) -> dict[str, Any]:
    """All cures of a rig with their margins before and after."""
    return {
        "rig": found.rig.name,
        "verdict": found.before.verdict,
        "goal": found.goal,
        "chance": plain(found.chance),
        "before": outcome_data(found.before),
        "near": each_keyed(found.near, _NEAR),
        "beside": each_keyed(found.beside, _BESIDE),
        "without": list(found.without),
        "best_that_costs_no_travel": _number(found),
        "cures": [_cure(i, cure) for i, cure in enumerate(found.cures, start=1)],
        "no_help": list(found.useless),
        "weights": keyed(found.weights, "hour travel source remedies"),
    }


def _number(found: Cures) -> int | None:
    place = found.all_travel_kept
    return None if place is None else place + 1


def outcome_data(outcome: Assessment) -> dict[str, Any]:
    """Verdict and numbers of a rig, deg and mm."""
    return {
        "verdict": outcome.verdict,
        **{name: number(value) for name, value in outcome.lines.items()},
        "beyond_readings_mm": number(outcome.beyond),
        **felt_data(felt_of(outcome.rig)),
    }


def aim_data(curve: AimCurve) -> dict[str, Any]:
    """Every aim of the pinion that was tried, and the best."""
    return {"best": _aim(curve.best), "aims": [_aim(aim) for aim in curve.aims]}


def best_aim_data(rig: Rig, curve: AimCurve) -> dict[str, Any]:
    """The best aim of the pinion, with its sentence."""
    return _aim(curve.best) | {"says": aim_says(rig, curve)}


def grinding_data(ground: Grinding) -> dict[str, Any]:
    """What grinding one joint would take, as `joint --relief --json` tells it."""
    data: dict[str, Any] = {"joint": ground.joint, "wanted_deg": degrees(ground.wanted)}
    if ground.found is None or ground.hardware is None:
        return data | {"why_not": plain(ground.why)}
    return data | {"relief": relief_data(ground.hardware, ground.found)}


def _cure(place: int, cure: Cure) -> dict[str, Any]:
    return {
        "number": place,
        "name": cure_name(cure),
        **keyed(cure, "works holds chance score takes_travel worse"),
        "remedies": [
            keyed(trial, "code=remedy.code dose=case.dose.size way=case.dose.way")
            | {"says": plain(says), "price": cost_words(costs)}
            for trial, says, costs in zip(cure.trials, cure.says, cure.costs, strict=True)
        ],
        "after": outcome_data(cure.after),
        "near": each_keyed(cure.near, _NEAR),
        "beside": each_keyed(cure.beside, _BESIDE),
    }


def _aim(aim: Aim) -> dict[str, Any]:
    return keyed(aim, _AIM) | outcome_data(aim.outcome)
