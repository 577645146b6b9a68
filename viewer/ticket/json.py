"""The build ticket as one JSON object, with the keys of docs/guide.md ("build --json")."""

from typing import Any

from sim.strength import Strength
from sim.ticket.cut_list import Cut
from sim.ticket.slip_plan import SlipPlan, Split
from sim.ticket.speed_of import SpeedSaid
from sim.ticket.ticket import Ticket
from sim.wrap.estimate import Estimate
from viewer.encoder import each_keyed, keyed, plain
from viewer.words.build import missing_words
from viewer.words.build_orders import ORDERS
from viewer.words.units import format_fraction

_LIMITS = (
    "droop_mm=found.vehicle.travel.droop free_droop_mm=limits.free_droop "
    "stopped_by=limits.stopped_by split_droop_mm=limits.split_droop "
    "bump_mm=found.vehicle.travel.bump free_bump_mm=limits.free_bump "
    "stopped_above=limits.stopped_above straps_mm=limits.straps touches_at=found.down.first.at "
    "largest_bend_deg=limits.bends"
)
_SIZE_UP = (
    "joint size larger bend_deg=bend holds_nm=holds larger_holds_nm=larger_holds "
    "certified_clear_deg=clear larger_clear_deg=larger_clear"
)
_SPLIT = (
    "name closes_mm=closes opens_mm=opens closes_left_mm=closes_left opens_left_mm=opens_left "
    "engaged_mm=engaged fits"
)
_SLIP = (
    "place=at closing_mm=closing opening_mm=opening at_shortest at_longest reserve_mm=reserve "
    "spline_diameter_mm=spline least_engaged_mm=least wanted_engaged_mm=wanted stroke_mm=stroke "
    "barrel_mm=barrel by_rig"
)
_SPEED = (
    "whirl_rpm=whirl.critical whirl_open_rpm=whirl.critical_open plain_tube_rpm=plain "
    "whirl_share=margin.share mass_kg=whirl.mass"
)
_JOINT = (
    "joint bend_deg=bend bend_limit_deg=bend_limit speed_limit_rpm=speed_limit life_h=life.hours"
)


def build_data(ticket: Ticket, rig_name: str) -> dict[str, Any]:
    """Everything on the ticket, as plain data."""
    torque, limits = ticket.torque, keyed(ticket, _LIMITS)
    return {
        "rig": rig_name,
        "flags": [{"code": flag.code, "says": plain(flag)} for flag in ticket.flags],
        "cut_list": [_cut(cut) for cut in ticket.cuts.cuts],
        "tape": each_keyed(
            (*ticket.front_tape, *ticket.tape), "at_output at_pinion reads_mm=reads"
        ),
        "slip_plan": _slip(ticket.slip),
        "limits": limits | {key: limits[key] or None for key in ("stopped_by", "stopped_above")},
        "bends": {
            joint: keyed(each, "ride_deg=ride worst_deg=most certified_clear_deg=clear")
            for joint, each in ticket.found.joints.items()
        },
        "surroundings": plain(ticket.found.near),
        "torque": {
            "low_gear_nm": _estimate(torque.low_gear),
            "wheel_slip_nm": _estimate(torque.wheel_slip),
            **keyed(torque, "governs why shock_factor=shock"),
            "peak_nm": _estimate(torque.peak),
        },
        "strength": {
            "at_worst_bends": _strength(ticket.strength.worst),
            "at_ride_bends": _strength(ticket.strength.ride),
            "smallest_that_fits": dict(ticket.strength.fits),
            "one_size_up": each_keyed(ticket.strength.sizes_up, _SIZE_UP),
        },
        "speed": _speed(ticket.speed, 0.5 * ticket.rig.shaft.tube.outside.mm),
        "missing": [{"key": key, "why": why} for key, why in missing_words(ticket).items()],
        "borrowed": list(ticket.drive.borrowed),
        "assumed": plain(ticket.assumed),
        "derived": [plain(item.remark) for item in ticket.derivation.derived],
        "notes": plain(ticket.derivation.notes),
    }


def _cut(cut: Cut) -> dict[str, Any]:
    off = (None, None) if cut.off is None else cut.off
    return {
        "piece": cut.piece.name,
        "joint_to_joint_mm": cut.piece.length,
        "joint_to_joint": format_fraction(cut.piece.length),
        "parts": [
            {
                "name": part.name,
                "length_mm": part.length,
                "length": format_fraction(part.length),
                "saw": part.is_tube,
            }
            for part in cut.parts
        ],
        **keyed(
            cut,
            "ears_deg=piece.phase tube_mm=tube cut_mm=cut rounded_mm=rounded slip_set_mm=slip_set",
        ),
        "slip": _split(cut.split),
        "too_long": _split(off[0]),
        "too_short": _split(off[1]),
    }


def _split(split: Split | None) -> dict[str, Any] | None:
    return None if split is None else keyed(split, _SPLIT)


def _slip(plan: SlipPlan) -> dict[str, Any]:
    return {
        **keyed(plan, _SLIP),
        "built": _split(plan.built),
        "best": _split(plan.best),
        "choices": [_split(split) for split in plan.choices],
        "chosen": None if plan.chosen is None else plan.chosen.name,
    }


def _estimate(found: Estimate | None) -> dict[str, float] | None:
    """A torque with its spread, N m."""
    if found is None:
        return None
    told = keyed(found, "estimate_nm=value low_nm=low high_nm=high")
    return {key.removesuffix("_nm"): value for key, value in told.items()}


def _strength(found: Strength | None) -> dict[str, Any] | None:
    if found is None:
        return None
    members = each_keyed(found.members, "name stress allowable safety formula material")
    weakest = keyed(found, "weakest=weakest.name safety=weakest.safety holds_nm=holds")
    return weakest | {"members": members}


def _speed(said: SpeedSaid, radius: float) -> dict[str, Any]:
    """What turning does; weights of the balance on a tube of a radius (mm)."""
    shake, phase = said.excitation, said.phase
    shares = None
    if phase is not None:
        whole = phase.left_now > 0.0
        by_teeth = phase.left_by_teeth if whole else None
        shares = {
            **keyed(phase, "now_deg=now best_deg=best"),
            "left_share": phase.left_best / phase.left_now if whole else 1.0,
            "teeth": phase.teeth,
            "by_teeth_left_share": None if by_teeth is None else by_teeth / phase.left_now,
        }
    return {
        **keyed(said, "shaft_rpm=top road_kmh=road"),
        "gears": each_keyed(said.gears, "gear=key ratio low_range shaft_rpm=shaft road_kmh=road"),
        **keyed(said, _SPEED),
        "excitation": None
        if shake is None
        else keyed(shake, "torsional drive coast torsional_limit inertia_limit"),
        "phase": shares,
        "joints": each_keyed(said.joints, _JOINT),
        "orders": [
            {
                **keyed(each, "name=order.name frequency_hz=frequency"),
                "felt": ORDERS[each.order.name][0],
            }
            for each in said.orders
        ],
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
