"""What a shake most likely is, as text of some twenty lines."""

from collections.abc import Iterator

from sim.vibration import Vibration
from viewer.vibration.told import Answer, told_of
from viewer.words.lines import item


def vibration_text(found: Vibration) -> str:
    """All that is told."""
    return answer_text(told_of(found))


def answer_text(answer: Answer) -> str:
    """The same of an answer."""
    return "\n".join(_lines(answer))


def _lines(answer: Answer) -> Iterator[str]:
    yield answer.name
    for words in answer.asked:
        yield from item(words, "")
    for each in answer.suspects:
        yield ""
        yield from item(each.title, "  ")
        for words in each.says:
            yield from item(f"  {words}", "  ")
        for cure in each.cures:
            yield from item(f"  - {cure.says}", "    ")
    yield ""
    for words in answer.rest:
        yield from item(words, "  ")
    yield ""
    yield from item(answer.caution, "")
