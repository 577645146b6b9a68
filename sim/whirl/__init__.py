"""The speed at which a shaft bows out: plain tube, whole shaft, two-piece shaft."""

from sim.whirl.beam import Beam, BeamError, Mass, Stretch, Support
from sim.whirl.margin import SAFE_SHARE, WhirlMargin, whirl_margin
from sim.whirl.one_piece import Piece, middle_of_mass, one_piece_speed, piece_beam
from sim.whirl.plain import dunkerley, longest_plain_tube, plain_tube, rayleigh
from sim.whirl.slip_sections import slip_stretches
from sim.whirl.two_piece import CarrierBearing, two_piece_speed

__all__ = [
    "SAFE_SHARE",
    "Beam",
    "BeamError",
    "CarrierBearing",
    "Mass",
    "Piece",
    "Stretch",
    "Support",
    "WhirlMargin",
    "dunkerley",
    "longest_plain_tube",
    "middle_of_mass",
    "one_piece_speed",
    "piece_beam",
    "plain_tube",
    "rayleigh",
    "slip_stretches",
    "two_piece_speed",
    "whirl_margin",
]
