"""The two yokes of a joint closing on each other as it bends.

Each distance query at one (bend, spin) certifies a whole neighbourhood: relative motion is a
turn about the cross centre, so a gap g stays open until the bend has grown by g over the reach
times the rate of turn. Stepping by that amount is conservative advancement [MIRTICH, from
memory]: it cannot jump over a contact, however thin. Closing to a gap that is wanted goes the
same way, with what is left to that gap in place of the whole of it.
"""

from typing import Protocol

from geometry.contact.distance import MeshPair, Nearest
from geometry.contact.reach import reach, within
from geometry.contact.touching import Closeness, Touch, WholePair
from geometry.joint import Array, driven_in_driving, turn_per_bend, turn_per_spin
from geometry.mesh import Mesh
from geometry.tolerances import TOL


class Closes(Protocol):
    """Two bodies that close on each other by bend and spin, as a certificate sees them."""

    near: Closeness

    @property
    def graze(self) -> float:
        """Room (mm) that counts as touching even where nothing is seen to cut."""

    def nearest(self, bend: float, spin: float) -> Nearest:
        """Nearest points at this bend and spin (rad)."""

    def touches(self, bend: float, spin: float) -> bool:
        """Whether they touch at this bend and spin (rad)."""

    def clear_to(self, room: float, bend: float, half_width: float = 0.0) -> float:
        """Bend (rad) up to which the room (mm) seen at `bend` rules out contact."""


class ClosingPair:
    """Two yokes of a joint, ready for queries.

    Parameters
    ----------
    a, b : closed meshes of the driving and the driven yoke in their yoke frames.
    limit : rad, highest bend that will be asked.
    gap : mm, how near counts as touching.
    """

    def __init__(self, a: Mesh, b: Mesh, limit: float = TOL.bend_limit, gap: float = 0.0) -> None:
        self.near = Closeness(gap)
        self.reach = reach(a, b, limit, gap)
        self.a = within(a, self.reach)
        self.b = within(b, self.reach)
        self._meshes = MeshPair(self.a, self.b)
        self.whole = WholePair(a, b)
        self._asked = 0

    def nearest(self, bend: float, spin: float) -> Nearest:
        """Nearest points at this bend and spin (rad), in the frame of a."""
        self._asked += 1
        return self._meshes.nearest(driven_in_driving(bend, spin))

    @property
    def graze(self) -> float:
        """Gap (mm) that counts as touching even where nothing is seen to cut.

        Doubled with every `_PATIENCE` queries, so that bodies that graze over wide ranges of bend
        and spin come to an end, on the safe side: they are said to touch.
        """
        return self.near.graze * 2.0 ** (self._asked // _PATIENCE)

    def cut(self, bend: float, spin: float) -> bool:
        """Whether the surfaces cut each other at this bend and spin (rad)."""
        return self._meshes.cut(driven_in_driving(bend, spin))

    def touches(self, bend: float, spin: float) -> bool:
        """Whether the surfaces cut, or are nearer than the gap, at this bend and spin (rad)."""
        if self.near.gap > 0.0:
            return self.near.room(self.nearest(bend, spin)) < 0.0
        return self.cut(bend, spin)

    def cut_triangles(self, bend: float, spin: float) -> tuple[int, int] | None:
        """Indices of two triangles, of `a` and of `b`, that cut each other here, or None."""
        return self._meshes.cut_triangles(driven_in_driving(bend, spin))

    def rotation(self, bend: float, spin: float) -> Array:
        """Rotation of b's frame in a's frame, (3, 3)."""
        return driven_in_driving(bend, spin)

    def clear_to(self, room: float, bend: float, half_width: float = 0.0) -> float:
        """Bend (rad) up to which the room (mm) seen at `bend` rules out contact.

        Holds for every spin within `half_width` (rad) of the one asked. Going first along the
        bend by d, then along the spin by h, the room shrinks by at most
        reach * (turn_per_bend * d + turn_per_spin * h), both rates taken at the far bend.
        """
        turn = room / self.reach

        def is_clear(far: float) -> bool:
            return turn_per_bend(far) * (far - bend) + turn_per_spin(far) * half_width <= turn

        low, high = bend, min(bend + turn, TOL.bend_limit)
        if is_clear(high):
            return high
        for _ in range(_HALVINGS):
            middle = 0.5 * (low + high)
            if is_clear(middle):
                low = middle
            else:
                high = middle
        return low


def first_touch(pair: ClosingPair, spin: float, start: float, stop: float) -> Touch | None:
    """First bend in [start, stop] (rad) at which the pair touches at this spin, or None.

    The path is certified from `start` on: contact is ruled out at every bend in between.
    """
    bend = start
    while bend < stop:
        near = pair.nearest(bend, spin)
        touch = _touch_here(pair, spin, bend, near)
        if touch is not None:
            return touch
        bend = pair.clear_to(pair.near.room(near), bend)
    return None


def _touch_here(pair: Closes, spin: float, bend: float, near: Nearest) -> Touch | None:
    """The touch at a clear bend with these nearest points, or None where the way goes on."""
    room = pair.near.room(near)
    if room > max(pair.near.ahead, pair.graze):
        return None
    seen = _contact_near(pair, spin, bend)
    if seen is not None:
        return Touch(bend, seen, near)
    return Touch(bend, bend, near) if room <= pair.graze else None


def _contact_near(pair: Closes, spin: float, clear: float) -> float | None:
    """Bend just past `clear` at which the pair is seen to touch, or None within tolerance."""
    touch = clear + pair.near.look
    if not pair.touches(touch, spin):
        return None
    low = clear
    while touch - low > pair.near.fine:
        middle = 0.5 * (low + touch)
        if pair.touches(middle, spin):
            touch = middle
        else:
            low = middle
    return touch


def certify(pair: Closes, low: float, high: float, target: float) -> tuple[float, Touch] | None:
    """Rule out contact for every spin in [low, high] and every bend up to `target` (rad).

    Columns of spin are advanced in bend together; one in which the spin's share of the gap
    grows too large is halved and goes on from where it stands.

    Returns None when the whole rectangle is clear, or a spin and its touch found inside it.
    """
    columns = [(low, high, 0.0)]
    while columns:
        left, right, bend = columns.pop()
        spin, half = 0.5 * (left + right), 0.5 * (right - left)
        while bend < target:
            near = pair.nearest(bend, spin)
            touch = _touch_here(pair, spin, bend, near)
            if touch is not None:
                return spin, touch
            room = pair.near.room(near)
            wide = pair.clear_to(room, bend, half)
            if wide - bend < _LEAST_STEP * (pair.clear_to(room, bend) - bend):
                columns += [(left, spin, bend), (spin, right, bend)]
                break
            bend = wide
    return None


_LEAST_STEP = 0.3
"""A column narrows once its width costs more than seven tenths of the step that a single spin could
take: wider columns stall, narrower ones repeat queries. Least queries in all for the catalogue."""

_PATIENCE = 5000
"""Distance queries after which the gap that counts as touching doubles. The yokes of the catalogue
need at most 1,600 for a whole curve, so it is only felt by bodies that graze all round."""

_HALVINGS = 6
"""The step is found to 1/64 of its length; always from below, so it stays safe."""
