"""Labels: apart, whole, and moved no further than need be."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from viewer.draw.camera import Region
from viewer.draw.label_places import FAR, Label, places

SIZE = (800, 600)


def label(x, y, width=100.0, height=20.0, weighty=True):
    corner = np.array([float(x), float(y)])
    return Label(corner, Region(*corner, width, height), weighty)


def boxes(labels, moves):
    return [
        each.box.moved(*move).corners
        for each, move in zip(labels, moves, strict=True)
        if move is not None
    ]


def apart(one, other):
    return (one[1] <= other[0]).any() or (other[1] <= one[0]).any()


def test_labels_that_are_apart_stay_where_they_are():
    assert places([label(10, 10), label(300, 10), label(10, 200)], SIZE) == [(0.0, 0.0)] * 3


def test_a_label_cut_off_by_an_edge_comes_in_by_what_was_cut_off():
    assert places([label(750, 590)], SIZE) == [(-50.0, -10.0)]


def test_the_name_of_what_is_out_of_sight_stays_out_of_sight():
    assert places([label(-30, 10), label(10, 700)], SIZE) == [(0.0, 0.0)] * 2


def test_the_weighty_one_stays_and_the_other_gives_way_upward():
    name, verdict = label(100, 108, weighty=False), label(100, 100)
    moved, kept = places([name, verdict], SIZE)
    assert kept == (0.0, 0.0)
    assert moved == (0.0, 15.0)


def test_a_name_that_would_have_to_go_far_is_left_away():
    plates = [label(100, y, 400.0, 100.0) for y in (0, 120, 240)]
    assert places([*plates, label(250, 160, weighty=False)], SIZE)[3] is None


def test_one_for_which_there_is_no_room_is_seen_all_the_same():
    assert places([label(0, 0, 90.0, 50.0), label(5, 5, 90.0, 50.0)], (100, 60))[1] == (0.0, 0.0)


@given(
    st.lists(
        st.builds(
            label,
            st.floats(0, 700),
            st.floats(0, 580),
            st.floats(20, 250),
            st.floats(10, 50),
            st.booleans(),
        ),
        max_size=7,
    )
)
def test_whatever_is_asked_names_are_apart_and_not_far_off(labels):
    moves = places(labels, SIZE)
    for each, move in zip(labels, moves, strict=True):
        assert not (each.weighty and move is None)
        if not each.weighty and move is not None:
            assert np.hypot(*move) <= FAR * (each.box.height) + 1e-9
    names = [i for i, each in enumerate(labels) if not each.weighty and moves[i] is not None]
    for i in names:
        here = boxes([labels[i]], [moves[i]])[0]
        others = [j for j in range(len(labels)) if j != i and moves[j] is not None]
        for j in others:
            assert apart(here, boxes([labels[j]], [moves[j]])[0])
        assert (here[0] >= 0).all()
        assert (here[1] <= SIZE).all()
