"""Two versions of a rig side by side: what was typed differently, and what became of it."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from math import degrees, isfinite
from typing import Any, Literal

from geometry.tolerances import TOL
from sim.assessment import JointAssessment
from sim.check import Check
from sim.findings import ORDER, Verdict, worst_of
from sim.rig.assumed import fill
from sim.table.default import at as value_at
from sim.table.reading import parse_toml
from sim.ticket.felt_of import felt_of
from sim.vehicle import Joint
from viewer.words.felt import felt_above
from viewer.words.keys import group_title, label_of
from viewer.words.poses import pose_words
from viewer.words.units import format_fraction
from viewer.words.verdicts import NOT_MEASURED, VERDICT_WORDS

Better = Literal["better", "worse", "same", ""]
"""How now compares with before; empty where neither is better by itself."""


@dataclass(frozen=True)
class Difference:
    """One line of the comparison.

    Attributes
    ----------
    key : key path for something typed; "" for an answer.
    label : what it is.
    before, now : in words.
    better : how it compares.
    verdicts : before and now, where the line is a verdict.
    """

    key: str
    label: str
    before: str
    now: str
    better: Better = ""
    verdicts: tuple[Verdict, Verdict] | None = None


def typed_differences(before: str, now: str) -> tuple[Difference, ...]:
    """What two texts of a rig file say differently, defaults filled in.

    Raises RigError when one of them is no TOML.
    """
    old, new = (_flat(parse_toml(text, "rig")) for text in (before, now))
    assumed = _Assumed(before, now)
    keys = [*new, *(key for key in old if key not in new)]
    return tuple(
        Difference(key, _label(key), assumed.words(0, key, old), assumed.words(1, key, new))
        for key in keys
        if old.get(key) != new.get(key)
    )


def answer_differences(before: Check, now: Check) -> tuple[Difference, ...]:
    """The answers that matter, before and now, changed or not."""
    return tuple(_answers(before, now))


class _Assumed:
    """Says what was taken where nothing was typed."""

    def __init__(self, *texts: str) -> None:
        self._filled = [fill(parse_toml(text, "rig"))[0] for text in texts]

    def words(self, which: int, key: str, typed: Mapping[str, str]) -> str:
        """What a version says at a key."""
        if key in typed:
            return typed[key]
        found = value_at(self._filled[which], key)
        return "nothing" if found is None else f"{_word(found)} (assumed)"


def _flat(data: Any, path: str = "") -> dict[str, str]:
    """Every typed value by its key path; a point is one value."""
    if isinstance(data, Mapping):
        inner = ((f"{path}.{key}" if path else str(key), each) for key, each in data.items())
    elif isinstance(data, list) and any(isinstance(each, Mapping) for each in data):
        inner = ((f"{path}[{n}]", each) for n, each in enumerate(data, start=1))
    else:
        return {path: _word(data)}
    return {key: word for place, each in inner for key, word in _flat(each, place).items()}


def _word(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping):
        return str(value.get("kind", value.get("size", "a table")))
    return ", ".join(_word(each) for each in value) if isinstance(value, list) else str(value)


def _label(key: str) -> str:
    path, _, last = key.rpartition(".")
    entry = path.rstrip("]").rpartition("[")[2] if path.endswith("]") else ""
    title = group_title(path, int(entry) if entry.isdigit() else 0)
    return f"{title}: {label_of(key)}" if last and path else label_of(key)


def _answers(before: Check, now: Check) -> Iterator[Difference]:
    yield _verdict("verdict", before.verdict, now.verdict)
    for joint in dict.fromkeys((*before.joints, *now.joints)):
        old, new = before.joints.get(joint), now.joints.get(joint)
        if old is None or new is None:
            there = ("there is none", "there is one")
            yield Difference("", f"{joint} joint", there[old is not None], there[new is not None])
            continue
        yield from _joint(joint, old, new, _of(before, joint), _of(now, joint))
    for word, left in (("closing", "closes_left"), ("opening", "opens_left")):
        old_left, new_left = (getattr(each.found.swept.slip, left) for each in (before, now))
        label, good = f"slip left, {word}", int(isfinite(old_left) and isfinite(new_left))
        yield _number(label, old_left, new_left, _tape, _SAME_MM, good, NOT_MEASURED)
    yield from _contacts(before, now)
    lengths = before.found.swept.length_ride, now.found.swept.length_ride
    yield _number("joint to joint at ride height", *lengths, _tape, _SAME_MM, 0)
    yield _shake(before, now)


def _shake(before: Check, now: Check) -> Difference:
    """From which speed on the shake of the joints is felt."""
    one, other = felt_of(before.rig), felt_of(now.rig)
    words = felt_above(one), felt_above(other)
    better: Better = "same"
    if words[0] != words[1]:
        better = "better" if other.speed > one.speed else "worse"
    return Difference("", "shake at ride height", *words, better)


def _joint(
    joint: Joint, old: JointAssessment, new: JointAssessment, was: Verdict, is_now: Verdict
) -> Iterator[Difference]:
    yield _verdict(f"{joint} joint", was, is_now)
    bends = (
        ("worst bend", old.sweep.most.value, new.sweep.most.value, -1),
        ("good for", old.curve.certified_clear, new.curve.certified_clear, +1),
        ("bend left", old.margin, new.margin, +1),
    )
    for label, one, other, good in bends:
        yield _number(f"{joint} joint: {label}", one, other, _deg, TOL.certificate, good)


def _of(check: Check, joint: Joint) -> Verdict:
    """The verdict on one joint."""
    return worst_of([each.verdict for each in check.findings if each.subject == joint])


def _contacts(before: Check, now: Check) -> Iterator[Difference]:
    for label, way in (("going down", "down"), ("going up", "up")):
        one, other = (getattr(each.found, way).first for each in (before, now))
        if one is None and other is None:
            continue
        words = [
            "never" if each is None else f"{each.joint} joint at {pose_words(each.at)}"
            for each in (one, other)
        ]
        better: Better
        if one is None or other is None:
            better = "worse" if one is None else "better"
        else:
            better = _sign(abs(one.at.travel), abs(other.at.travel), _SAME_MM, +1)
        yield Difference("", f"first contact {label}", words[0], words[1], better)


def _verdict(label: str, before: Verdict, now: Verdict) -> Difference:
    better = _sign(ORDER.index(before), ORDER.index(now), 0.0, -1)
    words = VERDICT_WORDS[before].lower(), VERDICT_WORDS[now].lower()
    return Difference("", label, *words, better, (before, now))


def _number(
    label: str,
    before: float,
    now: float,
    words: Callable[[float], str],
    step: float,
    good: int,
    unknown: str = "no limit",
) -> Difference:
    said = [words(each) if isfinite(each) else unknown for each in (before, now)]
    better: Better = _sign(before, now, step, good) if good else ""
    return Difference("", label, said[0], said[1], better)


def _sign(before: float, now: float, step: float, good: int) -> Better:
    if before == now or abs(now - before) <= step:
        return "same"
    return "better" if (now > before) == (good > 0) else "worse"


def _deg(rad: float) -> str:
    return f"{degrees(abs(rad)):.1f} deg{_short(rad)}"


def _tape(mm: float) -> str:
    return f"{format_fraction(abs(mm))} ({abs(mm):.1f} mm){_short(mm)}"


def _short(left: float) -> str:
    """Room of less than nothing is said in a word, not by a sign."""
    return " short" if left < 0.0 else ""


_SAME_MM = 0.05
"""mm. Lengths print to a tenth; less than half of that is the same length."""
