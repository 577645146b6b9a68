"""Why a joint broke or wore, as text: some ten lines for the counter, then the rest where asked."""

from collections.abc import Iterator

from viewer.why.told import Told
from viewer.words.lines import item, section


def why_text(told: Told, full: bool = False) -> str:
    """What one says at the counter, and with `full` all the rest."""
    return "\n".join(_lines(told, full))


def counter_lines(told: Told) -> list[str]:
    """Lines of what one says at the counter, its title first."""
    return [told.title, *(line for words in told.counter for line in item(words, "  "))]


def _lines(told: Told, full: bool) -> Iterator[str]:
    yield from counter_lines(told)
    for part in told.detail if full else ():
        yield from section(part.title, part.entries)
    yield ""
    if not full:
        yield "All causes, what speaks for and against each, and what to do: --full"
    yield from item(told.caution, "")
