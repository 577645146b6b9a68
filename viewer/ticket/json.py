"""The build ticket as one JSON object, with the keys of docs/guide.md ("build --json")."""

from math import degrees
from typing import Any

from sim.strength import Strength
from sim.ticket.cut_list import Cut
from sim.ticket.slip_plan import SlipPlan, Split
from sim.ticket.speed_of import SpeedSaid
from sim.ticket.ticket import Ticket
from sim.wrap.estimate import Estimate
from viewer.check.json import near_data, number, pose_data
from viewer.ticket.words import missing_words
from viewer.words.remarks import said
from viewer.words.units import format_fraction

RPM = 9.549296585513721
"""rpm for 1 rad/s."""


def build_data(ticket: Ticket, rig_name: str) -> dict[str, Any]:
    """Everything on the ticket, as plain data."""
    limits = ticket.limits
    return {
        "rig": rig_name,
        "flags": [{"code": flag.code, "says": said(flag)} for flag in ticket.flags],
        "cut_list": [_cut(cut) for cut in ticket.cuts.cuts],
        "tape": [
            {"at_output": each.at_output, "at_pinion": each.at_pinion, "reads_mm": each.reads}
            for each in (*ticket.front_tape, *ticket.tape)
        ],
        "slip_plan": _slip(ticket.slip),
        "limits": {
            "droop_mm": limits.droop,
            "free_droop_mm": limits.free_droop,
            "stopped_by": limits.stopped_by or None,
            "split_droop_mm": limits.split_droop,
            "bump_mm": limits.bump,
            "free_bump_mm": limits.free_bump,
            "stopped_above": limits.stopped_above or None,
            "straps_mm": limits.straps,
            "touches_at": None if limits.touch.first is None else pose_data(limits.touch.first.at),
            "largest_bend_deg": {joint: degrees(b) for joint, b in limits.bends.items()},
        },
        "bends": {
            joint: {
                "ride_deg": degrees(ticket.ride[joint]),
                "worst_deg": degrees(worst),
                "certified_clear_deg": number(degrees(ticket.clear[joint])),
            }
            for joint, worst in ticket.worst.items()
        },
        "surroundings": near_data(ticket.near),
        "torque": {
            "low_gear_nm": _estimate(ticket.torque.low_gear),
            "wheel_slip_nm": _estimate(ticket.torque.wheel_slip),
            "governs": ticket.torque.governs,
            "why": said(ticket.torque.why),
            "shock_factor": ticket.torque.shock.factor,
            "peak_nm": _estimate(ticket.torque.peak),
        },
        "strength": {
            "at_worst_bends": _strength(ticket.strength.worst),
            "at_ride_bends": _strength(ticket.strength.ride),
            "smallest_that_fits": dict(ticket.strength.fits),
            "one_size_up": [
                {
                    "joint": up.joint,
                    "size": up.size,
                    "larger": up.larger,
                    "bend_deg": degrees(up.bend),
                    "holds_nm": up.holds / 1000.0,
                    "larger_holds_nm": up.larger_holds / 1000.0,
                    "certified_clear_deg": number(degrees(up.clear)),
                    "larger_clear_deg": number(degrees(up.larger_clear)),
                }
                for up in ticket.strength.sizes_up
            ],
        },
        "speed": _speed(ticket.speed, 0.5 * ticket.rig.shaft.tube.outside.mm),
        "missing": [{"key": key, "why": why} for key, why in missing_words(ticket).items()],
        "borrowed": list(ticket.drive.borrowed),
        "assumed": [said(each) for each in ticket.assumed],
        "derived": [said(item.remark) for item in ticket.derivation.derived],
        "notes": [said(note) for note in ticket.derivation.notes],
    }


def _cut(cut: Cut) -> dict[str, Any]:
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
        "ears_deg": degrees(cut.piece.phase),
        "tube_mm": cut.tube,
        "cut_mm": cut.cut,
        "rounded_mm": cut.rounded,
        "slip_set_mm": cut.slip_set,
        "slip": None if cut.split is None else _split(cut.split),
        "too_long": None if cut.off is None else _split(cut.off[0]),
        "too_short": None if cut.off is None else _split(cut.off[1]),
    }


def _split(split: Split) -> dict[str, Any]:
    return {
        "name": split.name,
        "closes_mm": split.closes,
        "opens_mm": split.opens,
        "closes_left_mm": split.closes_left,
        "opens_left_mm": split.opens_left,
        "engaged_mm": split.engaged,
        "fits": split.fits,
    }


def _slip(plan: SlipPlan) -> dict[str, Any]:
    return {
        "place": plan.at,
        "closing_mm": plan.closing,
        "opening_mm": plan.opening,
        "at_shortest": pose_data(plan.at_shortest),
        "at_longest": pose_data(plan.at_longest),
        "reserve_mm": plan.reserve,
        "spline_diameter_mm": plan.spline,
        "least_engaged_mm": plan.least,
        "wanted_engaged_mm": plan.wanted,
        "stroke_mm": plan.stroke,
        "barrel_mm": plan.barrel,
        "by_rig": plan.by_rig,
        "built": _split(plan.built),
        "best": _split(plan.best),
        "choices": [_split(split) for split in plan.choices],
        "chosen": None if plan.chosen is None else plan.chosen.name,
    }


def _estimate(found: Estimate | None) -> dict[str, float] | None:
    if found is None:
        return None
    return {
        "estimate": found.value / 1000.0,
        "low": found.low / 1000.0,
        "high": found.high / 1000.0,
    }


def _strength(found: Strength | None) -> dict[str, Any] | None:
    if found is None:
        return None
    return {
        "weakest": found.weakest.name,
        "safety": number(found.weakest.safety),
        "holds_nm": number(found.holds / 1000.0),
        "members": [
            {
                "name": member.name,
                "stress": number(member.stress),
                "allowable": member.allowable,
                "safety": number(member.safety),
                "formula": member.formula,
                "material": member.material,
            }
            for member in found.members
        ],
    }


def _speed(said: SpeedSaid, radius: float) -> dict[str, Any]:
    """What turning does; weights of the balance on a tube of a radius (mm)."""
    shake, phase = said.excitation, said.phase
    return {
        "shaft_rpm": None if said.top is None else said.top * RPM,
        "road_kmh": None if said.road is None else said.road * 3.6e-3,
        "gears": [
            {
                "gear": gear.key,
                "ratio": gear.ratio,
                "low_range": gear.low_range,
                "shaft_rpm": gear.shaft * RPM,
                "road_kmh": None if gear.road is None else gear.road * 3.6e-3,
            }
            for gear in said.gears
        ],
        "whirl_rpm": None if said.critical is None else said.critical * RPM,
        "whirl_open_rpm": None if said.critical_open is None else said.critical_open * RPM,
        "plain_tube_rpm": said.plain * RPM,
        "whirl_share": None if said.whirl is None else said.whirl.share,
        "mass_kg": said.mass,
        "excitation": None
        if shake is None
        else {
            "torsional": shake.torsional,
            "drive": shake.drive,
            "coast": shake.coast,
            "torsional_limit": shake.torsional_limit,
            "inertia_limit": shake.inertia_limit,
        },
        "phase": None
        if phase is None
        else {
            "now_deg": [degrees(each) for each in phase.now],
            "best_deg": [degrees(each) for each in phase.best],
            "left_share": phase.left_best / phase.left_now if phase.left_now > 0.0 else 1.0,
            "teeth": phase.teeth,
            "by_teeth_left_share": None
            if phase.left_by_teeth is None or not phase.left_now > 0.0
            else phase.left_by_teeth / phase.left_now,
        },
        "joints": [
            {
                "joint": joint.joint,
                "bend_deg": degrees(joint.bend),
                "bend_limit_deg": None if joint.bend_limit is None else degrees(joint.bend_limit),
                "speed_limit_rpm": number(joint.speed_limit * RPM),
                "life_h": None if joint.life is None else number(joint.life.hours),
            }
            for joint in said.joints
        ],
        "orders": [
            {"name": each.order.name, "frequency_hz": each.frequency, "felt": each.order.felt}
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
