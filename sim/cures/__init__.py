"""What would cure a shaft that binds: every remedy tried on the rig itself.

remedy          what a remedy is
travel, pinion, output, bearing, wrap, yokes, double_cardan, slip, slip_in_shaft, two_piece
                the remedies
worse           what a remedy makes worse
restate         a rig said anew in coordinates, turned, moved
as_typed        a cured rig in the keys and words that its rig was typed in
seats           where yokes are bolted, and other ones with their joint elsewhere
limits          what is left to every limit
outcome         the few numbers by which rigs are compared
glance          what a rig comes to at best, by a few of its poses
trial           doses of a remedy on a rig
search          the smallest dose that works
together, pairs two remedies on a grid of doses, and the two doses that cost least
ranking         the order in which cures are offered
grinding        what relief of the joints would take
aim             where to aim the pinion
cures           all of it together
"""

from sim.cures.cures import REMEDIES, Cure, Cures, find_cures
from sim.cures.ranking import Weights, WeightsError, weights

__all__ = ["REMEDIES", "Cure", "Cures", "Weights", "WeightsError", "find_cures", "weights"]
