"""The answer of a check as text for a terminal or a file: plain, no colour needed to read it."""

from collections.abc import Iterator
from math import degrees, isfinite

from sim.check import Check
from viewer.words.assumed import assumed_words
from viewer.words.findings import says
from viewer.words.lines import item
from viewer.words.poses import pose_words
from viewer.words.remarks import said
from viewer.words.units import format_length
from viewer.words.verdicts import (
    CAUTION,
    check_word,
    first_contact_words,
    headline,
    slip_left_words,
)


def check_text(result: Check) -> str:
    """Everything a check found, worst first."""
    return "\n".join(_lines(result))


def _lines(result: Check) -> Iterator[str]:
    yield result.rig.name
    yield f"{check_word(result)}  {headline(result)}"
    yield ""
    for finding in result.findings:
        mark = _OTHER_MARKS.get(finding.code, _MARKS[finding.verdict])
        yield from item(f"{mark} {says(finding)}", "    ")
        rests = assumed_words(finding)
        if rests:
            yield from item(f"       {rests}", "       ")
    contact = first_contact_words(result)
    if contact is not None:
        yield from item(f"    {contact}", "    ")
    yield ""
    yield from _joint_table(result)
    yield ""
    yield from _slip_lines(result)
    uneven, running = degrees(result.found.running.lead_amplitude), result.found.running
    yield (
        f"running  at ride height the pinion leads and lags by {uneven:.2f} deg twice a turn, like "
        f"one joint at {degrees(running.like_one_joint):.1f} deg"
    )
    if result.give is not None:
        most, at = format_length(result.give.value), pose_words(result.give.at)
        yield f"bushes   the links bind a little; a bush gives up to {most} at {at}"
    basis = result.derivation
    for title, items in (
        ("Worked out from what was typed", [each.remark for each in basis.derived]),
        ("Assumed, generic: measure yours", [each.remark for each in basis.assumed]),
        ("Odd, worth a second look", basis.notes),
    ):
        if items:
            yield ""
            yield f"{title}:"
            for each in items:
                yield from item(f"  - {said(each)}", "    ")
    own = [note for found in result.joints.values() for note in found.hardware.notes]
    if own:
        yield ""
        yield "About yokes from your own files:"
        for note in dict.fromkeys(own):
            yield from item(f"  - {note}", "    ")
    yield ""
    yield from item(
        f"Catalogue shapes are generic; meshes are true to {_chord(result):.2f} mm.", ""
    )
    yield from item(CAUTION, "")


_MARKS = {"clear": "  ok", "close": "   ~", "touches": "  !!"}

_OTHER_MARKS = {"caster": "   ", "hubs": "   ", "slip-not-measured": "   ?"}
"""Of findings that are never a verdict, so that nothing calls them ok: what only tells something,
and what asks for a measurement."""


def _joint_table(result: Check) -> Iterator[str]:
    row = "{:<8}{:>10}{:>10}{:>11}{:>11}  {}"
    yield row.format("joint", "at ride", "worst", "clear to", "left", "worst at")
    for joint, found in result.joints.items():
        bends = (
            found.sweep.ride,
            found.sweep.most.value,
            found.curve.certified_clear,
            found.margin,
        )
        cells = [f"{degrees(b):.1f} deg" if isfinite(b) else "-" for b in bends]
        yield row.format(joint, *cells, pose_words(found.sweep.most.at))


def _slip_lines(result: Check) -> Iterator[str]:
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


def _chord(result: Check) -> float:
    return max(found.curve.chord for found in result.joints.values())
