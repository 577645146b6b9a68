"""How many hard pulls a trunnion root takes before it cracks, and how many miles of a use."""

from collections.abc import Callable
from dataclasses import dataclass
from math import cos, exp, hypot, inf, log

from sim.overload.band import Band
from sim.overload.cycles import pull
from sim.overload.duty import Duty
from sim.overload.root import FILLET, FILLET_BAND, Root
from sim.overload.steel import SteelLine
from sim.parts.materials import Material
from sim.sizing import ShaftTorque
from sim.wrap.estimate import Estimate


@dataclass(frozen=True)
class Pulls:
    """What a root is good for; an estimate of its order of magnitude.

    Attributes
    ----------
    hardest : pulls at the peak torque, nothing else coming in between.
    miles : of the duty, all of its pulls counted.
    nominal, local : MPa at the root at that torque, without and with its notch.
    at_once : whether the first such pull breaks it.
    """

    hardest: Band
    miles: Band
    nominal: float
    local: float
    at_once: bool


@dataclass(frozen=True)
class _Guess:
    """What a life hangs on: torque as a share of what is told, notch and steel."""

    torque: float
    notch: float
    scatter: float


def pulls_of(
    root: Root, torque: ShaftTorque, duty: Duty, steel: SteelLine, core: Material
) -> Pulls | None:
    """Count what a root takes; None where the torque is not known.

    The hardest pull of ordinary days is the lesser of low gear and wheel slip; the peak that the
    shaft is sized by comes where a tire is wedged, if that is more.
    """
    peak = torque.peak
    if peak is None:
        return None
    slips = peak.value
    if torque.wheel_slip is not None:
        slips = min(slips, torque.shock * torque.wheel_slip.value)
    breaks = root.breaks_at(core)

    def hurts(most: float, guess: _Guess) -> float:
        """Share of the life that one pull takes; all of it where it breaks."""
        most *= guess.torque
        if most * guess.scatter >= breaks:
            return inf
        counted = pull(most, root.bend, duty.coast, duty.turns)
        return steel.damage(counted, guess.scatter * guess.notch * root.nominal(1.0))

    def a_mile(guess: _Guess) -> float:
        usual = sum(number * hurts(share * slips, guess) for share, number in duty.pulls)
        return usual + (duty.wedged * hurts(peak.value, guess) if duty.wedged else 0.0)

    nominal = root.nominal(peak.value / cos(root.bend))
    return Pulls(
        hardest=_band(root, peak, steel, lambda guess: hurts(peak.value, guess), 1.0),
        miles=_band(root, peak, steel, a_mile, duty.off),
        nominal=nominal,
        local=nominal * root.notch(),
        at_once=peak.value >= breaks,
    )


def _life(damage: float) -> float:
    return inf if damage == 0.0 else 1.0 / damage


def _powers(life: float, usual: float) -> float:
    """Powers of e between two lives; without end where one of them has none or no end."""
    return inf if life in (0.0, inf) else log(life / usual)


def _band(
    root: Root,
    torque: Estimate,
    steel: SteelLine,
    hurt: Callable[[_Guess], float],
    often: float,
) -> Band:
    """Life by the value, and by torque, fillet and steel off one way and the other.

    They have nothing to do with each other, so their powers of ten add as squares do.

    often : times as often or as seldom as it may pull.
    """
    sharp, blunt = (root.notch(fillet) for fillet in FILLET_BAND)
    usual = _Guess(1.0, root.notch(FILLET), 1.0)
    value = _life(hurt(usual))

    def off(least: float, notch: float, scatter: float) -> float:
        """Power of e that all of it makes of the life."""
        alone = (
            _Guess(least, usual.notch, 1.0),
            _Guess(1.0, notch, 1.0),
            _Guess(1.0, usual.notch, scatter),
        )
        return hypot(log(often), *(_powers(_life(hurt(guess)), value) for guess in alone))

    if value in (0.0, inf):
        return Band(value, value, value)
    return Band(
        value=value,
        low=value * exp(-off(torque.high / torque.value, sharp, steel.scatter)),
        high=value * exp(off(torque.low / torque.value, blunt, 1.0 / steel.scatter)),
    )
