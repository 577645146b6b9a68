"""What would cure a shaft, as plain data."""

from collections.abc import Sequence
from math import degrees
from typing import Any

from sim.around.surroundings import SurroundingGap
from sim.assessment import Assessment
from sim.cures import Cure, Cures
from sim.cures.aim import Aim, AimCurve
from sim.cures.grinding import Grinding
from viewer.check.json import number
from viewer.relief.json import relief_data
from viewer.words.cures import cost_words
from viewer.words.remarks import said


def cures_data(found: Cures) -> dict[str, Any]:
    """All cures of a rig with their margins before and after."""
    return {
        "rig": found.rig.name,
        "verdict": found.before.verdict,
        "goal": found.goal,
        "before": outcome_data(found.before),
        "near": near_data(found.near),
        "without": list(found.without),
        "best_that_costs_no_travel": _number(found),
        "cures": [_cure(i, cure) for i, cure in enumerate(found.cures, start=1)],
        "no_help": list(found.useless),
        "weights": {
            "hour": found.weights.hour,
            "travel": found.weights.travel,
            "source": found.weights.source,
            "remedies": {
                code: {
                    "parts": weight.parts,
                    "hours": weight.hours,
                    "parts_each": weight.parts_each,
                    "hours_each": weight.hours_each,
                }
                for code, weight in found.weights.remedies.items()
            },
        },
    }


def _number(found: Cures) -> int | None:
    place = found.all_travel_kept
    return None if place is None else place + 1


def outcome_data(outcome: Assessment) -> dict[str, Any]:
    """Verdict and numbers of a rig, deg and mm."""
    lines = {name: number(value) for name, value in outcome.lines.items()}
    return {"verdict": outcome.verdict, **lines, "beyond_readings_mm": number(outcome.beyond)}


def near_data(near: Sequence[SurroundingGap]) -> list[dict[str, Any]]:
    """What is short of its clearance, mm."""
    return [
        {
            "name": gap.name,
            "part": gap.part,
            "of": gap.of,
            "gap_mm": gap.gap_mm,
            "certified_mm": gap.certified_mm,
            "touches": gap.touches,
        }
        for gap in near
    ]


def aim_data(curve: AimCurve) -> dict[str, Any]:
    """Every aim of the pinion that was tried, and the best."""
    return {"best": _aim(curve.best), "aims": [_aim(aim) for aim in curve.aims]}


def grinding_data(ground: Grinding) -> dict[str, Any]:
    """What grinding one joint would take, as `joint --relief --json` tells it."""
    data: dict[str, Any] = {"joint": ground.joint, "wanted_deg": degrees(ground.wanted)}
    if ground.found is None or ground.hardware is None:
        return data | {"why_not": said(ground.why)}
    return data | {"relief": relief_data(ground.hardware, ground.found)}


def _cure(place: int, cure: Cure) -> dict[str, Any]:
    return {
        "number": place,
        "works": cure.works,
        "score": cure.score,
        "takes_travel": cure.takes_travel,
        "worse": [said(each) for each in cure.worse],
        "remedies": [
            {
                "code": trial.remedy.code,
                "dose": trial.case.dose.size,
                "way": trial.case.dose.way,
                "says": said(says),
                "price": cost_words(costs),
            }
            for trial, says, costs in zip(cure.trials, cure.says, cure.costs, strict=True)
        ],
        "after": outcome_data(cure.after),
        "near": near_data(cure.near),
    }


def _aim(aim: Aim) -> dict[str, Any]:
    return {
        "turn_deg": degrees(aim.turn),
        "pinion_up_deg": degrees(aim.pinion_up),
        "lead_and_lag_deg": degrees(aim.uneven),
        "lead_and_lag_driven_deg": degrees(aim.uneven_driven),
        "least_left": number(aim.outcome.least),
        **outcome_data(aim.outcome),
    }
