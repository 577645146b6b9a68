"""One question of the interview, made of what the schema says at the key that is asked for."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sim.head.catalogue import head_kinds
from sim.parts.catalogue import cross_sizes, yoke_kinds
from sim.rig.choice import Choice, CrossChoice, HeadChoice
from sim.rig.defaults import DEFAULTS
from sim.rig.keys import form_at, key_at
from sim.table.fields import OfAngle, OfLength
from sim.table.form import form_of, means_of, way_of
from sim.table.kinds import Number, kind_of
from sim.table.loads import Share
from sim.table.structure import holds, kinds_of, parts_of, words_of
from viewer.interview.answers import (
    Reader,
    angle,
    choice,
    length,
    number,
    share,
    spoken,
    words,
    yes,
)
from viewer.interview.assembling import assemble
from viewer.words.keys import choice_words

Said = Mapping[str, Any]
"""Everything answered so far: typed values by key path, and the interview's own choices."""


@dataclass(frozen=True)
class Question:
    """What to ask, what is meant by it, and how to read the answer."""

    name: str
    """A name of its own; where one key is asked for, its path."""
    asks: str
    """The question, in one line."""
    means: str
    """Which datum is meant; told before the question."""
    read: Reader
    beware: str = ""
    """What goes wrong with this measurement; told when asked for help."""
    default: str = ""
    """What an empty answer stands for; empty where an answer is needed."""

    @property
    def prompt(self) -> str:
        """The question with its default."""
        return f"{self.asks} [{self.default}] " if self.default else f"{self.asks} "


def asked(
    key: str,
    said: Said,
    *,
    name: str = "",
    read: Reader | None = None,
    also: str = "",
    default: str | None = None,
    **places: str,
) -> Question:
    """The question for a key of the schema.

    name : of the question, where that is not the key.
    read : how the answer is read, where the key's type does not say it all.
    also : another key that says the same in another measure.
    default : what an empty answer stands for; by default what the key has.
    places : words for the {places} in the question and its datum.
    """
    info = key_at(key)[1]
    form = form_of(info)
    parts = [part for part in parts_of(info.annotation) if issubclass(part, Choice)]
    if parts and "{choices}" in form.datum:
        places["choices"] = _names(parts[0])
    return Question(
        name or key,
        form.asks.format(**places),
        means_of(info).format(**places),
        read or reader(name or key, also),
        form.beware,
        left_out(name or key, said) if default is None else default,
    )


def each(said: Said, *keys: str) -> Iterator[Question]:
    """The questions for some keys that need nothing but what the schema says."""
    for key in keys:
        yield asked(key, said)


def left_out(key: str, said: Said) -> str:
    """What stands where a key is left out; empty where it is needed."""
    info = key_at(key)[1]
    if holds(info.annotation, bool):
        return "no"
    default = next((default for default in DEFAULTS if default.key == key), None)
    assumed = "" if default is None else str(default.typed(assemble(said)))
    return form_of(info).otherwise or assumed


def reader(key: str, also: str = "") -> Reader:
    """How an answer for a key is read, by the kind of value that stands there."""
    ways = _ways(key)
    if ways:
        of_angle = isinstance(kind_of(key_at(next(iter(ways.values())))[1]), OfAngle)
        return spoken(ways, _ways(also)) if of_angle else spoken(distances=ways)
    info = key_at(key)[1]
    legal = words_of(info.annotation)
    if legal:
        if key.endswith(".kind"):
            of_table = parts_of(key_at(key.removesuffix(".kind"))[1].annotation)
            legal = tuple(kind for part in of_table for kind in kinds_of(part))
        return choice(key, {word: word for word in legal})
    if holds(info.annotation, bool):
        return yes(key)
    kind = kind_of(info)
    of_kind = {OfLength: length, OfAngle: angle, Number: number, Share: share}
    return next(
        (read(key) for type_, read in of_kind.items() if isinstance(kind, type_)), words(key)
    )


def _ways(key: str) -> dict[str, str]:
    """Keys by the word for the direction they say, where a key is one of such."""
    if not key:
        return {}
    part, info = key_at(key)
    table, _, last = key.rpartition(".")
    inner = next(parts_of(info.annotation), None)
    if inner is not None:
        part, table, last = inner, key, next(iter(inner.model_fields))
    rule = part.exclusive(last)
    keys = [f"{table}.{each}" for each in rule.keys] if rule else []
    return {way: each for each in keys if (way := way_of(each, form_at(each)))}


def _names(part: type[Choice]) -> str:
    """Everything of the catalogue that can stand at a key."""
    if issubclass(part, CrossChoice):
        return ", ".join(choice_words(size.name, "cross") for size in cross_sizes())
    return ", ".join(head_kinds() if issubclass(part, HeadChoice) else yoke_kinds())
