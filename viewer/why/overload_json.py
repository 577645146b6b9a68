"""What a joint got against what it holds, as plain data; null for what never ends or is unknown."""

from math import degrees
from typing import Any

from sim.overload import AtBend, Band, Knock, Overload
from sim.wrap.estimate import Estimate
from viewer.encoder import keyed, number
from viewer.words.remarks import said

_LEVER = (
    "past_deg=past reached moment_nm=moment limit by_shaft_nm=by_shaft by_weight_nm=by_weight "
    "by_tube_nm=by_tube arm_mm=arm prying_n=prying cap_force_n=cap_force "
    "trunnion_moment_nm=trunnion_moment ear_moment_nm=ear_moment "
    "weakest=strength.weakest.name safety=strength.weakest.safety"
)
_NM = 1e-3
"""N m in a N mm."""


def overload_data(found: Overload) -> dict[str, Any]:
    """Everything of one joint."""
    return {
        "cross": found.cross,
        "smallest_that_fits": found.fits,
        "peak_nm": None if found.peak is None else _band(found.peak, _NM),
        "governs": found.torque.governs,
        "takes_a_wedged_tire": found.wedged,
        "at": {when: _at(at, known=found.peak is not None) for when, at in found.at.items()},
        "knock": None if found.knock is None else _knock(found.knock),
        "bind": None if found.lever is None else keyed(found.lever, _LEVER),
        "missing": [remark.key for remark in found.missing],
        "assumed": [said(remark) for remark in found.assumed],
    }


def _at(at: AtBend, known: bool) -> dict[str, Any]:
    """One bend; without a torque there is no safety to tell."""
    pulls = at.pulls
    return keyed(at, "bend_deg=bend holds_nm=holds weakest=weakest.name") | {
        "safety": at.weakest.safety if known else None,
        "pulls": None if pulls is None else _band(pulls.hardest),
        "miles": None if pulls is None else _band(pulls.miles),
        "breaks_at_once": None if pulls is None else pulls.at_once,
    }


def _knock(knock: Knock) -> dict[str, Any]:
    return {
        "play_deg": degrees(knock.gap),
        "closes_deg_s": _band(knock.speed, degrees(1.0)),
        "peak_nm": _band(knock.peak, _NM),
        "times_without_play": _band(knock.adds),
        "cap_force_n": _band(knock.force),
    }


def _band(band: Band | Estimate, unit: float = 1.0) -> dict[str, float | None]:
    values = {"estimate": band.value, "low": band.low, "high": band.high}
    return {name: number(unit * value) for name, value in values.items()}
