"""The signs that an inspection gives: for each the rule that reads it.

A sign is true or false, or left out where what it needs was not looked at. Which words and readings
speak for it is common practice, no source; limits are in `sim.seen.limits`.
"""

from collections.abc import Mapping, Sequence
from typing import Any, Final

from sim.causes.codes import SeenCode
from sim.rig.rig import Rig
from sim.seen.evidence import (
    PAIRS,
    Answer,
    Counted,
    Evidence,
    Measured,
    Or,
    at,
    chosen,
    either,
    every,
    listed,
    lists,
    number,
    on_caps,
    on_yokes,
    told,
)
from sim.seen.inspection import Inspection
from sim.seen.joint import yokes_of
from sim.seen.limits import LIMITS
from sim.seen.words import CAPS, YOKES, Happened, YokeName, was_at

_WORN: Final = frozenset(
    {
        "lines on the load side",
        "lines front and rear",
        "lines all round",
        "worn at the corners",
        "worn on one side",
        "flakes",
        "burned blue",
        "end galled",
    }
)
"""Words that say that a trunnion is worn, wherever."""

_BY_MILES: Final = "lines on the load side"
"""What any joint with miles has."""
_GAP: Final = "inside_span"
"""What the catalogue calls the gap between the ears."""


def signs_of(seen: Inspection, rig: Rig | None = None) -> dict[SeenCode, bool]:
    """Every sign that an inspection says something of.

    rig : the vehicle, where it is known; its own yokes tell what an ear gap should be.
    Raises `NoSuchJointError` for a joint that the rig does not have.
    """
    answers = ((code, evidence(seen, rig)) for code, evidence in SIGNS.items())
    return {code: answer for code, answer in answers if answer is not None}


def _one_dry(seen: Inspection, rig: Rig | None) -> Answer:
    """One cap dry and another one not; only a look at all four says that it is not so."""
    del rig
    dry = [_dry(words) for words in lists(seen, "seen")]
    if _some_dry(dry):
        return None
    if True in dry and False in dry:
        return True
    return None if None in dry else False


def _all_dry(seen: Inspection, rig: Rig | None) -> Answer:
    del rig
    dry = [_dry(words) for words in lists(seen, "seen")]
    return None if _some_dry(dry) else every(dry)


def _a_dry(seen: Inspection, rig: Rig | None) -> Answer:
    """A dry cap, as long as it is open whether it is the only one or all of them are."""
    if _one_dry(seen, rig) or _all_dry(seen, rig):
        return None
    return either(_dry(words) for words in lists(seen, "seen"))


def _some_dry(dry: Sequence[Answer]) -> bool:
    """Two or three are, and another one is not: neither one that takes no grease nor all four."""
    return dry.count(True) > 1 and False in dry


def _dry(words: Sequence[str] | None) -> Answer:
    """Whether a cap is dry; rust dust, mud and blue metal leave open whether grease was left."""
    if words is None or "dry" in words:
        return None if words is None else True
    return (
        False if {"rust dust", "burned blue", "muddy", "will not purge"}.isdisjoint(words) else None
    )


def _one_axis(seen: Inspection, rig: Rig | None) -> Answer:
    """The trunnions of one yoke are worn, and both of the other were looked at and are not.

    Lines on the load side come with the miles: where one axis is worn worse they do not make the
    other one worn. One trunnion that is worn beside a good one of the same yoke is no axis: a dry
    cap, or a bad seat under one cap, wears it so.
    """
    del rig
    for words in (_WORN - {_BY_MILES}, _WORN):
        found = _axes_worn(seen, words)
        if found is not False or words is _WORN:
            return found
    return False


def _axes_worn(seen: Inspection, by: frozenset[str]) -> Answer:
    """Whether just one axis is worn, by some words."""
    worn: list[Answer] = []
    for pair in PAIRS:
        words = [at(seen, f"caps.{cap}.trunnion") for cap in pair]
        found = [None if w is None else not by.isdisjoint(w) for w in words]
        if True in found and False in found:
            return False
        worn.append(either(found))
    if None in worn:
        return None
    return worn[0] != worn[1]


def _egged(seen: Inspection, rig: Rig | None) -> Answer:
    """A bore read in two directions that differ."""
    del rig
    found: list[Answer] = []
    for cap in CAPS:
        readings = seen.cap(cap).bore
        if readings is None or len(readings) == 1:
            found.append(None)
        else:
            found.append(abs(readings[0].mm - readings[1].mm) > LIMITS.clearance)
    return either(found)


def _spread(seen: Inspection, rig: Rig | None) -> Answer:
    """The ear gap at the tips against the one at the root, or the one that the rig was given."""
    return either(_wider(seen, rig, name) for name in YOKES)


def _wider(seen: Inspection, rig: Rig | None, name: YokeName) -> Answer:
    """Of one yoke. A gap of the catalogue would say nothing of this very yoke."""
    tips, root = seen.yoke(name).gap_at_tips, seen.yoke(name).gap_at_root
    if tips is None:
        return None
    if root is not None:
        return tips.mm - root.mm > LIMITS.spread
    typed = None if rig is None else yokes_of(seen, rig).get(name)
    gap = None if typed is None else typed.overrides.get(_GAP)
    return None if gap is None else tips.mm - gap > LIMITS.spread


def _skewed(seen: Inspection, rig: Rig | None) -> Answer:
    """A bar that does not go through both bores, or a bore that is off it."""
    del rig
    found: list[Answer] = []
    for name in YOKES:
        yoke = seen.yoke(name)
        bar = None if yoke.bar is None else yoke.bar != "goes through"
        off = None if yoke.off is None else yoke.off.mm > LIMITS.clearance
        found.append(either(each for each in (bar, off) if each is not None))
    return either(found)


def _paired(seen: Inspection, rig: Rig | None) -> Answer:
    del rig
    return None if seen.marks is None else _any(tuple(mark.pair for mark in seen.marks))


def _single(seen: Inspection, rig: Rig | None) -> Answer:
    del rig
    if seen.marks is None:
        return None
    return _any(tuple(None if mark.pair is None else not mark.pair for mark in seen.marks))


def _any(answers: tuple[Answer, ...]) -> Answer:
    """As `either`; where there is nothing at all, there is none."""
    return either(answers) if answers else False


def _marked(*surfaces: str) -> Evidence:
    """A mark with its place on one of some surfaces; marks elsewhere say nothing."""

    def says(seen: Inspection, rig: Rig | None) -> Answer:
        del rig
        found = {mark.surface for mark in seen.marks or ()}
        return True if any(word in surface for word in surfaces for surface in found) else None

    return Counted(says, ("marks",))


def _between(value: Any, few: float, many: float) -> Answer:
    """Whether a reading is past `many`; not so under `few`, and open in between."""
    if value is None or few <= number(value) < many:
        return None
    return number(value) >= many


def _many(seen: Inspection, rig: Rig | None) -> Answer:
    del rig
    return _between(at(seen, "history.distance"), LIMITS.few, LIMITS.many)


def _soon(seen: Inspection, rig: Rig | None) -> Answer:
    del rig
    late = _between(at(seen, "history.distance"), LIMITS.soon, LIMITS.not_soon)
    return None if late is None else not late


def _never_greased(seen: Inspection, rig: Rig | None) -> Answer:
    """Never; or when it was built and not since, which says so only after some distance."""
    del rig
    greased = at(seen, "history.greased")
    if greased != "when built":
        return None if greased is None else greased == "never"
    return _between(at(seen, "history.distance"), LIMITS.due, LIMITS.soon)


def _failed_before(seen: Inspection, rig: Rig | None) -> Answer:
    del rig
    times = at(seen, "history.failed_before")
    return None if times is None else times > 0


def _yoke_kept(seen: Inspection, rig: Rig | None) -> Answer:
    """A new joint went into the old yokes: said so, or it failed before and no yoke was changed."""
    changed = at(seen, "history.changed")
    if changed is None:
        return None
    if "joint only" in changed:
        return True
    if "yoke" in changed:
        return False
    return True if _failed_before(seen, rig) else None


def _apart(seen: Inspection, rig: Rig | None) -> Answer:
    """As it is told; else something lies there in pieces."""
    came = seen.came
    if came is not None:
        return came == "broke"
    return True if at(seen, "fracture.part") or _BROKEN(seen, rig) else None


def _shakes(times: int) -> Evidence:
    def says(seen: Inspection, rig: Rig | None) -> Answer:
        del rig
        turn = at(seen, "symptoms.per_turn")
        return None if turn is None else turn == times

    return Counted(says, ("symptoms.per_turn",))


def _happened(word: Happened) -> Evidence:
    """Named; not so only where something was named that cannot be at the same time."""

    def says(seen: Inspection, rig: Rig | None) -> Answer:
        del rig
        return was_at(at(seen, "symptoms.happened"), word)

    return Counted(says, ("symptoms.happened",))


_BROKEN: Final = Or(
    (
        listed("cross.seen", "broken at the root", "broken through the middle"),
        listed(on_caps("trunnion"), "broken off"),
        listed(on_caps("ear"), "torn"),
    )
)
_BURNED: Final = "burned blue"
_STRAPS: Final = on_caps("strap")
_NO_LINES_LEFT: Final = frozenset({"flakes", "burned blue", "worn on one side", "broken off"})
"""Of a trunnion: metal that is gone so far shows no lines any more."""
_NOT_APART: Final = frozenset({"stuck"})
"""Of a spline that nobody could pull apart to look at."""

SIGNS: Final[Mapping[SeenCode, Evidence]] = {
    "came-apart": Counted(_apart, ("came",)),
    # The last of any break is rough, and an old part is often rippled; all rough is neither.
    "fracture-rough": chosen("fracture.face", "rough", silent=("rippled", "old and new")),
    "fracture-rippled": chosen("fracture.face", "rippled", silent=("old and new",)),
    "fracture-old-and-new": chosen("fracture.face", "old and new", silent=("rippled",)),
    "cross-broken": Or(
        (
            listed(
                "cross.seen",
                "broken at the root",
                "broken through the middle",
                "cracked",
                "grease hole cracked",
            ),
        ),
        (chosen("fracture.part", "cross"), listed(on_caps("trunnion"), "broken off")),
    ),
    "ear-broken": Or(
        (listed(on_caps("ear"), "cracked", "torn"),), (chosen("fracture.part", "ear"),)
    ),
    # A look tells a yoke that is far out; that it is good only the caliper says.
    "ears-spread": Or(
        (Counted(_spread, (*on_yokes("gap_at_tips"), *on_yokes("gap_at_root"))),),
        (listed(on_caps("ear"), "spread", "bent"),),
    ),
    "bores-egged": Or(
        (Counted(_egged, on_caps("bore")),), (listed(on_caps("seat"), "egg-shaped"),)
    ),
    "bores-skewed": Counted(_skewed, (*on_yokes("bar"), *on_yokes("off"))),
    "hammer-marks": listed(on_caps("ear"), "hammer marks"),
    "half-moons": Or(
        (listed(on_yokes("tips"), "half-moon", "dent", "burr"),),
        (Measured(on_yokes("flat"), 0.0), _marked("tip")),
    ),
    "throat-dents": Or(
        (listed(on_yokes("throat"), "half-moon", "dent", "burr", "rubbed"),), (_marked("throat"),)
    ),
    "marks-paired": Counted(_paired, ("marks",)),
    "mark-single": Counted(_single, ("marks",)),
    "fitting-snapped": listed("cross.seen", "fitting snapped off"),
    "a-cap-dry": Counted(_a_dry, on_caps("seen")),
    "one-cap-dry": Counted(_one_dry, on_caps("seen")),
    "all-caps-dry": Counted(_all_dry, on_caps("seen")),
    "rust-dust": Or(
        (listed(on_caps("seen"), "rust dust"),), (listed(on_caps("needles"), "rusty"),)
    ),
    "burned": Or((listed(on_caps("trunnion"), _BURNED),), (listed(on_caps("seen"), _BURNED),)),
    "muddy": listed(on_caps("seen"), "muddy"),
    "seal-torn": listed(on_caps("seen"), "seal torn"),
    # That it does is known only to who tried, and is asked by itself.
    "will-not-purge": Or((), (listed(on_caps("seen"), "will not purge"),)),
    "one-axis-worn": Counted(_one_axis, on_caps("trunnion")),
    "corners-worn": listed(on_caps("trunnion"), "worn at the corners"),
    "lines-on-the-load-side": listed(
        on_caps("trunnion"), "lines on the load side", hidden_by=_NO_LINES_LEFT
    ),
    "lines-front-and-rear": listed(
        on_caps("trunnion"), "lines front and rear", hidden_by=_NO_LINES_LEFT
    ),
    "lines-all-round": listed(on_caps("trunnion"), "lines all round", hidden_by=_NO_LINES_LEFT),
    "flakes": listed(on_caps("trunnion"), "flakes"),
    "ends-galled": listed(on_caps("trunnion"), "end galled"),
    "needles-broken": listed(on_caps("needles"), "broken"),
    "needle-astray": listed(on_caps("needles"), "missing", "one lay at the bottom"),
    "cap-spun": Or((listed(on_caps("seen"), "spun"),), (listed(on_caps("seat"), "worn bright"),)),
    "cap-walked": listed(on_caps("seen"), "walked out"),
    "cap-crooked": Or(
        (listed(on_caps("seen"), "sits crooked"),), (Measured(on_caps("tilt"), LIMITS.tilt),)
    ),
    "cap-cracked": Or((listed(on_caps("seen"), "cracked"),), (chosen("fracture.part", "cap"),)),
    "clip-wrong": listed(on_caps("seen"), "wrong clip"),
    "clip-out": listed(on_caps("seen"), "clip out"),
    "seat-damaged": Or(
        (listed(on_caps("seat"), "gouged", "burr", "mushroomed edge"),),
        (Measured(on_caps("gouge"), 0.0), Measured(on_caps("edge"), 0.0)),
    ),
    "strap-loose": listed(_STRAPS, "loose", "stretched", hidden_by=("used again", "bolt sheared")),
    "strap-bolt-sheared": Or(
        (listed(_STRAPS, "bent", "bolt sheared", "tab broken"),),
        (chosen("fracture.part", "strap bolt"),),
    ),
    "spline-dry": listed("spline.seen", "dry", "rusty", hidden_by=_NOT_APART),
    "spline-worn": listed("spline.seen", "galled", "worn loose", hidden_by=_NOT_APART),
    "spline-stuck": listed("spline.seen", "stuck"),
    "spline-twisted": listed("spline.seen", "twisted"),
    "spline-bottomed": listed("spline.seen", "bottomed mark"),
    "spline-short": listed("spline.seen", "polished at the end only", hidden_by=_NOT_APART),
    "tube-twisted": listed("tube.seen", "twisted", "wrinkled"),
    "tube-dented": listed("tube.seen", "dented", "bent"),
    "tube-rubbed": listed("tube.seen", "rubbed"),
    "tube-torn": listed("tube.seen", "torn round"),
    "weld-cracked": Or((listed("tube.seen", "weld cracked"),), (chosen("fracture.part", "weld"),)),
    "weight-missing": listed("tube.seen", "weight missing"),
    "ball-broken": Or(
        (listed("ball.seen", "broken", "spring broken"),), (chosen("fracture.part", "ball"),)
    ),
    "ball-worn": listed("ball.seen", "worn", "dry"),
    "soon-again": Counted(_soon, ("history.distance",)),
    "failed-before": Counted(_failed_before, ("history.failed_before",)),
    "many-miles": Counted(_many, ("history.distance",)),
    "never-greased": Counted(_never_greased, ("history.greased",)),
    "not-all-purged": chosen("history.purged", "not all four", silent=("nobody looked",)),
    "water-crossed": chosen("history.water", "now and then", "often"),
    "lifted": told("history.changed", "lift"),
    "more-torque": told("history.changed", "gears", "tires", "engine"),
    "yoke-kept": Counted(_yoke_kept, ("history.changed",)),
    "at-a-hard-pull": _happened("hard pull"),
    "at-droop": _happened("droop"),
    "in-reverse-or-braking": _happened("reverse or braking"),
    "on-the-highway": _happened("highway"),
    "squeak": told("symptoms.noise", "squeak"),
    "clunk": told("symptoms.noise", "clunk"),
    "groan-at-droop": told("symptoms.noise", "groan at droop"),
    "rattle": told("symptoms.noise", "rattle"),
    "shudder": told("symptoms.noise", "shudder"),
    "shakes-once-a-turn": _shakes(1),
    "shakes-twice-a-turn": _shakes(2),
    "play": Or(
        (Measured(("play.at_tube",), LIMITS.play),),
        (Measured(on_caps("end_float"), LIMITS.float_),),
    ),
}
"""For each sign what it is read from."""

WITHOUT_A_SIGN: Final = frozenset(
    {
        ("needles", "worn"),
        ("seat", "rusty"),
        ("strap", "used again"),
        ("tips", "ground"),
        ("cross", "bent"),
        ("changed", "shocks"),
        ("changed", "springs"),
        ("changed", "straps"),
        ("changed", "nothing"),
        ("noise", "grind"),
    }
)
"""Words that are kept for whoever reads the file, and speak for no cause by themselves."""
