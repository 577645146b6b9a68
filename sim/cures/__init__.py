"""What would cure a shaft that binds: every remedy tried on the rig itself."""

from sim.cures.cures import REMEDIES, Cure, Cures, find_cures
from sim.cures.ranking import Weights, WeightsError, weights

__all__ = ["REMEDIES", "Cure", "Cures", "Weights", "WeightsError", "find_cures", "weights"]
