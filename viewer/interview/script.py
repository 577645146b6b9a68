"""What is asked, in which order; the words stand at the keys of the schema."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any, Final, assert_never

from sim.rig.datum import datums_at_hand
from sim.rig.drive import DriveTable
from sim.rig.tape import FROM_THE_SEAL
from sim.rig.validation import sound_sections
from sim.suspension import KINDS, Kind
from sim.suspension.measured.table import FEWEST
from sim.table.problems import Problem
from viewer.interview.answers import Keys, choice, height, stops
from viewer.interview.assembling import assemble
from viewer.interview.on_truck import on_truck
from viewer.interview.own import BAR, DATUM, DRIVE, PIECES, SPECIAL, TESTED, TORQUE, WAY
from viewer.interview.points import point
from viewer.interview.question import Question, Said, asked, each
from viewer.words.ticket import DRIVE_ASSUMED

LINKS_DONE: Final = "(links done)"
DONE: Final = "done"
_TAPE: Final = "ride_height.tape"
_MEANT: Final = {
    "joint centre": "the middle of the cross, or of a head's ball",
    "flange face": "where the two flanges meet, at its middle",
    "outer cross": "of a double-Cardan head, the cross away from the shaft",
    "inner cross": "of a double-Cardan head, the cross on the shaft",
    "output seal": "the face of the seal that the slip yoke goes into",
    "shaft end": "the end of the output shaft itself, not of the housing",
    "yoke flat": "the ends of a strap yoke's ears",
}
_GEARS: Final = ("low_gear", "low_range", "converter", "axle_ratio", "friction")


def next_question(said: Said, answered: Collection[str]) -> Question | None:
    """The first question that is not answered yet, or None when all are."""
    return next((each for each in questions(said) if each.name not in answered), None)


def questions(said: Said) -> Iterator[Question]:
    """Every question in order; later ones depend on what was said before."""
    by_coordinates = said.get(WAY.name) == "coordinates" or bool(said.get(PIECES.name))
    yield from each(said, "name", "note", "axle.position")
    yield from _layout(said)
    if not said.get(PIECES.name):
        yield WAY
    yield from each(said, "output.points_down", "output.points_left")
    if by_coordinates:
        yield from point("output.joint", said)
    else:
        yield from _ride_height(said)
    yield from each(said, "axle.points_up", "axle.points_left")
    if by_coordinates:
        yield from point("axle.pinion_joint", said)
    else:
        yield asked("axle.snout", said)
    if said.get(PIECES.name):
        yield from point("carrier.bearing", said)
        beyond = ("carrier.middle_joint_beyond", "carrier.bearing_stub", "carrier.phase")
        yield from each(said, *beyond)
    if said.get("axle.position") == "front":
        yield from each(said, "axle.caster", "axle.hubs")
    yield from _travel(said)
    yield from suspension(said)
    yield from parts(said)
    yield from _drive(said)
    yield from on_truck(said)


def _layout(said: Said) -> Iterator[Question]:
    """Whether it is a plain shaft, and what it is otherwise."""
    yield SPECIAL
    if said.get(SPECIAL.name) is None:
        return
    yield PIECES
    # A head ahead of a carrier bearing is refused.
    for end in ("pinion",) if said.get(PIECES.name) else ("output", "pinion"):
        yield asked(f"shaft.{end}_end.joint", said, end=end)
        if said.get(f"shaft.{end}_end.joint") == "double":
            yield asked(f"shaft.{end}_end.head", said, end=end)


def _ride_height(said: Said) -> Iterator[Question]:
    """The length between the points that it was measured between, and how the shaft lies."""
    yield DATUM
    if said.get(DATUM.name) == "tape":
        yield from _tape(said)
    else:
        yield asked("ride_height.length", said)
    yield asked("ride_height.shaft_points_down", said, also="ride_height.pinion_lower")
    yield asked("ride_height.shaft_points_left", said, also="ride_height.pinion_left")


def _tape(said: Said) -> Iterator[Question]:
    """A tape that was held to other places than the joint centres."""
    yield from parts(said)
    for end, names in zip(("output", "pinion"), _datums(said), strict=True):
        key = f"{_TAPE}.at_{end}"
        shown = "; ".join(f"{i} {name}, {_MEANT[name]}" for i, name in enumerate(names, start=1))
        read = choice(key, {name: name for name in names})
        yield asked(key, said, read=read, choices=f"{shown[:1].upper()}{shown[1:]}")
    held = said.get(f"{_TAPE}.at_output")
    if held == "shaft end":
        yield asked(f"{_TAPE}.stick_out", said)
    if held in FROM_THE_SEAL:
        yield asked(f"{_TAPE}.seal_to_joint", said)
    yield asked(f"{_TAPE}.reads", said)


def _datums(said: Said) -> tuple[list[str], list[str]]:
    """Places at the output and at the pinion that the parts told so far have."""
    shaft = sound_sections(assemble(said))[0].get("shaft")
    if shaft is None:  # while a part is still asked for; nobody is shown this
        return ["joint centre"], ["joint centre"]
    output, pinion = datums_at_hand(shaft, None)
    at_output: list[str] = [*output]
    if "output seal" in output:
        at_output.append("shaft end")
    return at_output, [*pinion]


def _travel(said: Said) -> Iterator[Question]:
    """How far the axle goes from ride height."""
    yield from each(said, "travel.bump", "travel.droop", "travel.roll")
    apart = stops("travel.stops_apart", "travel.droop_strap")
    yield asked("travel.stops_apart", said, read=apart)
    yield TESTED
    if said.get("wrap.kind") is None:
        yield from each(said, "travel.nose_up", "travel.nose_down")
    else:
        yield from _test(said)
    if any(said.get(key) for key in ("travel.nose_up", "travel.nose_down", "wrap.kind")):
        yield asked("travel.wrap_at_droop", said)


def _test(said: Said) -> Iterator[Question]:
    """A simple test of axle wrap, and what caps the torque that it is carried over to."""
    if said["wrap.kind"] == "angles":
        yield from each(said, "wrap.before", "wrap.under_torque")
    else:
        yield from each(said, "wrap.rises", "wrap.lever", "wrap.points_up")
    yield TORQUE
    by_place = {
        "axle": ("wrap.torque",),
        "pinion": ("wrap.pinion_torque",),
        "bar": ("wrap.pull", "wrap.arm"),
    }
    yield from each(said, *by_place.get(said.get(TORQUE.name, ""), ()))
    drive = ("engine_torque", "axle_load", "tyre_radius", *_GEARS)
    yield from each(said, *(f"wrap.drive.{key}" for key in drive))


def suspension(said: Said) -> Iterator[Question]:
    """What carries the axle."""
    known = " ".join(f"{kind}: {_known(kind)}" for kind in KINDS)
    yield asked("suspension", said, name="suspension.kind", kinds=known)
    kind = said.get("suspension.kind")
    if kind in KINDS:
        yield from _of_kind(kind, said)


def _known(kind: Kind) -> str:
    """What is known of the suspension, for each kind that it may be."""
    match kind:
        case "vertical":
            return "nothing, the axle is taken to go straight up and down."
        case "measured":
            return "shaft length and pinion angle read at three or more heights of the axle."
        case "leaf":
            return "where the left leaf spring's fixed eye and seat are."
        case "links":
            return "where both ends of every link are."
        case _:
            assert_never(kind)


def _of_kind(kind: Kind, said: Said) -> Iterator[Question]:
    """The questions of each kind."""
    match kind:
        case "vertical":
            return
        case "measured":
            yield from _readings(said)
        case "leaf":
            yield from point("suspension.fixed_eye", said, "spring")
            yield from point("suspension.seat", said, "spring")
        case "links":
            yield from _links(said)
        case _:
            assert_never(kind)


def _readings(said: Said) -> Iterator[Question]:
    place = 1
    while True:
        key = f"suspension.readings[{place}]"
        enough = place > FEWEST
        more = f" {DONE} when there are no more." if enough else f" {FEWEST} at the least."
        read = height(f"{key}.at", DONE if enough else "")
        at = asked(f"{key}.at", said, read=read, place=f"{place}")
        yield replace(at, means=at.means + more)
        if said.get(f"{key}.at") in (None, DONE):
            return
        yield from each(said, f"{key}.length", f"{key}.points_up")
        place += 1


def _links(said: Said) -> Iterator[Question]:
    """A track bar, then one link after another until there are no more."""
    yield BAR
    if said.get(BAR.name):
        yield from _link_ends("suspension.track_bar", "the track bar", said)
    place = 1
    while True:
        key = f"suspension.links[{place}]"

        def name(text: str, key: str = f"{key}.name") -> Keys:
            return {LINKS_DONE: True} if text.lower() == DONE else {key: text}

        yield asked(
            "suspension.links", said, name=f"{key}.name", read=name, place=f"{place}", done=DONE
        )
        if said.get(LINKS_DONE):
            return
        yield from _link_ends(key, f"link {place}", said)
        yield asked(f"{key}.mirrored", said)
        place += 1


def _link_ends(key: str, name: str, said: Said) -> Iterator[Question]:
    for end in ("chassis", "axle"):
        yield from point(f"{key}.{end}", said, "link", name)


def parts(said: Said) -> Iterator[Question]:
    """The parts of the shaft: slip, the joint at each end and between them, and tube."""
    two_pieces = said.get(PIECES.name)
    if not two_pieces:  # the slip of a two-piece shaft is behind its bearing
        yield asked("shaft.slip.at", said)
    yield from each(said, *(f"shaft.slip.{key}" for key in ("closes", "opens", "comes_apart")))
    for end in ("output", "pinion"):
        for part in ("cross", f"{end}_yoke", "shaft_yoke"):
            yield asked(f"shaft.{end}_end.{part}", said, end=end)
    if two_pieces:
        middle = ("cross", "front_yoke", "shaft_yoke")
        yield from each(said, *(f"carrier.middle.{part}" for part in middle))
    yield from each(said, "shaft.tube.outside", "shaft.tube.wall")


def _drive(said: Said) -> Iterator[Question]:
    """What drives the shaft, where it is known; what the wrap test told is not asked again."""
    yield DRIVE
    for key in DriveTable.model_fields if said.get(DRIVE.name) else ():
        if f"wrap.drive.{key}" not in said:
            known = DRIVE_ASSUMED.get(key, "not known").partition(":")[0]
            yield asked(f"drive.{key}", said, default=known)


# What is not judged before it is complete: a set of links, a shaft whose bearing is to come.


def told_now(said: Said, problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Leave out what further links may put right: that the set does not hold or reach."""
    if not _links_to_come(said):
        return tuple(problems)
    return tuple(
        problem
        for problem in problems
        if not problem.key.startswith(("suspension", "travel"))
        or problem.key.startswith(("suspension.links", "suspension.track_bar"))
    )


def settled(said: Said, sections: Mapping[str, Any]) -> dict[str, Any]:
    """Sections that may be looked at for what is odd."""
    waits = {"suspension"} if _links_to_come(said) else set()
    if said.get(PIECES.name) and sections.get("carrier") is None:
        waits.add("output")  # until then the front section would be taken for the shaft
    return {name: section for name, section in sections.items() if name not in waits}


def _links_to_come(said: Said) -> bool:
    kind = said.get("suspension.kind")
    return kind in KINDS and KINDS[kind].has_links and not said.get(LINKS_DONE)
