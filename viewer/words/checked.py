"""What a check says of joints and shaft in numbers, line by line."""

from collections.abc import Iterator
from math import degrees, isfinite

from sim.check import Check
from sim.ticket.felt_of import felt_of
from viewer.words.felt import felt_above, felt_number
from viewer.words.poses import pose_words
from viewer.words.units import format_length
from viewer.words.verdicts import slip_left_words


def joint_table(result: Check) -> Iterator[str]:
    """Bends of each joint, and what is left of them."""
    row = "{:<8}{:>10}{:>10}{:>11}{:>11}  {}"
    yield row.format("joint", "at ride", "worst", "good for", "left", "worst at")
    for joint, found in result.joints.items():
        sweep = found.sweep
        bends = (sweep.ride, sweep.most.value, found.curve.certified_clear, found.margin)
        cells = [f"{degrees(b):.1f} deg" if isfinite(b) else "-" for b in bends]
        yield row.format(joint, *cells, pose_words(sweep.most.at))


def shaft_lines(result: Check) -> Iterator[str]:
    """Length and slip, how evenly it runs, what its bushes give."""
    swept, slip = result.found.swept, result.found.swept.slip
    place = "yoke sliding on the output" if slip.has.at == "output" else "slip in the shaft"
    yield f"length   {format_length(swept.length_ride)} at ride height, {place}"
    for word, moved, left, at in (
        ("closes", -slip.shortest.value, slip.closes_left, slip.shortest.at),
        ("opens", slip.longest.value, slip.opens_left, slip.longest.at),
    ):
        if isfinite(moved):
            yield (
                f"{word:<8} {format_length(max(0.0, moved))} at {pose_words(at)}; "
                f"{slip_left_words(left)}"
            )
    give = result.give
    felt = felt_of(result.rig)
    yield f"shake    at ride height {felt_above(felt)} {felt_number(felt)}"
    if give is not None:
        most = f"{format_length(give.value)} at {pose_words(give.at)}"
        yield f"bushings the links bind a little; a bushing gives up to {most}"
