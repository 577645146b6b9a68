"""How much of its critical speed a shaft uses."""

from dataclasses import dataclass

from sim.quantities import require_fields
from sim.remark import Remark
from sim.whirl.beam import BeamError

SAFE_SHARE = 0.7
"""Share of the critical speed that a road shaft is run up to, 0.65 in industry (read on a technical
page of the trade, without a name); 0.65 to 0.75 in shops (common practice, no source)."""


@dataclass(frozen=True)
class WhirlMargin:
    """A speed against a critical speed; rad/s."""

    speed: float
    critical: float

    def __post_init__(self) -> None:
        require_fields(BeamError, self, "critical", "speed")

    @property
    def share(self) -> float:
        """Share of the critical speed in use: 1 is whirl."""
        return self.speed / self.critical

    @property
    def fastest(self) -> float:
        """Greatest speed that keeps within the safe share, rad/s."""
        return SAFE_SHARE * self.critical

    @property
    def half_critical(self) -> float:
        """Half of the critical speed, rad/s, where the shaft shakes as well.

        A bent joint pushes twice a turn and meets it there (common practice, no source).
        """
        return 0.5 * self.critical

    @property
    def flags(self) -> tuple[Remark, ...]:
        """What is wrong with the speed."""
        if self.share >= 1.0:
            return (Remark("past-whirl", share=self.share, most=SAFE_SHARE),)
        if self.share > SAFE_SHARE:
            return (Remark("near-whirl", share=self.share, most=SAFE_SHARE),)
        return ()
