"""What an imported mesh may be at most, so that nothing hangs, each bound with its reason.

Measured on one core of two: within these bounds an import stays under 1 GB and takes under a
minute, an ordinary scan of 250,000 triangles under ten seconds.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Limits:
    """Bounds on size and work; lengths are shares of the part's size: a file may say no unit."""

    file_bytes: int = 300_000_000
    """Size of a file, unpacked. A million triangles as text take about 260 MB."""

    text_line: int = 100_000
    """Bytes in a line of a text file; a face with more corners is no part of a scan."""

    faces: int = 1_000_000
    """Triangles read. Four times the scan aimed at; more is past what a shop's scanner resolves
    on a part of 100 mm, and the reading alone would need gigabytes."""

    vertices: int = 3_000_000
    """Corner points read: three a triangle, which is what an STL file holds."""

    shells: int = 40
    """Separate pieces kept. A yoke with its caps, straps and bolts has about a dozen; hundreds
    mean that the surface is in shreds."""

    dust: float = 0.03
    """Size of a piece, as a share of the whole, below which it is a speck of the scanner: 3 mm on
    a yoke of 100 mm."""

    small_hole: float = 0.1
    """Size of a hole, as a share of the whole, up to which closing it is a repair worth no more
    than a word: 10 mm on a yoke of 100 mm."""

    open_share: float = 0.2
    """Share of the surface that may be missing in all holes together; with more missing a side of
    the part has not been seen."""

    hole_edges: int = 4000
    """Edges round one hole that is filled: filling grows with their square, here to seconds."""

    boundary_edges: int = 60_000
    """Open edges in all that are traced into holes, one by one."""

    seam: float = 1e-4
    """How far two open edges may be apart, as a share of the whole, to be one seam: 0.01 mm on a
    yoke of 100 mm, which is what rounding in a text file costs."""

    crossing_pairs: int = 4_000_000
    """Pairs of triangles asked whether they cross; with more the check stops and says so."""

    kept_faces: int = 12_000
    """Triangles kept of a denser mesh unless told otherwise: the distance queries of a touch
    curve then take a few seconds, and the deviation is about that of the scanner."""


LIMITS = Limits()
