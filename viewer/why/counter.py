"""What one says at the counter of why a joint broke or wore: ten lines, not more."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from sim.causes import ComputedCode, SignCode
from sim.causes.bands import band
from sim.rig.typed_joints import generic_parts
from sim.why.why import SEEN, Speaks, Weighed, Why
from viewer.why.to_do import counter_do
from viewer.words.assumed import generic_words
from viewer.words.causes import CAUSES, chance_words, percent
from viewer.words.lines import item, stopped
from viewer.words.met import mark_place, marks_astray
from viewer.words.remarks import said
from viewer.words.sentence import capital, small
from viewer.words.signs import SIGN_WORDS, sign_words

MOST_LINES: Final = 9
"""Printed lines below the title."""

STRONG: Final = 0.7
"""Natural logarithm of how many times likelier or less likely what the rig computes makes a cause,
from which it is told at the counter: about twice (judgement)."""

WORTH: Final = 0.02
"""Bits from which on another look is worth it (judgement)."""


@dataclass(frozen=True)
class _Cut:
    """How much is told: signs, computed clauses, other causes, and how to look at what is next."""

    signs: int
    computed: int
    others: int
    tool: bool
    looks: bool = True


_SHORTER: Final = (
    _Cut(5, 2, 2, True),
    _Cut(5, 2, 1, True),
    _Cut(4, 2, 1, True),
    _Cut(4, 2, 1, False),
    _Cut(4, 1, 1, False),
    _Cut(4, 1, 1, False, looks=False),
    _Cut(3, 1, 1, False, looks=False),
    _Cut(2, 1, 1, False, looks=False),
    _Cut(5, 1, 0, False, looks=False),
    _Cut(4, 1, 0, False, looks=False),
    _Cut(3, 1, 0, False, looks=False),
    _Cut(2, 1, 0, False, looks=False),
)
"""Shorter and shorter, until it fits."""

MOST_DOUBTS: Final = 2
"""Odd things that are told at the counter; the rest is counted."""

SETTLES: Final = "Not looked at, and it would settle most"

TOO_LITTLE: Final = "Too little was looked at yet to name a cause."

OUT_OF_REACH: Final = (
    "though as typed this axle never bends the joint so far: it once hung lower, or the rig is not "
    "as measured"
)

MARKS_THERE: Final = "the marks sit where these yokes meet"
"""In the fewest words: it is what a customer has to see."""

RIGHT_SIZE: Final = "the joint is the right size"

_KNOWN: Final = frozenset({"came-apart"})
"""What the first words say already."""

_HAPPENED: Final[tuple[SignCode, ...]] = (
    "at-a-hard-pull",
    "at-droop",
    "in-reverse-or-braking",
    "on-the-highway",
)

_SAME: Final[Mapping[SignCode, tuple[SignCode, ...]]] = {
    "many-miles": ("soon-again",),
    "mark-single": ("marks-paired",),
    "all-caps-dry": ("one-cap-dry",),
    "not-all-purged": ("will-not-purge",),
    **dict.fromkeys(_HAPPENED, _HAPPENED),
}
"""Signs that go without saying once one of others is told."""


def counter(why: Why, rig: str) -> tuple[str, ...]:
    """The lines, each to be wrapped. rig : its file name, or demo:NAME, for the commands."""
    for cut in _SHORTER:
        told = tuple(_lines(why, rig, cut))
        if sum(len(item(f"  {each}", "    ")) for each in told) <= MOST_LINES:
            return told
    return told


def _lines(why: Why, rig: str, cut: _Cut) -> Iterator[str]:
    first, *rest = why.causes
    also = [each for each in rest if band(each.chance) in ("very-likely", "likely", "possible")]
    yield f"{_story(why)} {_lead(why, first)}"
    if why.too_little:
        yield from _hints(why)
        yield from _odd(why)
        yield from _rig_alone(why, cut.computed)
        yield from _next(why, why.causes, cut.tool, 3, "Look first")
        return
    yield from _seen(why, first, cut.signs)
    yield from _odd(why)
    yield from _computed(why, first, cut.computed)
    told = [each for number, each in enumerate(also) if number < cut.others or each.likely]
    if any(each.code == "bound" for each in (first, *told)):
        yield from astray(why)
    for each in told:
        yield _also(why, each)
    if first.likely:
        yield from counter_do(why, rig)
    if cut.looks:
        # Where nothing stands out, more than one look is worth the words.
        most = 1 if first.likely else 3
        yield from _next(why, _open([first, *told]), cut.tool, most, SETTLES)


def _odd(why: Why) -> Iterator[str]:
    """What is odd about the inspection, for an answer is no better than that."""
    for each in why.doubts[:MOST_DOUBTS]:
        yield f"Check: {stopped(said(each))}"
    if left := len(why.doubts) - MOST_DOUBTS:
        more = "one more thing is" if left == 1 else f"{left} more things are"
        yield from [f"And {more} odd: --full tells."] if left > 0 else []


def _story(why: Why) -> str:
    """Whether it broke or wore, held against how it came in."""
    came, story = why.inspection.came, why.story
    if came == "runs":
        return "It still runs." if story == "open" else "It still runs, but it is worn."
    if story == "wore" and came == "broke":
        return "It wore first, then it came apart."
    if story == "broke" and came == "wore":
        return "It did not wear out: something broke it."
    if story == "open" and came == "broke":
        return "It broke; whether it was worn before is open."
    return _STORY[story]


_STORY: Final = {
    "broke": "It broke.",
    "wore": "It wore out.",
    "open": "Whether it broke or wore first is open.",
}


def _lead(why: Why, first: Weighed) -> str:
    words = CAUSES[first.code]
    if why.too_little:
        return TOO_LITTLE
    if first.likely:
        says = f"{capital(chance_words(first.chance))} {words.it}"
        if first.code == "bound" and why.out_of_reach:
            return f"{says}, {OUT_OF_REACH}. {words.how}"
        if first.code == "overload" and why.right_size:
            return f"{says}: {RIGHT_SIZE}; {small(words.how)}"
        return f"{says}: {small(words.how)}"
    return f"No cause stands out yet; first in line, {chance_words(first.chance)}: {words.it}."


def _hints(why: Why) -> Iterator[str]:
    """What little was seen, and for which causes it speaks."""
    for sign, there in why.seen.items():
        if not there or sign in _KNOWN:
            continue
        spoken = [
            (cause, each.alone)
            for cause in why.not_ruled_out
            for each in cause.speaks_for
            if each.sign == sign and each.alone >= STRONG
        ]
        spoken.sort(key=lambda each: -each[1])
        named = [f"{CAUSES[one.code].it} ({percent(one.chance)})" for one, _ in spoken[:2]]
        tells = f"speaks for: {'; '.join(named)}" if named else "alone tells no cause"
        yield f"Seen and told: {_plain(sign_words(sign, True, why.inspection))}. That {tells}."


def _rig_alone(why: Why, most: int) -> Iterator[str]:
    """What the rig says by itself, of what would bring a cause."""
    told: dict[SignCode, Speaks] = {}
    for cause in why.not_ruled_out:
        for each in cause.speaks_for:
            if each.sign not in SEEN and each.there and each.alone >= STRONG:
                told.setdefault(each.sign, each)
    if told:
        words = [computed_words(why, each) for each in list(told.values())[:most]]
        yield f"The rig alone says: {'; '.join(words)}."
    else:
        yield "The rig alone points at no cause."


def _seen(why: Why, cause: Weighed, most: int) -> Iterator[str]:
    """What was seen and told that speaks for a cause; what is there before what is not."""
    told = worth_saying(why, [each for each in cause.speaks_for if each.sign in SEEN])
    told.sort(key=lambda each: not each.there)
    if told:
        yield f"Seen and told: {signs_words(why, told[:most])}."


def _computed(why: Why, cause: Weighed, most: int) -> Iterator[str]:
    """What the rig computes for a cause and against it, where that is strong."""
    strong = [
        each
        for each in cause.speaks_for
        if each.sign not in SEEN and (each.alone >= STRONG or each.sign == "steady-pull-past")
    ]
    if strong:
        strong.sort(key=lambda each: each.sign not in _FIRST)
        told = [computed_words(why, each) for each in strong[:most]]
        if any(each.sign == "marks-where-computed" for each in strong[most:]):
            told.append(MARKS_THERE)
        yield f"{capital('; '.join(told))}."
    against = [each for each in cause.against if each.sign not in SEEN and each.alone <= -STRONG]
    against = [each for each in against if each.sign not in _OF_MARKS]
    against = [each for each in against if not {each.sign} & _SAID or not strong]
    if against:
        yield f"But {computed_words(why, against[0])}."


_SAID: Final[frozenset[SignCode]] = frozenset({"touches-in-reach", "nearly-touches"})
"""What marks that are out of reach say as well."""

_OF_MARKS: Final[frozenset[SignCode]] = frozenset({"marks-where-computed", "marks-elsewhere"})
"""What is told of each mark that lies elsewhere."""

_FIRST: Final[frozenset[ComputedCode]] = frozenset({"touches-in-reach", "cap-cocked"})
"""What is told before what follows from it."""


def astray(why: Why) -> Iterator[str]:
    """Marks that lie elsewhere than where these yokes meet, or say nothing either way."""
    marks, lie = why.asked.marks, why.asked.lie
    if marks is None or lie is None:
        return
    names = {
        cross.side(body): cross.hardware.yoke_name(body)
        for cross in marks.crosses
        for body in ("driving", "driven")
    }
    away = [each.mark for each in lie.marks if each.ratio < ASTRAY]
    places = [mark_place(names.get(each.yoke, "yoke"), each.surface) for each in away]
    if places:
        yield f"But {marks_astray(places)}."
    elif ASTRAY < lie.ratio < 1.0 / ASTRAY:
        yield "Your marks lie partly where these yokes meet."


ASTRAY: Final = 0.5
"""Times as likely as by chance below which a mark lies elsewhere (judgement)."""


def _also(why: Why, other: Weighed) -> str:
    told = worth_saying(why, [s for s in other.speaks_for if s.sign in SEEN and s.there])
    since = f", by this: {signs_words(why, told[:2])}" if told else ""
    lead = "Likely as well" if other.likely else "Not ruled out"
    return f"{lead} ({percent(other.chance)}): {CAUSES[other.code].it}{since}."


def _open(told: Sequence[Weighed]) -> Sequence[Weighed]:
    """Of which causes a look is told: of what stands first once that is very likely.

    Where nothing is left to look at that tells of it, of the next that is told.
    """
    if band(told[0].chance) != "very-likely":
        return told
    return [each for each in told if _worth(each)][:1]


def _worth(cause: Weighed) -> bool:
    return any(bits >= WORTH for _, bits in cause.unseen)


def _next(why: Why, causes: Sequence[Weighed], tool: bool, most: int, lead: str) -> Iterator[str]:
    """What nobody looked at that would tell most of some causes, up to so many looks."""
    worth: dict[str, float] = {}
    tools: dict[str, str] = {}
    for cause in causes:
        for sign, bits in cause.unseen:
            # One look may answer several signs.
            words = SIGN_WORDS[sign]
            worth[words.asks] = worth.get(words.asks, 0.0) + bits
            tools.setdefault(words.asks, words.tool)
    begun = {SIGN_WORDS[sign].asks for sign in why.begun}
    best = sorted(worth, key=lambda it: (it not in begun, -worth[it]))
    asks = [each for each in best if worth[each] >= WORTH or each in begun]
    if not asks:
        return
    told = asks[:most]
    looks = [f"{each} ({tools[each]})" if tool else each for each in told]
    yield f"{lead}: {' '.join(looks)}"


def signs_words(why: Why, signs: Sequence[Speaks]) -> str:
    """Signs in a row, each by what was named of it."""
    said = (sign_words(each.sign, each.there, why.inspection) for each in signs)
    return "; ".join(_plain(words) for words in said)


def worth_saying(why: Why, signs: Sequence[Speaks]) -> list[Speaks]:
    """Signs without those that go without saying beside another one, and the first words say."""
    there = {sign for sign, is_there in why.seen.items() if is_there}
    return [
        each
        for each in signs
        if each.sign not in _KNOWN and not set(_SAME.get(each.sign, ())) & (there - {each.sign})
    ]


def computed_words(why: Why, each: Speaks) -> str:
    """What the rig says of a sign with its numbers, and what stands in for parts nobody named."""
    found = next((one for one in why.computed if one.code == each.sign), None)
    words = sign_words(each.sign, each.there) if found is None else said(found.why)
    generic = generic_words(generic_parts(why.case.rig, why.joint))
    if each.sign == "touches-in-reach" and generic:
        return f"{words} (with {generic} in place of yours)"
    return words


def _plain(words: str) -> str:
    """What is there, in a list of such."""
    return words.removeprefix("there are ").removeprefix("there is ")
