"""Every numerical tolerance of the motion, each with its reason."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Tolerances:
    """Lengths in millimetres; the angles share those of the geometry."""

    ride_reading: float = 6.35
    """Largest disagreement between the length read at ride height and the joints' places. Hard
    points found by plumb bob and tape are good to about 1/4 in (common practice, no source);
    past it one of the two is wrong, not inexact."""

    unlike_heights: float = 0.01
    """Two readings closer than this in height are one height; no tape tells them apart."""

    pose_step: float = 1e-9
    """Step of the search for a worst pose, as a share of a piece of the travel, at which it stops.
    A piece is a few hundred mm by a few tenths of a rad, so the value is settled to about 1e-6 mm
    and 1e-9 rad even where it runs straight into a side of the box."""

    rounding: float = 1e-15
    """Gain, as a share of the greatest value over the box, that the search for a worst pose takes
    for rounding and not for progress: a few units in the last place of a double."""

    contact_travel: float = 1e-6
    """Bracket of the first contact in travel, mm, at which the search for it stops; far under
    the 0.01 mm that is promised, since each halving costs little."""

    contact_sooner: float = 1e-3
    """A contact this much nearer to ride height, mm, is not looked for: a tenth of the 0.01 mm
    that is promised."""

    same_height: float = 1e-6
    """mm. Heights of a side of the axle that differ by less are one; a pose that was typed lies on
    a stop though its height is rounded."""

    same_angle: float = 1e-9
    """rad. The same for roll and wrap."""

    closure_step: float = 1e-6
    """Last step of Newton's method that closes the links, mm. What is left after it goes with its
    square over the length of a link, far under the 1e-6 mm that are promised."""

    settled: float = 1e-10
    """Last round, mm, of the slide of a shaft with a head. Each round leaves a fifth at most of
    the one before, so what is left is far under the 1e-7 mm that slips are held to."""

    reach: float = 1e-3
    """Bracket of the end of a suspension's reach, mm; a tape shows a thousand times that."""

    free_motion: float = 0.01
    """What a motion of 1 mm must stretch the links by, mm, to count as held: links less than
    half a degree out of square to it do not hold an axle, and no tape tells them from square."""

    same_place: float = 0.5
    """Nearer than this, mm, two places on a shaft are one for its critical speed; a tape tells no
    more, and a sliver of beam between them would drown the rest in rounding."""

    retyped: float = 0.004
    """Two lengths closer than this, mm, are one when a rig is written anew: lengths are written to
    four places of an inch and angles to four of a degree, each worth up to 0.0013 mm at the end
    of a shaft, and up to three of them add up. No tape shows a fiftieth of it."""

    retyped_angle: float = 2e-6
    """The same for angles, rad: one in the last of four places of a degree."""

    held_speed: float = 0.01
    """A shaft that would swing slower than this, rad/s, is not held at all, but for rounding."""


TOL = Tolerances()
