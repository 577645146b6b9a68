"""The line of stress against cycles of case-hardened steel, and what a cycle comes to on it."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from math import inf, log
from tomllib import loads
from typing import Any

from sim.overload.cycles import Cycle


@dataclass(frozen=True)
class SteelLine:
    """Local stress at a notch against the number of cycles that half of the parts outlive.

    Attributes
    ----------
    endures : MPa, range from nothing to the greatest, that is outlived `knee` times.
    knee : cycles at the bend of the line.
    thousand : times that range that is outlived a thousand times.
    scatter : factor of stress either way within which nearly all parts lie.
    mean_weight : M, how much a mean stress counts beside the amplitude; 0 for not at all.
    source : where all this is from.
    """

    endures: float
    knee: float
    thousand: float
    scatter: float
    mean_weight: float
    source: str

    @property
    def slope(self) -> float:
        """Power with which the life falls as the stress grows, above the knee's stress."""
        return log(self.knee / 1000.0) / log(self.thousand)

    def pulsating(self, span: float, mean: float) -> float:
        """Range (MPa) from nothing to its greatest that hurts as much as a cycle does.

        A cycle of amplitude a about a mean m hurts like one of amplitude a + M m about none
        (M: mean-stress weight), one from nothing to S like S/2 (1 + M); so S is
        2 (a + M m)/(1 + M). Mean pressure helps no more than that of a cycle that ends at
        nothing. [derivation]; the straight line is that of M in [ISO6336, from memory].
        """
        amplitude = 0.5 * span
        weighed = amplitude + self.mean_weight * max(mean, -amplitude)
        return 2.0 * weighed / (1.0 + self.mean_weight)

    def lasts(self, pulsating: float) -> float:
        """Cycles from nothing to this stress (MPa); inf for none.

        Under the knee the line goes on, less steep, by 2 k - 1 for k (Haibach, from memory): a
        part that larger pulls have begun to crack is hurt by small ones too. Over a thousand
        cycles' stress it is drawn on as it is, which is a guess.
        """
        if pulsating <= 0.0:
            return inf
        over = pulsating / self.endures
        power = self.slope if over >= 1.0 else 2.0 * self.slope - 1.0
        return float(self.knee * over**-power)

    def damage(self, cycles: Iterable[Cycle], scale: float) -> float:
        """Share of the life that cycles of torque take, by Miner: the sum of n/N.

        scale : MPa of local stress for each N mm, on the side of the root that driving pulls at.
        Coasting pulls at the other side, and by less.
        """
        return sum(
            number / self.lasts(self.pulsating(scale * span, scale * mean))
            for span, mean, number in cycles
        )


def steel_line(name: str = "case-hardened") -> SteelLine:
    """Return a generic line of the data."""
    return SteelLine(**fatigue_data()[name])


@cache
def fatigue_data() -> dict[str, Any]:
    """All that the data say of fatigue."""
    text = files("models").joinpath("materials", "fatigue.toml").read_text(encoding="utf-8")
    return loads(text)
