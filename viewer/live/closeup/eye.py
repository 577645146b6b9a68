"""From where the close-up looks: square to a cut through the place, calm as the place moves."""

import numpy as np

from sim.frames import unit
from viewer.draw.camera import LEFT, UP, Camera, Floats, Region
from viewer.live.closeup.meeting import Meeting, radial

SPANS = (25.0, 32.0, 40.0, 50.0, 63.0, 80.0)
"""mm that may be shown across the picture, each a tenth of a decade from the next."""

LEAST, GOOD, MOST = 0.1, 0.17, 0.4
"""Share of the width that the place takes: at least, when it is chosen anew, at most."""

CALM = 0.14
"""Share of the room that the place may be off its middle before the picture goes after it."""

WIDEST = 1.25
"""Widths by heights of a room that count of one that is wider."""

OVER = -0.35
"""Worth of a side below which the other is taken: a little below nothing, so that it is kept."""


ALIKE = 0.8
"""Cosine of the angle the eye turns at once above which the side that it looks from is kept."""


class Eye:
    """Which way the close-up looks, how near, and which place of the joint is in the middle.

    Attributes
    ----------
    toward : (3,) in C, toward the eye.
    across : mm shown from the left to the right edge, unless the room is low.
    nearer : factor by which the user wants to be nearer.
    own_per_px, per_px : mm to a px that suits this place, and that it was seen by last.
    beside : the eye of a picture beside, of one scale with this one: the coarser of both.
    """

    def __init__(self) -> None:
        self.toward: Floats = LEFT
        self.across = 0.0
        self.nearer = 1.0
        self.beside: Eye | None = None
        self.own_per_px = self.per_px = 0.0
        self._aside: Floats | None = None
        self._is_new = True

    def forget(self) -> None:
        """Choose everything anew the next time."""
        self._is_new, self.across, self._aside = True, 0.0, None
        self.own_per_px = 0.0

    def turn(self, meeting: Meeting) -> Floats:
        """Direction (3,) toward the eye from which this place is seen, near to the last one."""
        if meeting.across is None and not self._is_new:
            return self.toward  # where metal just grazes nothing tells another way
        along, out, far = radial(meeting, meeting.spot.at)
        # The plane of the cut holds the way across the gap. Of those that do it is the one that
        # comes nearest to holding the shaft and the place, as a joint is cut in a drawing.
        aside = np.cross(along, out)
        wanted = far / (far + 5.0) * np.outer(aside, aside) - 0.8 * np.outer(along, along)
        if not self._is_new:
            wanted += 0.35 * np.outer(self.toward, self.toward)
        if meeting.across is not None:
            flat = np.linalg.svd(meeting.across[None])[2][1:]
            wanted = flat @ wanted @ flat.T
        else:
            flat = np.eye(3)
        toward = unit(np.linalg.eigh(wanted)[1][:, -1] @ flat)
        least = 0.0
        if not self._is_new:
            same = float(toward @ self.toward)
            toward = toward * (np.sign(same) or 1.0)
            least = OVER if abs(same) > ALIKE else 0.0
        self._is_new = False
        self.toward = np.asarray(-toward if self._worth(toward, along) < least else toward)
        return self.toward

    def _worth(self, toward: Floats, along: Floats) -> float:
        """How well a side suits those who look at a vehicle; that of the other is its negative."""
        return float((self.up(toward, along) + 0.6 * toward) @ UP + 0.4 * toward @ LEFT)

    @staticmethod
    def up(toward: Floats, along: Floats) -> Floats:
        """What points up in the picture, (3,): the shaft runs from left to right."""
        return unit(np.cross(toward, along))

    def camera(
        self, meeting: Meeting, at: Floats, size: float, page: Region, room: Region
    ) -> Camera:
        """Look at a place, (3,) mm in C, that takes `size` mm, so that it is seen in a room, px.

        page : the whole that the camera is of, px.
        """
        along, _, _ = radial(meeting, meeting.spot.at)
        up = self.up(self.toward, along)
        R = np.stack([np.cross(up, self.toward), up, self.toward])
        self._choose_span(size)
        self.own_per_px = self.across / self.nearer / min(room.width, WIDEST * room.height)
        per_px = self.per_px = self.shared_per_px
        centre = meeting.frame.centre
        here = R @ (at - centre)
        if self._aside is None:
            self._aside = here[:2]
        most = CALM * per_px * np.array([room.width, room.height])
        off = here[:2] - self._aside
        self._aside = self._aside + off - np.clip(off, -most, most)
        middle = np.append(self._aside - per_px * (room.middle - page.middle), here[2])
        return Camera(centre + middle @ R, self.toward, up, page.height * per_px)

    @property
    def shared_per_px(self) -> float:
        """How many mm a px is to be in both pictures."""
        return max(self.own_per_px, 0.0 if self.beside is None else self.beside.own_per_px)

    def _choose_span(self, size: float) -> None:
        if self.across and LEAST <= size / self.across <= MOST:
            return
        wanted = size / GOOD
        self.across = min(SPANS, key=lambda span: abs(np.log(span / max(wanted, 1e-3))))
