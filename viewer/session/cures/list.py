"""Finding what would cure the rig, and saying it in plain lines."""

from collections.abc import Iterator, Sequence

from sim.assessment import Assessment
from sim.cures import Cure, Cures, find_cures
from sim.cures.first_cure import keep_first
from sim.cures.sure import with_chances
from sim.progress import Progress
from sim.rig import Rig
from sim.ticket.felt_of import felt_of
from viewer.session.cures.lines import CureLine, CureList, Row
from viewer.session.cures.text import cured_text
from viewer.words.cure_names import cure_title
from viewer.words.cures import (
    ROOM_ONLY,
    UNKNOWN,
    cure_near,
    cure_price,
    cure_rests,
    cure_says,
    cure_sure,
    cures_lead,
    left_words,
    margin_cells,
    near_as_it_is,
    outcome_word,
    read_further,
    ruled_out,
    travel_kept,
    useless_words,
)
from viewer.words.felt import felt_above
from viewer.words.units import format_fraction

NO_JOINT = "no joint"
"""What is left at a joint that is not there."""

ORDER = (
    "The order goes by a generic price of parts, hours and travel given up. `bindpoint cures` "
    "takes your own."
)


def list_cures(rig: Rig, text: str, tell: Progress, without: Sequence[str] = ()) -> CureList:
    """Find the cures of a rig and of its text, but for the remedies whose codes are in `without`.

    Raises BindpointError where the rig cannot be swept.
    """
    found = with_chances(find_cures(rig, progress=tell, without=without), tell)
    keep_first(found)
    before = (near_as_it_is(found), read_further(found))
    notes = (*before, useless_words(found), ORDER if found.cures else "", f"{ROOM_ONLY}.")
    cures = tuple(_line(found, cure, text) for cure in found.cures)
    lead = " ".join(filter(None, (ruled_out(found), travel_kept(found), cures_lead(found))))
    return CureList(text, lead, cures, tuple(filter(None, notes)), tuple(without))


def _line(found: Cures, cure: Cure, text: str) -> CureLine:
    return CureLine(
        cure_title(cure),
        " ".join(cure_says(cure)),
        cure_price(cure),
        " ".join(filter(None, (cure_sure(cure), cure_near(cure), cure_rests(cure)))),
        cure.works,
        "touches" if cure.stops else cure.after.verdict,
        outcome_word(cure.after, cure),
        tuple(_rows(found.before, cure.after)),
        cured_text(found, cure, text),
    )


def _rows(before: Assessment, after: Assessment) -> Iterator[Row]:
    """The numbers whose words differ; of a joint that is only there before or after, that too."""
    was, now = dict(_numbers(before)), dict(_numbers(after))
    # Joints come first, in the order of the shaft that has more of them.
    for label in (now | was) if len(now) > len(was) else (was | now):
        words = was.get(label, NO_JOINT), now.get(label, NO_JOINT)
        if words[0] != words[1]:
            yield Row(label, *words)


def _numbers(outcome: Assessment) -> Iterator[tuple[str, str]]:
    for joint, words in margin_cells(outcome):
        yield f"{joint} joint", _spoken(words)
    yield "slip to close", _spoken(left_words(outcome.closes_left))
    yield "slip to open", _spoken(left_words(outcome.opens_left))
    yield "shake", felt_above(felt_of(outcome.rig))
    yield "length", format_fraction(outcome.length)


def _spoken(left: str) -> str:
    """What is left of something, in words rather than with a sign."""
    if left == UNKNOWN:
        return left
    return f"short {left[1:]}" if left.startswith("-") else f"{left} left"
