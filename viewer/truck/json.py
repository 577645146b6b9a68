"""What was seen on the truck and on its visits, as one JSON object (docs/json.md)."""

from math import degrees
from typing import Any

from sim.truck.explained import Wrong
from sim.truck.held import HeldItem
from sim.visits.moved import Moved
from viewer.encoder import number, plain
from viewer.truck.answer import TruckAnswer
from viewer.words.remarks import said
from viewer.words.truck import (
    chance_words,
    contradiction_words,
    held_words,
    seen_words,
    together_words,
    wrong_words,
)
from viewer.words.visits import look_words, rig_lines


def truck_data(found: TruckAnswer) -> dict[str, Any]:
    """Everything that was held against each other."""
    held, visits = found.held, found.visits
    seen = {each.observed.number: each.observed for each in held.items}
    return {
        "rig": found.rig.name,
        "seen": [_seen(each) for each in held.items],
        "contradictions": [
            {
                "one": each.one,
                "other": each.other,
                "chance": each.chance,
                "says": contradiction_words(each, seen),
            }
            for each in held.contradictions
        ],
        "agrees": not held.disagrees,
        "alone": [_wrong(each) | {"says": wrong_words(each)} for each in held.alone],
        "together": None
        if held.together is None
        else {
            "squares": held.together.squares,
            "chance": held.together.chance,
            "parts": [_wrong(each) for each in held.together.parts],
            "says": f"{together_words(held.together)} {chance_words(held.together)}",
        },
        "visits": [
            {
                "state": each.state,
                "was": each.was,
                "now": each.now,
                "days": each.days,
                "moves": [_move(move) for move in each.moves],
                "looks": [{"code": look.look, "says": look_words(look)} for look in each.looks],
            }
            for each in visits.between
        ],
        "against_rig": None
        if visits.rig is None
        else {
            "visit": visits.rig.visit,
            "moves": [_move(move) for move in visits.rig.moves],
            "settled_mm": visits.rig.lower,
            "put_in": dict(visits.rig.put_in),
            "says": list(rig_lines(visits.rig, found.rig.visits)),
        },
        "doubts": [{"key": each.key, "says": said(each)} for each in visits.doubts],
    }


def _seen(item: HeldItem) -> dict[str, Any]:
    seen = item.observed
    return {
        "key": seen.key,
        "what": seen.what,
        "joint": seen.joint,
        "pose": plain(seen.at) if seen.at is not None else None,
        "seen": _measure(seen.unit, seen.seen),
        "computed": _measure(seen.unit, item.computed),
        "computed_off": _measure(seen.unit, item.off),
        "seen_off": _measure(seen.unit, item.seen_off),
        "chance": item.chance,
        "agrees": item.agrees,
        "reached": item.reached,
        "past_travel": item.beyond,
        "says": f"{seen_words(seen)}. {held_words(item)}",
    }


def _wrong(each: Wrong) -> dict[str, Any]:
    of = each.of
    return {
        "key": of.key,
        "value": _measure(of.unit, of.value),
        "would_be": _measure(of.unit, each.would_be),
        "off": _measure(of.unit, of.off),
        "deviations": each.deviations,
        "left_over": each.rest,
        "explains": each.explains,
    }


def _move(each: Moved) -> dict[str, Any]:
    return {
        "reading": each.reading,
        "was": _measure(each.unit, each.was),
        "now": _measure(each.unit, each.now),
        "off": _measure(each.unit, each.off),
        "move": each.move,
        "sure": each.sure,
    }


def _measure(unit: str, value: float) -> dict[str, Any]:
    if unit == "rad":
        return {"value": number(degrees(value)), "unit": "deg"}
    return {"value": number(value), "unit": "mm"}
