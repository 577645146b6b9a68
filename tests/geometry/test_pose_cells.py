"""Cells of poses: they fill the box, and what a motion does between their poses is bounded."""

import numpy as np
import pytest

from geometry.contact.pose_cells import FIRST_CUT, SLIVER, PoseCells

LOW, HIGH = np.array([-200.0, -0.15, -0.1]), np.array([100.0, 0.15, 0.2])


def shifted(poses: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Two lines that only shift: one along x with the first number, one lifted by all."""
    along, lift = poses[:, :1] * [1.0, 0.0, 0.0], poses.sum(axis=1)[:, None] * [0.0, 0.0, 1.0]
    begin = np.stack([along, lift])
    return begin, np.add(begin, [0.0, 40.0, 0.0])


def test_the_first_cells_fill_the_box() -> None:
    cells = PoseCells(shifted, LOW, HIGH)
    assert len(cells.first) == np.prod(FIRST_CUT)
    corners = [cells.poses(cells.first, np.full(len(cells.first), k)) for k in (0, 26)]
    assert np.prod(corners[1] - corners[0], axis=1).sum() == pytest.approx(np.prod(HIGH - LOW))
    assert corners[0].min(axis=0) == pytest.approx(LOW)
    assert corners[1].max(axis=0) == pytest.approx(HIGH)
    assert cells.length[cells.first] == pytest.approx(40.0)
    assert (cells.lean[cells.first] == [0.0, 1.0, 0.0]).all()
    middle = cells.middle[cells.first]
    at = cells.poses(cells.first, middle)
    assert at == pytest.approx(0.5 * (corners[0] + corners[1]))
    here = cells.begin[cells.first, 0, middle]
    assert here[:, 0] == pytest.approx(at[:, 0])


@pytest.mark.parametrize("axis", [0, 1, 2])
def test_halves_of_a_cell_fill_it_and_are_made_once(axis: int) -> None:
    cells = PoseCells(shifted, LOW, HIGH)
    parents = cells.first[[3, 5, 3]]
    halves, parent = cells.children(parents, np.full(3, axis))
    assert sorted(parent.tolist()) == [0, 0, 1, 1, 2, 2]
    again, _ = cells.children(parents, np.full(3, axis))
    assert halves.tolist() == again.tolist()
    assert set(halves[parent == 0]) == set(halves[parent == 2])
    for number in range(2):
        whole = [cells.poses(parents[number : number + 1], np.array([k]))[0] for k in (0, 26)]
        mine = halves[parent == number]
        ends = [cells.poses(mine, np.full(2, k)) for k in (0, 26)]
        order = np.argsort(ends[0][:, axis])
        assert ends[0][order[0]] == pytest.approx(whole[0])
        assert ends[1][order[1]] == pytest.approx(whole[1])
        assert ends[1][order[0], axis] == pytest.approx(ends[0][order[1], axis])


def test_cells_keep_what_was_read_of_them_while_the_list_grows() -> None:
    cells = PoseCells(shifted, LOW, HIGH)
    level = cells.first
    for axis in (0, 1, 2, 0, 1, 2):
        level, _ = cells.children(level, np.full(len(level), axis))
    every = np.arange(len(cells.begin))
    known = every[: int(level.max()) + 1]
    for k in (0, 13, 26):
        at = cells.poses(known, np.full(len(known), k))
        assert cells.begin[known, 0, k, 0] == pytest.approx(at[:, 0])
        assert cells.begin[known, 1, k, 2] == pytest.approx(at.sum(axis=1))


def test_a_closed_side_stays_closed() -> None:
    low, high = LOW.copy(), HIGH.copy()
    low[1] = high[1] = 0.1
    cells = PoseCells(shifted, low, high)
    assert cells.shape == (3, 1, 3)
    assert len(cells.first) == FIRST_CUT[0] * FIRST_CUT[2]
    assert (cells.poses(cells.first, np.zeros(len(cells.first), int))[:, 1] == 0.1).all()
    bow, along = cells.bow(np.arange(9.0)[None] ** 2)
    assert bow[0, 1] == along[0, 1] == 0.0


@pytest.mark.parametrize("axis", [0, 1, 2])
def test_what_is_added_between_the_poses_covers_a_parabola_and_a_cosine(axis: int) -> None:
    """Closed forms: c x^2 lies c h^2/4 under its chords at most, cos by as much or less."""
    cells = PoseCells(shifted, LOW, HIGH)
    step = np.array([-1.0, 0.0, 1.0])
    grids = np.meshgrid(step, step, step, indexing="ij")
    x = grids[axis].ravel()
    bow, along = cells.bow(np.stack([7.0 * x**2, 5.0 * x, 30.0 * np.cos(0.4 + x)]))
    # Seven x squared curves by 14 a step: its chord between two poses is 7/4 off in the middle.
    assert bow[0, axis] >= 7.0 / 4.0
    assert bow[1] == pytest.approx(0.0, abs=1e-12)
    fine = np.linspace(-1.0, 1.0, 2001)
    over = (30.0 * np.cos(0.4 + fine)).max() - (30.0 * np.cos(0.4 + step)).max()
    assert over > 0.5
    assert bow[2, axis] >= over
    assert along[1, axis] == pytest.approx(10.0)
    others = [k for k in range(3) if k != axis]
    assert bow[:, others] == pytest.approx(0.0, abs=1e-12)
    assert along[:, others] == pytest.approx(0.0, abs=1e-12)


def test_a_bow_is_that_of_the_most_curved_row_and_of_one_that_curves_down() -> None:
    cells = PoseCells(shifted, LOW, HIGH)
    step = np.array([-1.0, 0.0, 1.0])
    x, y, _ = np.meshgrid(step, step, step, indexing="ij")
    bow, along = cells.bow(np.stack([(x**2 * y).ravel(), (-(x**2)).ravel()]))
    assert bow[0, 0] == bow[1, 0] >= 0.25
    assert (along[:, 0] >= 2.0 * bow[:, 0]).all()


def cut_off(poses: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Poses with a sum above a slanted plane do not exist."""
    begin, end = shifted(poses)
    gone = poses[:, 0] / 300.0 + poses[:, 1] > 0.13
    begin[:, gone] = np.nan
    return begin, end


def test_cells_on_the_edge_of_what_can_be_reached_are_cut_down_to_slivers() -> None:
    cells = PoseCells(cut_off, LOW, HIGH)
    there = cells.there[cells.first]
    assert there.any(axis=1).all()
    edge = ~there.all(axis=1)
    assert edge.any()
    ends = [cells.poses(cells.first, np.full(len(cells.first), k)) for k in (0, 26)]
    size = (ends[1] - ends[0]) / (HIGH - LOW)
    assert (size[edge] <= 2.0 * SLIVER).all()
    assert (size[~edge]).max() > 2.0 * SLIVER
    # A pose stands for its cell that exists.
    assert there[np.arange(len(there)), cells.middle[cells.first]].all()
    # Every pose that exists is in a cell.
    rng = np.random.default_rng(2)
    poses = LOW + (HIGH - LOW) * rng.uniform(size=(3000, 3))
    poses = poses[poses[:, 0] / 300.0 + poses[:, 1] < 0.13 - 0.002]
    for pose in poses:
        assert ((ends[0] - 1e-9 <= pose) & (pose <= ends[1] + 1e-9)).all(axis=1).any()
