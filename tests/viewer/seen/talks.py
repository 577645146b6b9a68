"""Talks about what is seen on a failed joint, and what comes of them."""

from collections.abc import Mapping
from typing import Any

from sim.causes import CauseCode, SignCode
from sim.rig import load_demo
from sim.seen import Inspection
from sim.table.structure import keys_of
from tests.viewer.test_interview import Person
from viewer.seen.talk import look
from viewer.seen.topics import TOPICS

RIG = load_demo("quarry-hauler")
HEAD: dict[str, Any] = {"schema": 1, "kind": "inspection"}
BROKE = {"Did it break": "broke", "Which joint": "pinion"}
WORE = {"Did it break": "wore", "Which joint": "pinion"}


def held(person: Person, before: Inspection | None = None, **more: Any) -> dict[str, Any]:
    """What comes of a talk."""
    found = look(person.ask, person.tell, RIG, before, **more)
    assert found is not None
    return found.typed()


class Known:
    """A vehicle that says nothing, but has a word for what was seen."""

    def says(self, seen: Inspection) -> Mapping[SignCode, bool]:
        del seen
        return {}

    def priors(self, seen: Inspection) -> Mapping[CauseCode, float]:
        del seen
        return {}

    def word(self, seen: Inspection) -> str:
        return f"  It {seen.came}."


def topic_of_prompt(prompt: str) -> str:
    """Name of the topic whose question begins a prompt."""
    for topic in TOPICS:
        asks = getattr(topic.script, "asks", None)
        if asks is not None and prompt.startswith(asks):
            return topic.name
        for path in topic.fills:
            info = keys_of(Inspection)[path][1]
            told = getattr(info.json_schema_extra, "asks", "")
            if told and "{" not in told and prompt.startswith(told):
                return topic.name
    return ""


def caps(answers: dict[str, str | list[str]]) -> dict[str, Any]:
    """What is said of the caps."""
    return held(Person(WORE | answers | {"Write it down": "no"}))["caps"]
