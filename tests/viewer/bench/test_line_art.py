"""Line drawings: what is seen of bodies whose outlines are known in closed form."""

import numpy as np
import pytest

from sim.frames import Rx, Ry, pose
from tests.simple_shapes import box
from viewer.bench.line_art import CELL, STEP, line_art
from viewer.scene.parts import PosedPart

Floats = np.ndarray

ABOUT = 2.0 * (CELL + STEP)
"""mm; a line ends no farther from where it should than by two cells and two pieces of itself."""


Triple = tuple[float, float, float]


def block(size: Triple, at: Triple = (0.0, 0.0, 0.0), X: Floats | None = None) -> PosedPart:
    half = 0.5 * np.array(size)
    mesh = box(tuple(at - half), tuple(at + half), "block")
    return PosedPart("block", "cast iron", mesh, np.eye(4) if X is None else X)


def length(lines: Floats) -> float:
    return float(np.linalg.norm(lines[:, 1] - lines[:, 0], axis=-1).sum())


def test_a_block_seen_straight_is_its_rim() -> None:
    rims, corners = line_art([block((60.0, 40.0, 20.0))], np.eye(3))
    for lines in (rims, corners):
        assert np.abs(np.abs(lines).max(axis=(0, 1)) - [30.0, 20.0]).max() < 1e-9
    assert length(rims) == pytest.approx(200.0, abs=1e-6)


def test_what_stands_behind_is_not_drawn() -> None:
    front = block((60.0, 40.0, 10.0), (0.0, 0.0, 30.0))
    behind = block((20.0, 20.0, 10.0), (0.0, 0.0, 0.0))
    alone, both = line_art([front], np.eye(3)), line_art([front, behind], np.eye(3))
    for one, other in zip(alone, both, strict=True):
        assert length(one) == pytest.approx(length(other), abs=1e-6)


def test_what_sticks_out_is_drawn_as_far_as_it_does() -> None:
    front = block((60.0, 40.0, 10.0), (0.0, 0.0, 30.0))
    behind = block((20.0, 20.0, 10.0), (30.0, 0.0, 0.0))
    rims, _ = line_art([front, behind], np.eye(3))
    # A side of 20 mm and two of 10 mm are beside the front one.
    assert length(rims) - 200.0 == pytest.approx(40.0, abs=2.0 * ABOUT)
    outside = rims[(rims[..., 0] > 30.0 + CELL).any(axis=1)]
    assert outside[..., 0].max() == pytest.approx(40.0, abs=1e-9)


def test_a_scale_makes_all_of_it_smaller() -> None:
    body = block((60.0, 40.0, 20.0), X=pose(Rx(0.4) @ Ry(0.3), np.zeros(3)))
    whole, half = (line_art([body], np.eye(3), scale) for scale in (1.0, 0.5))
    for one, other in zip(whole, half, strict=True):
        assert length(other) == pytest.approx(0.5 * length(one), abs=ABOUT)


def test_a_turned_block_shows_three_faces() -> None:
    body = block((60.0, 40.0, 20.0), X=pose(Rx(0.6) @ Ry(0.5), np.zeros(3)))
    rims, corners = line_art([body], np.eye(3))
    R = Rx(0.6) @ Ry(0.5)
    shown = np.linalg.norm(R[:2] * np.array([60.0, 40.0, 20.0]), axis=0)
    # Of the twelve edges six make the rim, three more are before the body, three behind it.
    assert length(rims) == pytest.approx(2.0 * shown.sum(), abs=ABOUT)
    assert length(corners) == pytest.approx(3.0 * shown.sum(), abs=3.0 * ABOUT)
