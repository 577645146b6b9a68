"""The best aim of the pinion in words: which way, by what, and what the rig comes to with it."""

from math import degrees

from sim.cures.aim import SPAN, AimCurve
from sim.cures.remedies.pinion import turned_how
from sim.cures.remedy import Dose
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
    return f"Best pinion aim: {turn}, to {to}; {how}. {ends}."
