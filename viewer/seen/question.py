"""A question about a failed joint, made of what the schema says at the key that is asked for."""

import re
from typing import Final, get_args

from sim.seen.amounts import ClockPlace, OfRoad
from sim.seen.inspection import Inspection
from sim.seen.words import CapName, YokeName
from sim.table.fields import OfAngle, OfLength
from sim.table.form import form_of, means_of
from sim.table.kinds import Count, Kind, kind_of
from sim.table.structure import keys_of
from sim.table.words import Word
from viewer.interview.answers import Reader, angle, length, words
from viewer.interview.question import Question
from viewer.seen.answers import clock, count, pair, plain_choice, road, word_list, yes_or_no
from viewer.words.seen import CAP_CALLED, YOKE_CALLED

NAME_ALL: Final = "Name all that you see: what you leave out counts as not there."
"""What a list that was looked at means; said before the first one and under "?"."""
_TOLD: Final = frozenset({"symptoms.happened", "symptoms.noise", "history.changed"})
"""Lists of what is told: who names one word of them denies no other."""
SKIP: Final = "not looked at"
"""What Enter alone says where the schema has no word of its own."""


def asked(path: str, name: str = "", read: Reader | None = None, asks: str = "") -> Question:
    """The question for a key of an inspection.

    name : of the question, where that is not the key. read : how it is answered, where its kind
    does not say. asks : the question itself, where it is not that of the schema.
    """
    info = keys_of(Inspection)[re.sub(r"\[\d+\]", "", path)][1]
    form, kind = form_of(info), kind_of(info)
    places = _places(path)
    told = (form.datum or info.description or "").format(**places)
    means = choices(path) or means_of(info).format(**places)
    more = form.beware
    if legal_at(path):  # so that a list is read at a glance, what is meant by it stands under "?"
        listed = _is_list(info.annotation) and path not in _TOLD
        more = " ".join(text for text in (told, form.beware, NAME_ALL if listed else "") if text)
    return Question(
        name or path,
        asks or form.asks.format(**places),
        means,
        read or _reader(path, kind, is_list=_is_list(info.annotation)),
        _more(more, info.description or "", form.otherwise or SKIP),
        form.otherwise or SKIP,
    )


def _more(beware: str, description: str, skip: str) -> str:
    """What help has to say: something at each question."""
    more = beware or description.format(cap="", yoke="")
    return f"{more} Enter alone: {skip}. back: one step back. stop: write down what there is."


def legal_at(path: str) -> tuple[str, ...]:
    """The words of the list or of the choice at a key; empty where it is none."""
    kind = kind_of(keys_of(Inspection)[re.sub(r"\[\d+\]", "", path)][1])
    return tuple(kind.legal) if isinstance(kind, Word) else ()


def choices(path: str) -> str:
    """What may be answered, numbered where several words may be."""
    legal = legal_at(path)
    if not legal:
        return ""
    if not _is_list(keys_of(Inspection)[re.sub(r"\[\d+\]", "", path)][1].annotation):
        return f"One of: {', '.join(legal)}."
    numbered = ", ".join(f"{place} {word}" for place, word in enumerate(legal, start=1))
    none = "" if "nothing" in legal else "; nothing where there is none"
    return f"Some of: {numbered}{none}."


def _places(path: str) -> dict[str, str]:
    """Names of the cap or the yoke that a key is of."""
    called: dict[str, str] = {"cap": "", "yoke": ""}
    tables = path.split(".")
    if tables[0] == "caps":
        cap: CapName = next(each for each in get_args(CapName) if each == tables[1])
        called["cap"] = CAP_CALLED[cap]
    if tables[0] == "yokes":
        yoke: YokeName = next(each for each in get_args(YokeName) if each == tables[1])
        called["yoke"] = YOKE_CALLED[yoke]
    return called


def _is_list(annotation: object) -> bool:
    return "tuple[" in str(annotation)


def _reader(path: str, kind: Kind | None, is_list: bool) -> Reader:
    """How an answer is read, by the kind of value that stands at the key."""
    if isinstance(kind, Word):
        legal = tuple(kind.legal)
        return word_list(path, legal) if is_list else plain_choice(path, legal)
    if isinstance(kind, Count):
        return count(path, round(kind.range.most))
    if isinstance(kind, OfLength) and is_list:
        return pair(path)
    if isinstance(kind, OfRoad):
        return road(path)
    by_kind = {OfLength: length, OfAngle: angle, ClockPlace: clock}
    plain = yes_or_no if path.endswith(".pair") else words
    made = next((read for of, read in by_kind.items() if isinstance(kind, of)), plain)
    return made(path)
