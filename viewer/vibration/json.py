"""What a shake most likely is, as one JSON object, with the keys of docs/json.md."""

from math import pi
from typing import Any

from sim.vibration import Mend, Suspected, Vibration
from viewer.encoder import keyed
from viewer.words.remarks import said
from viewer.words.vibration import CHECKS, COMMON_PRACTICE, NAMES, SOURCES, missing

_FELT = "load governs speed_rpm=speed road_kmh=road like_one_joint_deg=bend limit"


def vibration_data(found: Vibration, rig_name: str) -> dict[str, Any]:
    """Everything that was weighed and tried."""
    case = found.case
    hertz = {
        name: None if turning is None else turning / (2.0 * pi)
        for name, turning in (
            ("shaft", case.turns.shaft), ("wheel", case.turns.wheel), ("engine", case.turns.engine)
        )
    }  # fmt: skip
    return {
        "rig": rig_name,
        "symptom": keyed(case.symptom, "when feel per_turn follows only"),
        "speeds": keyed(
            case.turns, "road_kmh=road shaft_rpm=shaft wheel_rpm=wheel engine_rpm=engine"
        ),
        "hz": hertz,
        "felt": keyed(case.felt, _FELT),
        "stands_still": case.stands_still,
        "missing": missing(found) or None,
        "suspects": [_suspect(each) for each in found.suspected],
        "mends": [_mend(each) for each in found.mends],
        "tube": None
        if found.tube is None
        else keyed(found.tube, "outside_mm=outside before_rpm=before after_rpm=after enough"),
        "balance": [
            {"piece": name} | keyed(each, "grade total_g_mm=total first_g_mm=first last_g_mm=last")
            for name, each in found.balances
        ],
    }


def _suspect(each: Suspected) -> dict[str, Any]:
    return {
        "code": each.code,
        "says": NAMES[each.code],
        "points": each.points,
        "turns_with": each.suspect.turns_with,
        "orders": list(each.suspect.orders),
        "hz": list(each.frequencies),
        "predicted": each.foretold.says,
        "share_of_limit": each.foretold.share,
        "why": None if each.foretold.why is None else said(each.foretold.why),
        "reasons": [keyed(reason, "code points") for reason in each.reasons],
        "check": CHECKS[each.code],
        "source": SOURCES.get(each.code, COMMON_PRACTICE),
    }


def _mend(mend: Mend) -> dict[str, Any]:
    return {
        "code": mend.code,
        "says": said(mend.says),
        "then": None if mend.then is None else said(mend.then),
        "costs": [said(each) for each in mend.costs],
        "before": keyed(mend.before, _FELT),
        "after": keyed(mend.after, _FELT),
        "any_load_before": keyed(mend.all_before, _FELT),
        "any_load_after": keyed(mend.all_after, _FELT),
        "enough": mend.enough,
        "binds_sooner": mend.binds,
    }
