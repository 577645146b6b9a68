"""A remark of sim in words: its sentence by its code, with its numbers as a shop reads them.

A sentence is a text with the remark's values in braces, lengths and angles by the names of
`SHOWN`; or a function of the values, where it depends on them how it goes.
"""

from collections.abc import Callable, Mapping
from string import Formatter
from typing import Any, Final

from sim.remark import Remark
from viewer.words.derived import DERIVED
from viewer.words.flags import FLAGS
from viewer.words.notes import NOTES
from viewer.words.problem_sentences import PROBLEMS
from viewer.words.remedies import REMEDIES
from viewer.words.sentence import Sentence
from viewer.words.ticket import TICKET
from viewer.words.units import (
    format_angle,
    format_fine,
    format_fraction,
    format_fraction_up,
    format_length,
    format_missing,
    rpm,
)

SENTENCES: Final[Mapping[str, Sentence]] = {
    **NOTES,
    **DERIVED,
    **PROBLEMS,
    **FLAGS,
    **REMEDIES,
    **TICKET,
}
"""Every sentence by its code."""

SHOWN: Final[Mapping[str, Callable[[Any], str]]] = {
    "angle": format_angle,
    "fine": format_fine,
    "fraction": format_fraction,
    "fraction_up": format_fraction_up,
    "length": format_length,
    "missing": format_missing,
    "percent": lambda share: f"{100.0 * share:.0f} %",
    "rpm": rpm,
}


class _Shop(Formatter):
    """Knows the ways in which a shop reads a number."""

    def format_field(self, value: Any, format_spec: str) -> Any:
        """As the name after the colon says; any other is Python's own."""
        shows = SHOWN.get(format_spec)
        return super().format_field(value, format_spec) if shows is None else shows(value)


_SHOP: Final = _Shop()


def said(remark: str | Remark) -> str:
    """A remark in words, small at its start and without a stop; words stay as they are."""
    if not isinstance(remark, Remark):
        return remark
    sentence = SENTENCES[remark.code]
    values = {
        name: said(value) if isinstance(value, Remark) else value for name, value in remark.values
    }
    words = sentence(**values) if callable(sentence) else _SHOP.vformat(sentence, (), values)
    return f"{remark.subject}: {words}" if remark.subject else words
