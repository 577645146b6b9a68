"""The build ticket as one JSON object, with the keys of docs/json.md."""

from math import degrees
from typing import Any

from sim.findings import Code
from sim.speed import Excitation, Vibration
from sim.strength import Member, Strength
from sim.ticket.cut_list import Cut, Part
from sim.ticket.gears import GearSaid
from sim.ticket.phase_of import PhaseSaid
from sim.ticket.slip_plan import SlipPlan, Split
from sim.ticket.speed_of import JointAtSpeed, SpeedSaid
from sim.ticket.strength_of import SizeUp
from sim.ticket.sure import TicketSure
from sim.ticket.ticket import Ticket
from sim.vehicle import Joint
from sim.wrap.estimate import Estimate
from viewer.bars.asked import Sure
from viewer.bars.json import band_data, sure_data
from viewer.encoder import each_keyed, felt_data, keyed, plain, publish
from viewer.words.build import missing_words
from viewer.words.build_orders import ORDERS

_LIMITS = (
    "droop_mm=found.vehicle.travel.droop free_droop_mm=limits.free_droop "
    "stopped_by=limits.stopped_by split_droop_mm=limits.split_droop "
    "bump_mm=found.vehicle.travel.bump free_bump_mm=limits.free_bump "
    "stopped_above=limits.stopped_above straps_mm=limits.straps touches_at=found.down.first.at "
    "largest_bend_deg=limits.bends"
)
publish(
    {
        Cut: (
            "piece=piece.name joint_to_joint_mm=piece.length joint_to_joint=piece.length:fraction "
            "parts ears_deg=piece.phase tube_mm=tube cut_mm=cut rounded_mm=rounded "
            "slip_set_mm=slip_set slip=split too_long=off.0 too_short=off.1"
        ),
        Part: "name length_mm=length length=length:fraction saw=is_tube",
        Split: (
            "name closes_mm=closes opens_mm=opens closes_left_mm=closes_left "
            "opens_left_mm=opens_left engaged_mm=engaged fits"
        ),
        SlipPlan: (
            "place=at closing_mm=closing opening_mm=opening at_shortest at_longest "
            "reserve_mm=reserve spline_diameter_mm=spline least_engaged_mm=least "
            "wanted_engaged_mm=wanted stroke_mm=stroke barrel_mm=barrel by_rig built best choices "
            "chosen=chosen.name"
        ),
        Estimate: "estimate=value:nm low=low:nm high=high:nm",
        Strength: "weakest=weakest.name safety=weakest.safety holds_nm=holds members",
        Member: "name stress allowable safety formula material",
        SizeUp: (
            "joint size larger bend_deg=bend holds_nm=holds larger_holds_nm=larger_holds "
            "certified_clear_deg=clear larger_clear_deg=larger_clear"
        ),
        GearSaid: "gear=key ratio low_range shaft_rpm=shaft road_kmh=road",
        Excitation: "torsional drive coast torsional_limit inertia_limit",
        PhaseSaid: (
            "now_deg=now best_deg=best left_share teeth by_teeth_left_share=left_share_by_teeth"
        ),
        JointAtSpeed: (
            "joint bend_deg=bend bend_limit_deg=bend_limit speed_limit_rpm=speed_limit "
            "life_h=life.hours"
        ),
    }
)
_SPEED = (
    "shaft_rpm=top road_kmh=road gears whirl_rpm=whirl.critical whirl_open_rpm=whirl.critical_open "
    "plain_tube_rpm=plain whirl_share=margin.share mass_kg=whirl.mass excitation phase joints"
)


def build_data(ticket: Ticket, rig_name: str) -> dict[str, Any]:
    """Everything on the ticket, as plain data."""
    limits = keyed(ticket, _LIMITS)
    return {
        "rig": rig_name,
        "flags": [{"code": flag.code, "says": plain(flag)} for flag in ticket.flags],
        "how_sure": None if ticket.sure is None else sure_data(_sure(ticket.sure)),
        "cut_list": [
            plain(cut) | {"joint_to_joint_off_mm": _length_off(ticket.sure, place)}
            for place, cut in enumerate(ticket.cuts.cuts)
        ],
        "tape": each_keyed(
            (*ticket.front_tape, *ticket.tape), "at_output at_pinion reads_mm=reads"
        ),
        "slip_plan": plain(ticket.slip) | _slip_off(ticket.sure),
        "limits": limits | {key: limits[key] or None for key in ("stopped_by", "stopped_above")},
        "bends": {
            joint: keyed(each, "ride_deg=ride worst_deg=most certified_clear_deg=clear")
            | {"fitted": each.hardware.fitted}
            | _bend_bands(ticket.sure, joint, each.clear)
            for joint, each in ticket.found.joints.items()
        },
        "surroundings": plain(ticket.found.near),
        "torque": keyed(
            ticket.torque,
            "low_gear_nm=low_gear wheel_slip_nm=wheel_slip governs why shock_factor=shock "
            "peak_nm=peak",
        ),
        "strength": keyed(
            ticket.strength,
            "at_worst_bends=worst at_ride_bends=ride smallest_that_fits=fits one_size_up=sizes_up",
        ),
        "speed": _speed(ticket.speed, 0.5 * ticket.rig.shaft.tube.outside.mm),
        "missing": [{"key": key, "why": why} for key, why in missing_words(ticket).items()],
        "borrowed": list(ticket.drive.borrowed),
        "assumed": plain(ticket.assumed),
        "derived": [plain(item.remark) for item in ticket.derivation.derived],
        "notes": plain(ticket.derivation.notes),
    }


def _sure(sure: TicketSure) -> Sure:
    return Sure(sure.bars, sure.doubts)


def _length_off(sure: TicketSure | None, place: int) -> float | None:
    return None if sure is None else sure.lengths[place]


def _slip_off(sure: TicketSure | None) -> dict[str, Any]:
    """How far off what is left at either end may be."""
    ways: tuple[tuple[str, Code], ...] = (("closes", "slip-closes"), ("opens", "slip-opens"))
    return {f"{way}_left_off_mm": None if sure is None else sure.left(code) for way, code in ways}


def _bend_bands(sure: TicketSure | None, joint: Joint, clear: float) -> dict[str, Any]:
    """How far off the bend at ride height may be, and where the others lie."""
    if sure is None:
        return dict.fromkeys(("ride_off_deg", "worst_band", "certified_clear_band"))
    bands = {"worst_band": sure.most(joint), "certified_clear_band": sure.clear(joint, clear)}
    told = {name: None if band is None else band_data(*band) for name, band in bands.items()}
    return {"ride_off_deg": degrees(sure.ride[joint]), **told}


def _speed(said: SpeedSaid, radius: float) -> dict[str, Any]:
    """What turning does; weights of the balance on a tube of a radius (mm)."""
    return keyed(said, _SPEED) | {
        **felt_data(said.felt),
        "orders": [_order(each) for each in said.orders],
        "balance": [
            {
                "piece": name,
                "grade_mm_s": found.grade,
                "residual_g_mm": [found.first, found.last],
                "residual_oz_in": list(found.per_plane_oz_in),
                "weights_g": list(found.weights(radius)),
            }
            for name, found in said.balances
        ],
    }


def _order(each: Vibration) -> dict[str, Any]:
    felt, _ = ORDERS[each.order.name]
    return keyed(each, "name=order.name frequency_hz=frequency") | {"felt": felt}
