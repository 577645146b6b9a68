"""From which side a touching place is best seen.

The plane of the bend shows the bend in full, so the first choice is to look along its normal.
But the ears of a yoke stand in the way as often as not; so many directions are tried, and each is
judged by what it shows: the place itself not hidden, the bend, the room across the gap.
"""

from collections.abc import Sequence

import numpy as np

from viewer.draw.camera import UP, Floats
from viewer.scene.parts import PosedPart

DIRECTIONS = 500
"""Directions tried over the whole sphere: 6 deg apart, closer than an eye tells apart."""


def telling_side(
    solids: Sequence[PosedPart],
    axes: Floats,
    places: Floats,
    across: Floats | None = None,
    skin: float = 1.0,
) -> tuple[Floats, float]:
    """Direction (3,) in C toward the eye that tells most, and how much of the places it shows.

    Parameters
    ----------
    solids : what can stand in the way.
    axes : (2, 3) in C, directions of the two shafts.
    places : (n, 3) mm in C, what has to be seen.
    across : (3,) in C, direction across the gap or the overlap, seen at full length if possible.
    skin : mm of metal over a place that still counts as seen.
    """
    directions = sphere(DIRECTIONS)
    score = _plain_worth(directions, axes, across)
    triangles = np.concatenate([part.in_chassis[part.mesh.faces] for part in solids])
    best, best_shown, best_score = directions[0], 0.0, -np.inf
    for i in np.argsort(-score):
        if score[i] + _SEEN < best_score:  # no place seen could make up for it
            break
        shown = float((~hidden(triangles, places, directions[i], skin)).mean())
        worth = score[i] + _SEEN * min(1.0, shown / _ENOUGH)
        if worth > best_score:
            best, best_shown, best_score = directions[i], shown, worth
    return np.asarray(best), best_shown


_SEEN = 2.2
"""Worth of seeing the place against the other worths, which add up to about as much."""

_ENOUGH = 0.6
"""Share of a place that is as good as all of it."""


def _plain_worth(directions: Floats, axes: Floats, across: Floats | None) -> Floats:
    """Worth of directions (n, 3) apart from what hides the place, (n,)."""
    end_on = np.abs(directions @ axes.T).max(axis=1)
    worth = -4.0 * np.clip(end_on - 0.55, 0.0, None)
    normal = np.cross(axes[0], axes[1])
    length = np.linalg.norm(normal)
    if length > 1e-3:
        worth += 1.2 * np.abs(directions @ (normal / length))
    if across is not None:
        worth += 0.6 * np.sqrt(1.0 - np.clip(directions @ across, -1.0, 1.0) ** 2)
    height = directions @ UP
    # People look at a vehicle from beside it, rather from above than from below.
    worth += 0.25 * np.clip(height, -1.0, 0.4) - 1.5 * np.clip(np.abs(height) - 0.8, 0.0, None)
    return np.asarray(worth)


def hidden(
    triangles: Floats, places: Floats, toward: Floats, skin: float = 0.0
) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Whether triangles (m, 3, 3) hide places (n, 3) from an eye far away in `toward` (3,).

    skin : mm; a triangle that lies no more than this in front of a place does not hide it.
    """
    toward = toward / np.linalg.norm(toward)
    aside = np.cross(toward, UP if abs(toward[2]) < 0.9 else np.array([1.0, 0.0, 0.0]))
    aside = aside / np.linalg.norm(aside)
    R = np.stack([aside, np.cross(toward, aside), toward])
    corners, at = triangles @ R.T, places @ R.T
    low, high = corners.min(axis=1), corners.max(axis=1)
    answer = np.zeros(len(at), dtype=bool)
    for i, p in enumerate(at):
        near = (
            (low[:, 0] <= p[0])
            & (high[:, 0] >= p[0])
            & (low[:, 1] <= p[1])
            & (high[:, 1] >= p[1])
            & (high[:, 2] > p[2] + skin)
        )
        answer[i] = _covered(corners[near], p, skin)
    return answer


def _covered(corners: Floats, p: Floats, skin: float) -> bool:
    """Whether one of the triangles, in view coordinates, lies over the place."""
    edge = np.roll(corners, -1, axis=1)[..., :2] - corners[..., :2]
    reach = p[:2] - corners[..., :2]
    turn = edge[..., 0] * reach[..., 1] - edge[..., 1] * reach[..., 0]
    total = turn.sum(axis=1)
    inside = ((turn >= 0.0).all(axis=1) | (turn <= 0.0).all(axis=1)) & (total != 0.0)
    if not inside.any():
        return False
    # The area opposite to a corner is its weight in the place.
    weight = np.roll(turn[inside], -1, axis=1) / total[inside, None]
    depth = (weight * corners[inside][..., 2]).sum(axis=1)
    return bool((depth > p[2] + skin).any())


def sphere(count: int) -> Floats:
    """Directions spread evenly over the sphere (a Fibonacci spiral), (count, 3)."""
    i = np.arange(count) + 0.5
    z = 1.0 - 2.0 * i / count
    turn = np.pi * (1.0 + np.sqrt(5.0)) * i
    flat = np.sqrt(1.0 - z * z)
    return np.stack([flat * np.cos(turn), flat * np.sin(turn), z], axis=-1)
