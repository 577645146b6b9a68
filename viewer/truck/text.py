"""What was seen on the truck and on its visits, as text."""

from collections.abc import Iterator

from viewer.truck.answer import TruckAnswer
from viewer.words.lines import item, listed, section, stopped
from viewer.words.remarks import said
from viewer.words.truck import (
    alone_lines,
    contradiction_words,
    held_words,
    seen_words,
    together_words,
)
from viewer.words.verdicts import CAUTION
from viewer.words.visits import between_title, look_words, move_lines, rig_lines


def truck_text(found: TruckAnswer) -> str:
    """All that is told."""
    return "\n".join(_lines(found))


def _lines(found: TruckAnswer) -> Iterator[str]:
    yield found.rig.name
    yield from _held(found)
    yield from _visits(found)
    yield ""
    yield from item(CAUTION, "")


def _held(found: TruckAnswer) -> Iterator[str]:
    held = found.held
    if not held.items:
        return
    yield ""
    yield "Held against the truck"
    for each in held.items:
        yield from item(f"  {each.observed.number}  {seen_words(each.observed)}.", "     ")
        yield from item(f"     {held_words(each)}", "     ")
    seen = {each.observed.number: each.observed for each in held.items}
    yield from section("", (contradiction_words(each, seen) for each in held.contradictions))
    if held.disagrees:
        yield from listed(
            "What would have to be wrong, by itself, the least unlikely first", alone_lines(held)
        )
        if held.together is not None:
            yield from section("", [together_words(held.together)])
    elif not held.contradictions:
        yield from section("", ["All that was seen agrees with what is computed."])


def _visits(found: TruckAnswer) -> Iterator[str]:
    visits = found.rig.visits
    for each in found.visits.between:
        yield ""
        yield between_title(each, visits)
        for line in move_lines(each.moves):
            yield from item(f"  - {line}")
        if not each.moves:
            yield "  Nothing was read on both days."
        looks = ", and ".join(look_words(look) for look in each.looks)
        if looks:
            yield from item(f"  Looks like: {looks}.")
    if found.visits.rig is not None:
        yield from section("The file against the last visit", rig_lines(found.visits.rig, visits))
    yield from listed("Odd", (stopped(said(each)) for each in found.visits.doubts))
