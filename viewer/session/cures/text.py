"""The rig file with a cure in it: what was typed as it was typed, what is new remarked upon."""

from collections.abc import Iterator, Mapping
from typing import Any

from sim.cures import Cure, Cures
from sim.cures.as_typed import said_as_typed
from sim.rig import Rig
from sim.rig.change import changed
from viewer.session.text.retyping import differences, retyped
from viewer.words.cures import cured_note, remedy_name


def cured_text(found: Cures, cure: Cure, text: str) -> str:
    """The text of a rig file with a cure of its rig typed into it, each new value with its remedy.

    What the cure leaves alone stands as it stood, remarks and all, and what was left out and
    assumed is left out still.
    """
    rig, by = cured_as_typed(found.rig, cure)
    noted = changed(rig, {"note": cured_note(found, cure)})
    return retyped(text, noted, by)


def mended_text(before: Rig, text: str, cured: Rig, name: str) -> str:
    """The text of a rig file with another rig of the same shaft typed into it.

    name : of what was done, to be remarked beside each new value.
    """
    after = said_as_typed(before, cured)
    changes = differences(before.typed(), after.typed())
    lines = (each for key, value in changes if value is not None for each in _lines(key, value))
    return retyped(text, after, {each: [name] for each in lines})


def cured_as_typed(rig: Rig, cure: Cure) -> tuple[Rig, Mapping[str, list[str]]]:
    """The cured rig as it would be typed, and the names of the remedies that changed each key."""
    by: dict[str, list[str]] = {}
    before, built = rig, set[str]()
    for trial in cure.trials:
        built |= trial.remedy.builds
        after = said_as_typed(rig, trial.case.cured, built)
        for key, value in differences(before.typed(), after.typed()):
            for each in _lines(key, value) if value is not None else ():
                by.setdefault(each, []).append(remedy_name(trial.remedy.code))
        before = after
    return before, by


def _lines(key: str, value: Any) -> Iterator[str]:
    """Key paths of every line that a new value takes: of a table each of its keys."""
    yield key
    if isinstance(value, Mapping):
        for name, inner in value.items():
            yield from _lines(f"{key}.{name}", inner)
