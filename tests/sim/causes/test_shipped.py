"""The graph shipped with the program: whole, and with a source for everything."""

from typing import get_args

from sim.causes import CauseCode, ComputedCode, SeenCode, load_graph

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
    assert all(link.source for link in WHOLE.links)
