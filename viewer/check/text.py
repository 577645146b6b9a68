"""The answer of a check as text for a terminal or a file: plain, no colour needed to read it."""

from collections.abc import Iterator

from sim.check import Check
from sim.cures.first_cure import FirstCure
from sim.turning_over import TurningOver
from viewer.bars.asked import UNASKED, Sure
from viewer.words.assumed import assumed_words
from viewer.words.basis import basis_lines
from viewer.words.checked import joint_table, shaft_lines
from viewer.words.findings import says
from viewer.words.first_page import first_page, page_lines
from viewer.words.lines import item, listed
from viewer.words.remarks import said
from viewer.words.verdicts import CAUTION, first_contact_words, headline


def page_text(
    result: Check,
    told: TurningOver | None = None,
    cure: FirstCure | None = None,
    name: str = "RIG",
    full: bool = False,
) -> str:
    """The first page.

    name : what was typed for the rig, to be typed again. full : whether the rest goes with it.
    """
    page = first_page(result, told, cure)
    return "\n".join(page_lines(page, f"bindpoint cures {name}", "" if full else "More: --full"))


def rest_text(result: Check, sure: Sure = UNASKED) -> str:
    """Everything that a check found below its first page, worst first."""
    return "\n".join(_rest(result, sure))


def _rest(result: Check, sure: Sure) -> Iterator[str]:
    yield ""
    yield from item(headline(result), "")
    yield ""
    for finding in result.findings:
        mark = _OTHER_MARKS.get(finding.code, _MARKS[finding.verdict])
        yield from item(f"{mark} {says(finding)}", "    ")
        rests = assumed_words(finding)
        if rests:
            yield from item(f"       {rests}", "       ")
        if words := sure.of(finding):
            yield from item(f"       {words}", "       ")
    contact = first_contact_words(result)
    if contact is not None:
        yield from item(f"    {contact}", "    ")
    yield ""
    yield from joint_table(result)
    yield ""
    yield from shaft_lines(result)
    basis = result.derivation
    yield from basis_lines(basis, (each.remark for each in basis.assumed))
    own = [note for found in result.joints.values() for note in found.hardware.notes]
    yield from listed("About your own yokes", map(said, dict.fromkeys(own)))
    yield from sure.rests()
    chord = max(found.curve.chord for found in result.joints.values())
    yield ""
    yield from item(f"Catalogue shapes are generic; meshes are true to {chord:.2f} mm.", "")
    yield from item(CAUTION, "")


_MARKS = {"clear": "  ok", "close": "   ~", "touches": "  !!"}

_OTHER_MARKS = {"caster": "   ", "hubs": "   ", "slip-not-measured": "   ?"}
"""Of findings that are never a verdict, so that nothing calls them ok: what only tells something,
and what asks for a measurement."""
