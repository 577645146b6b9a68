"""The check as one JSON object, with the keys of docs/guide.md ("Answers for programs")."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import degrees, isfinite
from typing import TYPE_CHECKING, Any

from sim.around.surroundings import SurroundingGap
from sim.check import Check, JointCheck
from sim.findings import Finding, Measure
from sim.search.first_contact import Contact, FirstContact
from sim.travel.what_it_takes import WhatItTakes
from sim.vehicle import Pose
from viewer.words.findings import says
from viewer.words.remarks import said

if TYPE_CHECKING:
    from sim.wrap import AxleWrap, Estimate


def check_data(result: Check, rig_name: str) -> dict[str, Any]:
    """Everything a check found, as plain data."""
    return {
        "rig": rig_name,
        "verdict": result.verdict,
        "assumed": [said(item.remark) for item in result.derivation.assumed],
        "derived": [said(item.remark) for item in result.derivation.derived],
        "notes": [said(note) for note in result.derivation.notes],
        "findings": [_finding(finding) for finding in result.findings],
        "joints": {joint: _joint(found) for joint, found in result.joints.items()},
        "slip": _slip(result),
        "first_contact": _first_contact(result.down, result),
        "first_contact_up": _first_contact(result.up, result),
        "surroundings": near_data(result.surroundings),
        "wrap": _wrap(result.derivation.wrap),
        "own_yokes": list(
            dict.fromkeys(note for each in result.joints.values() for note in each.hardware.notes)
        ),
        "bush_give": None
        if result.give is None
        else {"most_mm": number(result.give.value), "at": pose_data(result.give.at)},
        "running_at_ride": {
            "bends_deg": [degrees(bend) for bend in result.running.bends],
            "uneven_deg": degrees(result.running.lead_amplitude),
            "acceleration_per_speed_squared": result.running.greatest_acceleration,
            "like_one_joint_deg": degrees(result.running.like_one_joint),
            "equivalent_angle_deg": degrees(result.running.equivalent_angle),
        },
        "turns_at_ride": {
            "free": result.turn.free,
            "margin_deg": degrees(result.turn.margin),
            "joint": result.turn.joint,
            "spin_deg": degrees(result.turn.spin),
        },
    }


def _wrap(wrap: AxleWrap | None) -> dict[str, Any] | None:
    """How far the axle wraps and why, where that was worked out."""
    if wrap is None:
        return None
    torque = wrap.torque
    return {
        "nose_up": _estimate(wrap.nose_up, degrees, "deg") | {"governs": wrap.up_governs},
        "nose_down": _estimate(wrap.nose_down, degrees, "deg") | {"governs": wrap.down_governs},
        "driving_torque": _estimate(torque.driving, _newton_metre, "nm"),
        "braking_torque": _estimate(torque.braking, _newton_metre, "nm"),
        "hints": [said(hint) for hint in wrap.hints],
    }


def _estimate(found: Estimate, unit: Callable[[float], float], name: str) -> dict[str, Any]:
    """A number with its spread, the unit in the keys."""
    return {
        f"{key}_{name}": unit(value)
        for key, value in (("estimate", found.value), ("low", found.low), ("high", found.high))
    }


def _newton_metre(newton_mm: float) -> float:
    return newton_mm / 1000.0


def pose_data(at: Pose | None) -> dict[str, float] | None:
    """A pose as {travel_mm, roll_deg, wrap_deg}; travel positive in bump, wrap nose up."""
    if at is None:
        return None
    return {
        "travel_mm": at.travel + 0.0,  # no minus before a zero
        "roll_deg": degrees(at.roll) + 0.0,
        "wrap_deg": degrees(at.wrap) + 0.0,
    }


def near_data(gaps: Sequence[SurroundingGap]) -> list[dict[str, Any]]:
    """The smallest gap to each thing near the shaft, as plain data."""
    return [
        {
            "name": near.name,
            "part": near.part,
            "of": near.of,
            "yields": near.yields,
            "gap_mm": near.gap_mm,
            "certified_mm": near.certified_mm,
            "finished": near.finished,
            "not_looked_at": list(near.unseen),
            "at": pose_data(near.at),
            "points_mm": near.points.tolist(),
        }
        for near in gaps
    ]


def _finding(finding: Finding) -> dict[str, Any]:
    takes: WhatItTakes | None = finding.detail.get("takes")
    return {
        "code": finding.code,
        "subject": finding.subject,
        "verdict": finding.verdict,
        "margin": _measure(finding.margin),
        "limit": _measure(finding.limit),
        "worst": _measure(finding.worst),
        "at": pose_data(finding.at),
        "takes": None if takes is None else takes.takes,
        "level_at": None if takes is None else pose_data(takes.level),
        "says": says(finding),
        "rests_on_assumed": list(finding.rests_on_assumed),
    }


def _measure(measure: Measure) -> dict[str, Any]:
    return {"value": number(measure.value), "unit": measure.unit}


def _joint(found: JointCheck) -> dict[str, Any]:
    return {
        "touch_deg": number(degrees(found.curve.touch_min)),
        "certified_clear_deg": degrees(found.curve.certified_clear),
        "worst_bend_deg": number(degrees(found.sweep.most.value)),
        "ride_bend_deg": degrees(found.sweep.ride),
        "least_bend_deg": number(degrees(found.sweep.least.value)),
        "margin_deg": number(degrees(found.margin)),
        "gap_mm": found.gap.distance,
        "gap_kept_deg": degrees(found.room.keeps.certified_clear),
        "at": pose_data(found.sweep.most.at),
        "surfaces": list(found.meeting.surfaces),
        "parts": list(found.hardware.names(found.meeting)),
        "mesh_chord_mm": found.curve.chord,
    }


def _slip(result: Check) -> dict[str, Any]:
    swept, slip = result.envelope, result.envelope.slip
    return {
        "shortest_mm": number(swept.length_least),
        "longest_mm": number(swept.length_most),
        "ride_mm": swept.length_ride,
        "closes_left_mm": number(slip.closes_left),
        "opens_left_mm": number(slip.opens_left),
        "asked_closing_mm": number(max(0.0, -slip.shortest.value)),
        "asked_opening_mm": number(max(0.0, slip.longest.value)),
        "at_shortest": pose_data(slip.shortest.at),
        "at_longest": pose_data(slip.longest.at),
    }


def _first_contact(way: FirstContact, result: Check) -> dict[str, Any] | None:
    if way.first is None:
        return None
    rows = [
        {
            "roll_deg": degrees(row.roll),
            "wrap_deg": degrees(row.wrap),
            "contact": None if row.contact is None else _contact(row.contact, result),
        }
        for row in way.by_wrap
    ]
    return _contact(way.first, result) | {"by_wrap": rows}


def _contact(contact: Contact, result: Check) -> dict[str, Any]:
    curve = result.joints[contact.joint].curve
    first = curve.first
    return {
        "joint": contact.joint,
        "at": pose_data(contact.at),
        "bend_deg": number(degrees(curve.certified_clear)),
        "surfaces": None if first is None else list(first.surfaces),
    }


def number(value: float) -> float | None:
    """A finite number, or None: JSON has neither nan nor infinity."""
    return float(value) if isfinite(value) else None
