"""Typing into the sheet: what becomes of a text in a row, a table added, a kind chosen."""

import re
from collections.abc import Mapping, Sequence
from contextlib import suppress
from copy import deepcopy
from typing import Any

from sim.derive import ride_height_of, vehicle_of
from sim.rig import Rig, RigError, changed
from sim.rig.drive import SAME
from sim.rig.keys import key_at
from sim.suspension import KINDS, Kind
from sim.table.structure import is_list
from viewer.session.sheet.sheet import Field, Group
from viewer.session.text.document import Document
from viewer.words.units import format_length

NEW: Mapping[str, Any] = {
    **{key: start for kind in KINDS.values() for key, start in kind.adds.items()},
    "carrier": {
        "bearing": ["50 in", "0 in", "8 in"],
        "middle_joint_beyond": "3 1/2 in",
        "middle": {"cross": "27 x 82", "front_yoke": "weld yoke", "shaft_yoke": "weld yoke"},
    },
    "surroundings": {
        "name": "crossmember",
        "box": {"at": ["30 in", "0 in", "14 in"], "size": ["3 in", "30 in", "3 in"]},
    },
    **{
        f"{joint}.bench": {"ears": "any", "touches_at": "30 deg"}
        for joint in ("shaft.output_end", "carrier.middle", "shaft.pinion_end")
    },
    "seen_on_truck": {"at": "8 in droop", "turned": "free"},
    "visits": {"when": "2026-04-11", "state": "ride", "frame_to_axle": "7 1/2 in"},
    "surroundings.box": {"at": ["30 in", "0 in", "14 in"], "size": ["3 in", "30 in", "3 in"]},
    "surroundings.cylinder": {
        "from": ["45 in", "8 in", "14 in"],
        "to": ["10 in", "8 in", "14 in"],
        "outside": "2 1/4 in",
    },
}
"""What a table starts from when it is added: numbers of the right kind, to be typed over."""


def type_into(
    document: Document, field: Field, value: Any, key: str | None = None, joined: bool = False
) -> None:
    """Take what was typed into a row; an empty text takes the key away.

    key : which of the row's `others` is meant. joined : typing goes on, with one step for undo.
    Raises EditError for a place that is not there.
    """
    place = key or field.key
    document.set({place: _read(field, value)}, f"{field.label}", joined)


def add(document: Document, group: Group) -> None:
    """Put in a table that may be left out, or one more in a list of them."""
    plain = re.sub(r"\[\d+\]", "", group.key)
    start = deepcopy(NEW.get(plain, {}))
    if group.key == "wrap":
        start = _wrap_to_be_read(document)
    if group.key == "ride_height":
        length = ride_height_of(document.rig).length
        start = {"length": format_length(length).split(" (")[0]}
    listed = document.typed(group.key)
    if group.key and is_list(key_at(group.key)[1].annotation) and not group.entry:
        count = len(listed) if isinstance(listed, list) else 0
        key = f"{group.key}[{count + 1}]" if count else group.key
        document.set({key: start if count else [start]}, f"{group.title} added")
    else:
        gone = dict.fromkeys(_INSTEAD.get(group.key, ()))
        document.set({**gone, group.key: start}, f"{group.title} added")


def take_away(document: Document, group: Group) -> None:
    """Take out a table that may be left out."""
    document.set({group.key: None}, f"{group.title} taken away")


def choose_kind(document: Document, field: Field, kind: str) -> None:
    """Another kind of table at `field`, with numbers to start from."""
    path = field.key.removesuffix(".kind")
    if path == "suspension":
        known = next(each for each in KINDS if each == kind)
        document.set({path: _suspension(document.rig, known)}, f"suspension by {kind}")
    else:
        document.set({path: {"kind": kind}}, f"{path} by {kind}")


def _wrap_to_be_read(document: Document) -> dict[str, Any]:
    """Two readings of the pinion, of which one is known, and what is known of the drive."""
    start: dict[str, Any] = {"kind": "angles"}
    for key in ("points_up", "points_down"):
        slope = document.typed(f"axle.{key}")
        if slope is not None:
            start["before"] = {key: slope}
    same = {key: document.typed(f"drive.{key}") for key in SAME}
    return {**start, "drive": {key: value for key, value in same.items() if value is not None}}


def _suspension(rig: Rig, kind: Kind) -> dict[str, Any]:
    """A suspension of another kind: of what it may start from, the first that the rig takes."""
    starts = KINDS[kind].starts(vehicle_of(rig), rig.travel)
    first, *others = ({"kind": kind, **each} for each in starts)
    for each in others:
        try:
            changed(rig, {"suspension": first})
        except RigError:
            first = each
        else:
            break
    return first


def _read(field: Field, value: Any) -> Any:
    """The value of the file for what was typed; the text itself where it cannot be that."""
    if isinstance(value, str):
        text = value.strip()
        if not text:
            return None
        if field.kind == "number":
            return _number(text)
        if field.kind == "choice" and isinstance(field.typed, Mapping):
            return _renamed(field.typed, text)
        return text
    if isinstance(value, Sequence):
        texts = [str(each).strip() for each in value]
        return [text or "0 in" for text in texts] if any(texts) else None
    return value


def _number(text: str) -> Any:
    for plain in (int, float):
        with suppress(ValueError):
            return plain(text)
    return text


def _renamed(table: Mapping[str, Any], name: str) -> Any:
    """Another part of the catalogue; dimensions of the one before do not belong to it."""
    key = "size" if "size" in table else "kind"
    return {**table, key: name} if table.get(key) == name else name


_INSTEAD = {"wrap": ("travel.nose_up", "travel.nose_down")}
"""Keys that an added table takes the place of."""
