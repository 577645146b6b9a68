"""The graph shipped with the program: from models/causes to `Graph`."""

import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from sim.causes.codes import CauseCode
from sim.causes.graph import Beta, Cause, Graph, GraphError, Link, State


@cache
def load_graph() -> Graph:
    """Every cause and sign there is, with the strengths of the trade."""
    text = files("models").joinpath("causes", "causes.toml").read_text("utf-8")
    return graph_of(tomllib.loads(text))


def graph_of(data: Mapping[str, Any]) -> Graph:
    """The graph of a file's data. Raises GraphError for a word that is not among its words."""
    words, source = data["words"], data["source"]
    states = tuple(
        State(
            code,
            _share(words, f"{code}, leak", table["leak"]),
            {sign: _share(words, f"{code}, {sign}", word) for sign, word in table["shows"].items()},
        )
        for code, table in data["states"].items()
    )
    causes = tuple(
        Cause(code, Beta(*table["prior"]), _share(words, f"{code}, broke", table["broke"]))
        for code, table in data["causes"].items()
    )
    links = tuple(
        link
        for code, table in data["causes"].items()
        for prevents, name in ((False, "brings"), (True, "prevents"))
        for link in _links(words, source, code, table.get(name, {}), prevents)
    )
    leaks = {sign: _share(words, f"{sign}, leak", word) for sign, word in data["signs"].items()}
    return Graph(causes, leaks, links, states, _share(words, "none", data["none"]))


def _links(
    words: Mapping[str, float], source: str, cause: CauseCode, told: Mapping[str, Any], keeps: bool
) -> Iterator[Link]:
    """Told of each sign: a word, or a table with the word and a source of its own."""
    for to, said in told.items():
        table = said if isinstance(said, Mapping) else {"how": said}
        strength = _share(words, f"{cause} to {to}", table["how"])
        yield Link(cause, to, strength, table.get("source", source), keeps)


def _share(words: Mapping[str, float], what: str, word: str) -> float:
    if word not in words:
        raise GraphError(f"{what}: got {word!r}, expected one of {', '.join(words)}")
    return words[word]
