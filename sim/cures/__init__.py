"""What would cure a shaft that binds: every remedy tried on the rig itself.

remedy          what a remedy is
travel, pinion, output, wrap, yokes, double_cardan, slip, two_piece    the remedies
restate         a rig said anew in coordinates, turned, moved
outcome         the few numbers by which rigs are compared
search          the smallest dose that works; pairs
ranking         the order in which cures are offered
grinding        what relief of the joints would take
aim             where to aim the pinion
cures           all of it together
"""

from sim.cures.cures import REMEDIES, Cure, Cures, find_cures
from sim.cures.ranking import Weights, WeightsError, weights

__all__ = ["REMEDIES", "Cure", "Cures", "Weights", "WeightsError", "find_cures", "weights"]
