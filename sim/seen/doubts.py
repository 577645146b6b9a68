"""What is odd about an inspection: it is told, and the inspection is used all the same.

Each doubt is a remark at a key of the file. What contradicts what is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import pi
from typing import Final, get_args

from sim.causes.codes import SeenCode
from sim.parts.catalogue import yoke_class
from sim.parts.cross_fit import NEAR_CAP
from sim.remark import Remark
from sim.rig.fitted import fitted_cross
from sim.rig.rig import Rig
from sim.seen.amounts import clock_angle
from sim.seen.evidence import PAIRS, at, number, on_yokes
from sim.seen.inspection import Inspection
from sim.seen.joint import is_head, typed_of, yokes_of
from sim.seen.limits import LIMITS
from sim.seen.signs import signs_of
from sim.seen.words import CAPS, YOKES, caps_of, was_at

Doubt = Callable[[Inspection, Rig | None], Iterator[Remark]]
"""Finds one kind of doubt."""


def doubts(seen: Inspection, rig: Rig | None = None) -> tuple[Remark, ...]:
    """Everything odd about an inspection, of a rig where it is known.

    Raises `NoSuchJointError` for a joint that the rig does not have.
    """
    return tuple(remark for doubt in DOUBTS for remark in doubt(seen, rig))


def of_another(other: str, name: str) -> Remark:
    """The doubt of an inspection that says another rig's name than the one it is asked of."""
    return Remark("seen-other-rig", "rig", other=other, rig=name)


def _how_much(seen: Inspection, rig: Rig | None) -> Iterator[Remark]:
    """Nothing was seen, or nearly everything."""
    if seen.is_blank:
        yield Remark("seen-nothing")
    signs = signs_of(seen, rig)
    there, all_ = sum(signs.values()), len(get_args(SeenCode))
    if there > _EVERYTHING * all_:
        yield Remark("seen-everything", count=there, all=all_)


_EVERYTHING: Final = 0.5
"""Share of all signs; no joint shows half of them, since many rule each other out
(judgement)."""


def _which_joint(seen: Inspection, rig: Rig | None) -> Iterator[Remark]:
    if seen.joint is None:
        yield Remark("seen-no-joint", "joint")
    elif rig is not None and is_head(rig, seen) and seen.head_cross is None:
        yield Remark("seen-which-cross", "head_cross", joint=seen.joint)


def _whole_or_not(seen: Inspection, rig: Rig | None) -> Iterator[Remark]:
    """How it came against what is broken."""
    del rig
    broken = _broken(seen)
    if seen.came in {"wore", "runs"} and broken:
        yield Remark("seen-whole-yet-broken", "came", broken=broken)
    if at(seen, "fracture.part") == "cross" and at(seen, "cross.seen") == ():
        yield Remark("seen-broken-yet-clean", "fracture.part", part="cross")


def _broken(seen: Inspection) -> str:
    """What lies there broken; "" for nothing."""
    lists: list[tuple[str, frozenset[str], str]] = [
        ("cross.seen", frozenset({"broken at the root", "broken through the middle"}), "cross"),
        *((f"caps.{cap}.trunnion", frozenset({"broken off"}), "trunnion") for cap in CAPS),
        *((f"caps.{cap}.ear", frozenset({"torn"}), "ear") for cap in CAPS),
        ("tube.seen", frozenset({"torn round"}), "tube"),
    ]
    for path, words, name in lists:
        if not words.isdisjoint(at(seen, path) or ()):
            return name
    part: str = at(seen, "fracture.part") or ""
    return part


def _fits(seen: Inspection, rig: Rig | None) -> Iterator[Remark]:
    """Readings of one cap against each other."""
    del rig
    for cap in CAPS:
        here, path = seen.cap(cap), f"caps.{cap}"
        if here.bore and here.cap_diameter:
            bore, over = min(each.mm for each in here.bore), max(d.mm for d in here.cap_diameter)
            if bore < over - LIMITS.clearance:
                yield Remark("seen-bore-under-cap", f"{path}.bore", bore=bore, cap=over)
        if here.trunnion_diameter and here.cap_diameter:
            trunnion = max(each.mm for each in here.trunnion_diameter)
            over = min(each.mm for each in here.cap_diameter)
            if trunnion >= over:
                key = f"{path}.trunnion_diameter"
                yield Remark("seen-trunnion-over-cap", key, trunnion=trunnion, cap=over)
        for name in ("cap_diameter", "trunnion_diameter", "bore"):
            readings = [each.mm for each in getattr(here, name) or ()]
            if readings and max(readings) - min(readings) > LIMITS.far_apart:
                yield Remark(
                    "seen-readings-far-apart",
                    f"{path}.{name}",
                    low=min(readings),
                    high=max(readings),
                )


def _size(seen: Inspection, rig: Rig | None) -> Iterator[Remark]:
    """Caps and bores of another size of joint than the rig has."""
    end = None if rig is None else typed_of(seen, rig)
    if rig is None or end is None or is_head(rig, seen):
        return
    cross = fitted_cross(end.cross)
    for key in ("cap_diameter", "bore"):
        for cap in CAPS:
            readings = [each.mm for each in getattr(seen.cap(cap), key) or ()]
            off = [each for each in readings if abs(each / cross.cap_diameter - 1.0) > NEAR_CAP]
            if readings and len(off) == len(readings):
                yield Remark(
                    "seen-other-size",
                    f"caps.{cap}.{key}",
                    reading=readings[0],
                    cross=cross.name,
                    cap=cross.cap_diameter,
                )
                break


def _fastened(seen: Inspection, rig: Rig | None) -> Iterator[Remark]:
    """Words on straps where the yoke has none, on a ball where there is no head."""
    if rig is None:
        return
    for name, choice in yokes_of(seen, rig).items():
        strapped = None if choice.is_own else yoke_class(choice.name).strapped
        for cap in caps_of(name):
            if strapped is False and seen.cap(cap).strap:
                yield Remark("seen-strap-on-closed", f"caps.{cap}.strap", kind=choice.name)
                break
    if seen.joint is not None and seen.ball is not None and not is_head(rig, seen):
        yield Remark("seen-ball-on-single", "ball", joint=seen.joint)


def _bars(seen: Inspection, rig: Rig | None) -> Iterator[Remark]:
    """A bar that goes through bores that are said to be bad; ears against their caliper."""
    del rig
    for name in YOKES:
        yoke, path = seen.yoke(name), f"yokes.{name}"
        ears = [seen.cap(cap).ear or () for cap in caps_of(name)]
        seats = [seen.cap(cap).seat or () for cap in caps_of(name)]
        if yoke.bar == "goes through":
            if yoke.off is not None and yoke.off.mm > LIMITS.clearance:
                yield Remark("seen-through-yet-off", f"{path}.bar", off=yoke.off.mm)
            if any("egg-shaped" in words for words in seats):
                yield Remark("seen-through-yet-egged", f"{path}.bar")
        if yoke.gap_at_tips is None or yoke.gap_at_root is None:
            continue
        wider = yoke.gap_at_tips.mm - yoke.gap_at_root.mm
        if wider < -LIMITS.spread:
            yield Remark("seen-ears-closed", f"{path}.gap_at_tips", closer=-wider)
        elif wider <= LIMITS.spread and any("spread" in words for words in ears):
            yield Remark("seen-spread-yet-square", f"{path}.gap_at_tips", wider=wider)


def _depths(seen: Inspection, rig: Rig | None) -> Iterator[Remark]:
    """A depth or a mark where the list says that nothing was found, and the other way round."""
    del rig
    for cap in CAPS:
        here = seen.cap(cap)
        for key in ("gouge", "edge"):
            depth = getattr(here, key)
            if here.seat == () and depth is not None and depth.mm > 0.0:
                yield Remark("seen-deep-yet-clean", f"caps.{cap}.{key}", depth=depth.mm)
    for name in YOKES:
        yoke = seen.yoke(name)
        if yoke.flat is not None and yoke.flat.mm > 0.0 and yoke.tips == () and yoke.throat == ():
            yield Remark("seen-deep-yet-clean", f"yokes.{name}.flat", depth=yoke.flat.mm)
        for word, key in (("tip", "tips"), ("throat", "throat")):
            marked = [m for m in seen.marks or () if m.yoke == name and word in m.surface]
            if marked and getattr(yoke, key) == ():
                yield Remark("seen-mark-yet-clean", f"yokes.{name}.{key}", yoke=name)
    touched = {"half-moon", "dent"}
    paths = (*on_yokes("tips"), *on_yokes("throat"))
    if seen.marks == () and any(touched.intersection(at(seen, path) or ()) for path in paths):
        yield Remark("seen-moons-yet-no-marks", "marks")


def _grease(seen: Inspection, rig: Rig | None) -> Iterator[Remark]:
    del rig
    purged = at(seen, "history.purged") == "all four"
    if at(seen, "history.greased") == "never" and at(seen, "history.purged") in _TOLD:
        yield Remark("seen-never-yet-purged", "history.purged")
    for cap in CAPS:
        words = seen.cap(cap).seen or ()
        if purged and "will not purge" in words:
            yield Remark("seen-purged-yet-not", f"caps.{cap}.seen", cap=cap)
        if {"dry", "muddy"} <= set(words):
            yield Remark("seen-dry-and-muddy", f"caps.{cap}.seen", cap=cap)


_TOLD: Final = frozenset({"all four", "not all four"})


def _told(seen: Inspection, rig: Rig | None) -> Iterator[Remark]:
    """What was told that does not go together."""
    del rig
    changed = at(seen, "history.changed") or ()
    if "nothing" in changed and len(changed) > 1:
        yield Remark("seen-nothing-changed-yet", "history.changed")
    if {"joint only", "yoke"} <= set(changed):
        yield Remark("seen-yoke-and-joint-only", "history.changed")
    if at(seen, "history.failed_before") == 0 and "joint only" in changed:
        yield Remark("seen-first-yet-joint", "history.failed_before")
    happened = at(seen, "symptoms.happened") or ()
    if "parked" in happened and at(seen, "symptoms.speed") is not None:
        yield Remark("seen-parked-at-a-speed", "symptoms.speed")
    driven = any(was_at(("parked",), word) is False for word in happened)
    if driven and "parked" in happened:
        yield Remark("seen-parked-yet-driven", "symptoms.happened")
    if {"stuck", "worn loose"} <= set(at(seen, "spline.seen") or ()):
        yield Remark("seen-stuck-and-loose", "spline.seen")
    water = at(seen, "history.water")
    if water == "never" and any("muddy" in (seen.cap(cap).seen or ()) for cap in CAPS):
        yield Remark("seen-mud-yet-no-water", "history.water")
    road = at(seen, "history.distance")
    if seen.came == "wore" and road is not None and number(road) == 0.0:
        yield Remark("seen-worn-at-once", "history.distance")


def _clocks(seen: Inspection, rig: Rig | None) -> Iterator[Remark]:
    """Two caps of one yoke stand straight across, and the two yokes square to each other."""
    del rig
    axes = []
    for pair in PAIRS:
        clocks = [seen.cap(cap).clock for cap in pair]
        if clocks[0] is not None and clocks[1] is not None:
            apart = abs(clock_angle(clocks[0]) - clock_angle(clocks[1]))
            if abs(apart - pi) > _AN_HOUR:
                yield Remark(
                    "seen-not-across", f"caps.{pair[1]}.clock", one=clocks[0], other=clocks[1]
                )
        given = next((clock for clock in clocks if clock is not None), None)
        axes.append(None if given is None else clock_angle(given) % pi)
    if axes[0] is not None and axes[1] is not None:
        apart = abs(axes[0] - axes[1])
        if abs(apart - pi / 2.0) > _AN_HOUR:
            yield Remark("seen-not-square", f"caps.{PAIRS[1][0]}.clock")


_AN_HOUR: Final = pi / 6.0 + 1e-9
"""rad. A clock position by eye is good to an hour; a bent joint shows its ears no farther off."""

DOUBTS: Final[tuple[Doubt, ...]] = (
    _how_much,
    _which_joint,
    _whole_or_not,
    _fits,
    _size,
    _fastened,
    _bars,
    _depths,
    _grease,
    _told,
    _clocks,
)
"""Each kind of doubt, in the order in which it is told."""
