"""Before and after in numbers: a row for the rig as it is and one for each cure."""

from collections.abc import Iterator, Sequence
from math import degrees, isfinite
from textwrap import wrap

from sim.assessment import Assessment
from sim.cures import Cures
from sim.front_section import JOINTS
from sim.speed import RPM
from sim.table.loads import MILE
from sim.ticket.felt_of import felt_of
from sim.vehicle import Joint
from viewer.words.cures import UNKNOWN, left_words, plain_word, why_words
from viewer.words.units import format_fraction
from viewer.words.verdicts import verdict_word

"""From the output to the pinion."""


def cures_table(found: Cures, width: int) -> Iterator[str]:
    """Lines of the table, every joint that the rig or a cure of it has in a column of its own."""
    all_joints = {joint for outcome in _outcomes(found) for joint in outcome.margins}
    joints = [joint for joint in JOINTS if joint in all_joints]
    asked = found.chance is not None
    row = "{:<7}" + "{:>7}" * len(joints) + "{:>9}{:>9}{:>6}{:>9}{:>6}" + "{:>5}" * asked + " {}"
    heads = [*joints, "closes", "opens", "shake", "length", "price", *["sure"] * asked, ""]
    road = felt_of(found.rig).gearing is not None
    shake = "mph" if road else "rpm"
    units = [*("deg" for _ in joints), "in", "in", shake, "in", "", *["/100"] * asked, ""]
    yield row.format("", *heads).rstrip()
    yield row.format("", *units).rstrip()
    cells = [*_cells(found.before, joints, ""), *[_sure(found.chance)] * asked]
    yield row.format("as is", *cells, _word(found.before, found.stops))
    for number, cure in enumerate(found.cures, start=1):
        cells = _cells(cure.after, joints, f"{cure.score:.1f}") + [_sure(cure.chance)] * asked
        yield row.format(f"with {number}", *cells, _word(cure.after, cure.stops))
    for number, cure in enumerate(found.cures, start=1):
        if why := why_words(cure):
            yield from wrap(f"{number}: {why}.", width, subsequent_indent="   ")


def _outcomes(found: Cures) -> list[Assessment]:
    return [found.before, *(cure.after for cure in found.cures)]


def _cells(outcome: Assessment, joints: Sequence[Joint], price: str) -> list[str]:
    return [
        *(_margin(outcome, joint) for joint in joints),
        _inches(left_words(outcome.closes_left)),
        _inches(left_words(outcome.opens_left)),
        _shake(outcome),
        _inches(format_fraction(outcome.length)),
        price,
    ]


def _sure(chance: float | None) -> str:
    """Of 100 trucks that measure like this one, how many stay clear."""
    if chance is None:
        return UNKNOWN
    clear = 100.0 * (1.0 - chance)
    return ">99" if clear > 99.5 else "<1" if clear < 0.5 else f"{clear:.0f}"


def _shake(outcome: Assessment) -> str:
    """From which speed shake is felt: of the road, or of the shaft where that is not known."""
    felt = felt_of(outcome.rig)
    if not felt.ever:
        return "never"
    return f"{felt.speed / RPM:.0f}" if felt.road is None else f"{felt.road * 3600.0 / MILE:.0f}"


def _margin(outcome: Assessment, joint: Joint) -> str:
    """What is left at a joint, deg; a stroke where that is not known, nothing without the joint."""
    if joint not in outcome.margins:
        return ""
    margin = outcome.margins[joint]
    return f"{degrees(margin):.1f}" if isfinite(margin) else UNKNOWN


def _inches(words: str) -> str:
    return words.removesuffix(" in")


def _word(outcome: Assessment, stops: bool) -> str:
    return verdict_word("touches") if stops else plain_word(outcome)
