"""The check as one JSON object, with the keys of docs/json.md."""

from __future__ import annotations

from typing import Any

from sim.check import Check
from sim.cures.first_cure import FirstCure
from sim.findings import Finding
from sim.search.first_contact import Contact, FirstContact
from sim.ticket.felt_of import felt_of
from sim.turning_over import TurningOver
from viewer.bars.asked import UNASKED, Sure
from viewer.bars.json import again_data, finding_data, sure_data
from viewer.encoder import felt_data, keyed, plain
from viewer.words.findings import says
from viewer.words.first_page import first_page, page_lines
from viewer.words.turning import turn_line

_JOINT = (
    "touch_deg=curve.touch_min certified_clear_deg=curve.certified_clear "
    "worst_bend_deg=sweep.most.value ride_bend_deg=sweep.ride least_bend_deg=sweep.least.value "
    "margin_deg=margin gap_mm=gap.distance gap_kept_deg=room.keeps.certified_clear "
    "at=sweep.most.at surfaces=meeting.surfaces"
)
_SLIP = (
    "shortest_mm=length_least longest_mm=length_most ride_mm=length_ride "
    "closes_left_mm=slip.closes_left opens_left_mm=slip.opens_left"
)
_RUNNING = (
    "bends_deg=bends uneven_deg=lead_amplitude "
    "acceleration_per_speed_squared=greatest_acceleration "
    "like_one_joint_deg=like_one_joint equivalent_angle_deg=equivalent_angle"
)


def check_data(
    result: Check,
    rig_name: str,
    told: TurningOver | None = None,
    cure: FirstCure | None = None,
    sure: Sure = UNASKED,
) -> dict[str, Any]:
    """Everything a check found, and how sure that is, as plain data."""
    basis, swept = result.derivation, result.found.swept
    own = dict.fromkeys(note for each in result.joints.values() for note in each.hardware.notes)
    return {
        "rig": rig_name,
        "verdict": result.verdict,
        "assumed": [plain(item.remark) for item in basis.assumed],
        "derived": [plain(item.remark) for item in basis.derived],
        "notes": plain(basis.notes),
        "findings": [_finding(finding, sure) for finding in result.findings],
        "joints": {
            joint: keyed(found, _JOINT)
            | {
                "parts": list(found.hardware.names(found.meeting)),
                "mesh_chord_mm": found.curve.chord,
            }
            for joint, found in result.joints.items()
        },
        "slip": keyed(swept, _SLIP)
        | {
            "asked_closing_mm": plain(max(0.0, -swept.slip.shortest.value)),
            "asked_opening_mm": plain(max(0.0, swept.slip.longest.value)),
        }
        | keyed(swept.slip, "at_shortest=shortest.at at_longest=longest.at"),
        "first_contact": _first_contact(result.found.down, result),
        "first_contact_up": _first_contact(result.found.up, result),
        "surroundings": plain(result.found.near),
        "wrap": _wrap(result),
        "own_yokes": plain(list(own)),
        "bush_give": None if result.give is None else keyed(result.give, "most_mm=value at"),
        "running_at_ride": keyed(result.found.running, _RUNNING),
        "turned_over_by": [
            keyed(turn, "key assumed tried verdict") | {"says": turn_line(turn)}
            for turn in (() if told is None else told.turns)
        ],
        "first_page": page_lines(first_page(result, told, cure)),
        "how_sure": sure_data(sure),
        "measure_next": again_data(sure),
        "shake_at_ride": felt_data(felt_of(result.rig)),
        "turns_at_ride": keyed(result.found.turn, "free margin_deg=margin joint spin_deg=spin"),
    }


def _wrap(result: Check) -> dict[str, Any] | None:
    """How far the axle wraps and why, where that was worked out."""
    wrap = result.derivation.wrap
    if wrap is None:
        return None
    spread = "estimate_{0}=value low_{0}=low high_{0}=high".format
    return {
        "nose_up": keyed(wrap.nose_up, spread("deg")) | {"governs": wrap.up_governs},
        "nose_down": keyed(wrap.nose_down, spread("deg")) | {"governs": wrap.down_governs},
        "driving_torque": keyed(wrap.torque.driving, spread("nm")),
        "braking_torque": keyed(wrap.torque.braking, spread("nm")),
        "hints": plain(wrap.hints),
    }


def _finding(finding: Finding, sure: Sure) -> dict[str, Any]:
    takes = finding.detail.get("takes")
    return {
        **keyed(finding, "code subject verdict margin limit worst at"),
        "takes": None if takes is None else takes.takes,
        "level_at": None if takes is None else plain(takes.level),
        "says": says(finding),
        "fitted": finding.detail.get("fitted", False),
        "rests_on_assumed": list(finding.rests_on_assumed),
        **finding_data(sure, finding),
    }


def _first_contact(way: FirstContact, result: Check) -> dict[str, Any] | None:
    rows = [
        keyed(row, "roll_deg=roll wrap_deg=wrap") | {"contact": _contact(row.contact, result)}
        for row in way.by_wrap
    ]
    first = _contact(way.first, result)
    return None if first is None else first | {"by_wrap": rows}


def _contact(contact: Contact | None, result: Check) -> dict[str, Any] | None:
    if contact is None:
        return None
    curve = result.joints[contact.joint].curve
    meets = keyed(curve, "bend_deg=certified_clear surfaces=first.surfaces")
    return keyed(contact, "joint at") | meets
