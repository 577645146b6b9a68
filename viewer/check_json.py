"""The check as one JSON object, with the keys of docs/guide.md ("Answers for programs")."""

from math import degrees, isfinite
from typing import Any

from sim.check import Check, JointCheck
from sim.findings import Finding, Measure
from sim.first_contact import Contact, FirstContact
from sim.vehicle import Pose
from viewer.words import says


def check_data(result: Check, rig_name: str) -> dict[str, Any]:
    """Everything a check found, as plain data."""
    return {
        "rig": rig_name,
        "verdict": result.verdict,
        "assumed": [item.says for item in result.derivation.assumed],
        "derived": [item.says for item in result.derivation.derived],
        "notes": [item.says for item in result.derivation.notes],
        "findings": [_finding(finding) for finding in result.findings],
        "joints": {joint: _joint(found) for joint, found in result.joints.items()},
        "slip": _slip(result),
        "first_contact": _first_contact(result.down, result),
        "first_contact_up": _first_contact(result.up, result),
        "surroundings": [
            {
                "name": near.name,
                "part": near.part,
                "gap_mm": near.gap_mm,
                "certified_mm": near.certified_mm,
                "at": pose_data(near.at),
                "points_mm": near.points.tolist(),
            }
            for near in result.surroundings
        ],
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
            "equivalent_angle_deg": degrees(result.running.equivalent_angle),
        },
        "turns_at_ride": {
            "free": result.turn.free,
            "margin_deg": degrees(result.turn.margin),
            "joint": result.turn.joint,
            "spin_deg": degrees(result.turn.spin),
        },
    }


def pose_data(at: Pose | None) -> dict[str, float] | None:
    """A pose as {travel_mm, roll_deg, wrap_deg}; travel positive in bump, wrap nose up."""
    if at is None:
        return None
    return {
        "travel_mm": at.travel,
        "roll_deg": degrees(at.roll),
        "wrap_deg": degrees(at.wrap),
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "code": finding.code,
        "subject": finding.subject,
        "verdict": finding.verdict,
        "margin": _measure(finding.margin),
        "limit": _measure(finding.limit),
        "worst": _measure(finding.worst),
        "at": pose_data(finding.at),
        "says": says(finding),
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
