"""A remark of sim in words: its sentence by its code, with its numbers as a shop reads them."""

from collections.abc import Mapping
from typing import Final

from sim.remark import Remark
from viewer.words.cocked import COCKED
from viewer.words.derived import DERIVED
from viewer.words.evidence import EVIDENCE
from viewer.words.flags import FLAGS
from viewer.words.imported import IMPORTED
from viewer.words.notes import NOTES, READINGS
from viewer.words.overloaded import OVERLOADED
from viewer.words.own_joint import OWN_JOINT
from viewer.words.problem_sentences import PROBLEMS
from viewer.words.remedies import REMEDIES
from viewer.words.seen import SEEN
from viewer.words.sentence import Sentence, filled
from viewer.words.shakes import SHAKES
from viewer.words.ticket import TICKET
from viewer.words.visits import VISITS

SENTENCES: Final[Mapping[str, Sentence]] = {
    **NOTES,
    **READINGS,
    **OWN_JOINT,
    **DERIVED,
    **PROBLEMS,
    **FLAGS,
    **REMEDIES,
    **TICKET,
    **SHAKES,
    **IMPORTED,
    **SEEN,
    **EVIDENCE,
    **COCKED,
    **OVERLOADED,
    **VISITS,
}
"""Every sentence by its code."""


def said(remark: str | Remark) -> str:
    """A remark in words, small at its start and without a stop; words stay as they are."""
    if not isinstance(remark, Remark):
        return remark
    values = {
        name: said(value) if isinstance(value, Remark) else value for name, value in remark.values
    }
    words = filled(SENTENCES[remark.code], values)
    return f"{remark.subject}: {words}" if remark.subject else words
