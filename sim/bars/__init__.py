"""Error bars: the chance that a finding touches or runs out, its band, and what to read again."""

from sim.bars.drawn import Drawn, Key
from sim.bars.how_sure import BarsError, bars, first_bars, kept_bars
from sim.bars.model import Model
from sim.bars.result import Again, Band, Bars, FindingBars, Likely, Outcome, PoseBand, likely_of

__all__ = [
    "Again",
    "Band",
    "Bars",
    "BarsError",
    "Drawn",
    "FindingBars",
    "Key",
    "Likely",
    "Model",
    "Outcome",
    "PoseBand",
    "bars",
    "first_bars",
    "kept_bars",
    "likely_of",
]
