"""What the shaft hangs on, as parts drawn simply: case, axle housing, carrier bearing."""

import numpy as np

from geometry.solids import cylinder
from geometry.spline import spline_shaft
from sim.around.outline import INTO_CASE
from sim.frames import pose, unit
from sim.front_section import FrontSection
from sim.line import LineState
from sim.vehicle import Vehicle
from viewer.scene.mount import CHASSIS, HOUSING, Frames, On, TurnsAt, toward
from viewer.scene.part import Facts, Part, Piece
from viewer.scene.slip_place import SlipPlace
from viewer.scene.stand_ins import axle_housing, bearing_bracket, bearing_ring, output_case

DRAWN = "drawn simply"


def case_part(vehicle: Vehicle, frames: Frames, start: float) -> Part:
    """The case at the output, which stays with the chassis.

    start : mm from the joint's centre to where the output yoke ends.
    """
    X = np.array(frames["output yoke"])
    face = start - (2.0 if vehicle.slip.at == "shaft" else INTO_CASE)
    pieces = (Piece("cast iron", output_case(face)),)
    return Part("case", "vehicle", On(CHASSIS, X), pieces, Facts("case at the output", DRAWN))


def spline_part(vehicle: Vehicle, frames: Frames, start: float, slides: SlipPlace | None) -> Part:
    """The spline that a yoke slides on, which turns with it and stays with the case.

    start : as for `case_part`. slides : where the yoke has its bore, once that is known.
    """
    if slides is None:
        pulled = start - INTO_CASE - vehicle.slip.sized.opens
        solid = cylinder("x", 15.0, pulled - 20.0, start + 30.0, "spline")
    else:
        solid = spline_shaft(slides.spline - 0.2, slides.teeth, slides.at_ride, start + 30.0)
    on = TurnsAt("output yoke", frames["output yoke"][:3, 3])
    pieces = (Piece("bright steel", solid.mesh()),)
    return Part("output spline", "vehicle", on, pieces, Facts("spline of the output", DRAWN))


def housing_part(ride: LineState, pinion_land: float) -> Part:
    """The axle housing. ride : the line at ride height; pinion_land : mm, as for `case_part`."""
    ahead = -ride.axis_C_pinion
    left = np.array([0.0, 1.0, 0.0])
    left = unit(left - (left @ ahead) * ahead)
    # The pinion need not pass through the middle of the axle, so the snout starts on its line.
    reach = float(ride.p_C_pinion @ ahead)
    base = ride.p_C_pinion - reach * ahead
    X_AH = pose(np.stack([ahead, left, np.cross(ahead, left)], axis=-1), base)
    pieces = (Piece("cast iron", axle_housing(max(120.0, reach - pinion_land + 2.0))),)
    facts = Facts("axle housing", DRAWN)
    return Part("housing", "vehicle", On(HOUSING, X_AH), pieces, facts)


def bearing_part(section: FrontSection) -> Part:
    """The carrier bearing of a front section, and what holds it up."""
    start = section.p_C_output
    still = On(CHASSIS, toward(start, start + section.axis_C))
    at = section.to_bearing
    ring = Piece("rubber", bearing_ring(at)), Piece("grey steel", bearing_bracket(at))
    return Part("carrier bearing", "vehicle", still, ring, Facts("carrier bearing"))
