"""The speed at which a shaft bows out: plain tube, pieces, whole shaft."""

from sim.whirl.beam import Beam, BeamError, Mass, Stretch, Support
from sim.whirl.margin import SAFE_SHARE, WhirlMargin
from sim.whirl.piece import Piece
from sim.whirl.plain import plain_tube
from sim.whirl.shaft import shaft_beam, shaft_speed
from sim.whirl.slip_sections import slip_stretches

__all__ = [
    "SAFE_SHARE",
    "Beam",
    "BeamError",
    "Mass",
    "Piece",
    "Stretch",
    "Support",
    "WhirlMargin",
    "plain_tube",
    "shaft_beam",
    "shaft_speed",
    "slip_stretches",
]
