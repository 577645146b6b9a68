"""The best aim of the pinion in words: which way, by what, and what the rig comes to with it."""

from math import degrees

from sim.assessment import Assessment
from sim.cures.aim import SPAN, AimCurve
from sim.cures.remedies.pinion import from_turning, turned_how
from sim.cures.remedy import Case, Dose
from sim.cures.worse import made_worse
from sim.rig import Rig
from viewer.words.cures import plain_word
from viewer.words.remarks import said
from viewer.words.units import format_angle, format_spoken


def aim_says(rig: Rig, curve: AimCurve) -> str:
    """Say it: ``Best pinion aim: nose up 3 deg, to 4.0 deg up; 3 deg shims, ...``."""
    best = curve.best
    to = format_spoken(best.pinion_up, "up", "down")
    if abs(best.turn) < 1e-9:
        return f"Best pinion aim: leave it where it is, {to}."
    way = "up" if best.turn > 0.0 else "down"
    turn = f"nose {way} {degrees(abs(best.turn)):g} deg"
    if abs(best.turn) > SPAN - 1e-9:
        turn += ", the most that was tried"
    how = said(turned_how(rig, Dose(abs(best.turn), way)))
    ends = f"By itself that ends {plain_word(best.outcome)}"
    least = min(best.outcome.margins.values())
    if least > 0.0:
        ends += f", with {format_angle(least)} left at the tightest joint"
    return f"Best pinion aim: {turn}, to {to}; {how}. {ends}.{_price(rig, curve)}"


def _price(rig: Rig, curve: AimCurve) -> str:
    """What turning the pinion so costs, as a sentence with a space before it; "" for nothing."""
    best = curve.best
    now = min(curve.aims, key=lambda aim: abs(aim.turn)).outcome
    dose = Dose(abs(best.turn), "up" if best.turn > 0.0 else "down")
    case = Case(rig, dose, best.outcome.rig, now, best.outcome)
    costs = "; ".join(map(said, (*from_turning(case), *made_worse(case))))
    return f" Downside: {costs}." if costs else ""


def joints_short(found: Assessment) -> bool:
    """Whether a joint has less left than is wanted, so that the aim of the pinion matters."""
    return min(found.margins.values()) < found.reserve or bool(found.tight)
