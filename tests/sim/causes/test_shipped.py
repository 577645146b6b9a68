"""The graph shipped with the program: whole, and with a source for everything."""

from typing import get_args

import pytest

from sim.causes import CauseCode, ComputedCode, GraphError, SeenCode, graph_of, load_graph

WHOLE = load_graph()


def test_it_has_every_cause_and_every_sign():
    assert {*WHOLE.codes} == {*get_args(CauseCode)}
    assert {*WHOLE.signs} == {*get_args(SeenCode), *get_args(ComputedCode)}


def test_no_sign_proves_and_none_is_idle():
    assert all(leak > 0.0 for leak in WHOLE.leaks.values())
    assert all(state.leak > 0.0 for state in WHOLE.states)
    linked = {link.to for link in WHOLE.links}
    shown = {sign for state in WHOLE.states for sign in state.shows}
    assert {*WHOLE.signs} <= linked | shown
    assert {state.code for state in WHOLE.states} <= linked


def test_every_link_says_where_it_is_from():
    sources = {link.source for link in WHOLE.links}
    assert sources == {"common practice, no source", "derivation"}
    derived = [(e.cause, e.to) for e in WHOLE.links if e.source == "derivation"]
    assert ("bound", "in-reach") in derived
    assert len(derived) < 0.05 * len(WHOLE.links)


def invented(**keys):
    """Data of a file with one cause."""
    cause = {"prior": [2.0, 3.0], "broke": "seldom", "brings": {"flakes": "seldom"}} | keys
    return {
        "source": "invented",
        "none": "seldom",
        "words": {"seldom": 0.1, "always": 1.0},
        "signs": {"flakes": "seldom"},
        "states": {},
        "causes": {"bound": cause},
    }


def test_a_strength_is_a_word_with_or_without_a_source_of_its_own():
    (link,) = graph_of(invented()).links
    assert (link.strength, link.source, link.prevents) == (0.1, "invented", False)
    own = {"flakes": {"how": "seldom", "source": "derivation"}}
    (link,) = graph_of(invented(brings={}, prevents=own)).links
    assert (link.strength, link.source, link.prevents) == (0.1, "derivation", True)


@pytest.mark.parametrize(
    ("says", "keys"),
    [
        ("bound to flakes: got 'rarely', expected one of seldom", {"brings": {"flakes": "rarely"}}),
        ("expected two numbers above 0", {"prior": [0.0, 3.0]}),
        ("no sign or state 'flaks'", {"brings": {"flaks": "seldom"}}),
        ("from 0 to under 1", {"broke": "always"}),
    ],
)
def test_what_makes_no_graph_is_refused(says, keys):
    with pytest.raises(GraphError, match=says):
        graph_of(invented(**keys))
