"""Draws the yokes of `yokes.py` anew: `python -m tests.outside.drawn.draw`.

Needs CadQuery, a general-purpose modelling library on the Open CASCADE kernel; the files beside
this one were drawn with its version 2.8 (kernel 7.9). It is not among the requirements of the
tests: they read the files.
"""

from __future__ import annotations

import argparse
import lzma
import struct
from collections.abc import Callable

import cadquery as cq
import numpy as np

from tests.outside.drawn.yokes import CONTRADICTING, DRAWN, DrawnYoke

FAR = 300.0
Solid = cq.Workplane


def rod(axis: str, radius: float, start: float, stop: float, *at: float) -> Solid:
    """A round rod along x, y or z; `at` is its place in the other two, in the order x, y, z."""
    across = [k for k in range(3) if "xyz"[k] != axis]
    origin, along = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
    origin["xyz".index(axis)], along["xyz".index(axis)] = start, 1.0
    for k, value in zip(across, at or (0.0, 0.0), strict=True):
        origin[k] = value
    solid = cq.Solid.makeCylinder(radius, stop - start, cq.Vector(*origin), cq.Vector(*along))
    return cq.Workplane(obj=solid)


def cone(axis: str, start: float, stop: float, r_start: float, r_stop: float) -> Solid:
    """A cone along x, y or z through the cross centre."""
    along = [float("xyz"[k] == axis) for k in range(3)]
    origin = cq.Vector(*(start * value for value in along))
    turned = cq.Vector(*along)
    solid = cq.Solid.makeCone(r_start, r_stop, stop - start, origin, turned)
    return cq.Workplane(obj=solid)


def block(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> Solid:
    """A block between two places along each axis."""
    low, size = [s[0] for s in (x, y, z)], [s[1] - s[0] for s in (x, y, z)]
    return cq.Workplane(obj=cq.Solid.makeBox(*size, cq.Vector(*low)))


def both(make: Callable[[float], Solid]) -> Solid:
    """The same on either side of the shaft."""
    return make(1.0).union(make(-1.0))


def sided(side: float, near: float, far: float) -> tuple[float, float]:
    """From near to far on one side."""
    return (near, far) if side > 0.0 else (-far, -near)


def flat_ears(inside: float, thick: float, radius: float, floor: float) -> Solid:
    """Two flat ears with round ends on a bridge whose floor is flat."""
    near, far = 0.5 * inside, 0.5 * inside + thick

    def ear(side: float) -> Solid:
        start, stop = sided(side, near, far)
        disc = rod("y", radius, start, stop)
        return disc.union(block((0.0, floor + 14.0), (start, stop), (-radius, radius)))

    return both(ear).union(block((floor, floor + 16.0), (-far, far), (-radius, radius)))


def bored(body: Solid, bore: float) -> Solid:
    """With both bores drilled through."""
    return body.cut(rod("y", 0.5 * bore, -FAR, FAR))


def hollowed(outer: float, throat: float, wide: float, floor: float) -> Solid:
    """A round bar along the shaft, hollowed by a cylinder across it: inside and outside curved."""
    bar = rod("x", outer, -22.0, floor + 12.0).intersect(
        block((-FAR, FAR), (-FAR, FAR), (-wide, wide))
    )
    mouth = block((-FAR, -0.5 * throat), (-0.8 * throat, 0.8 * throat), (-FAR, FAR))
    return bar.cut(rod("z", throat, -FAR, FAR)).cut(mouth)


def curved_coarse() -> Solid:
    body = hollowed(44.0, 32.0, 25.0, 32.0).union(rod("x", 28.0, 36.0, 90.0))
    return bored(body, 28.0)


def curved_flat_outside() -> Solid:
    body = hollowed(50.0, 36.0, 24.0, 36.0)
    body = body.intersect(block((-FAR, FAR), (-46.0, 46.0), (-FAR, FAR)))
    body = body.union(rod("x", 30.0, 44.0, 80.0)).union(rod("x", 33.0, 80.0, 92.0))
    return bored(body, 30.0)


def curved_leaning() -> Solid:
    """The hollow's axis lies ahead of the cross centre; the ears lean in over the bores."""
    bar = rod("x", 52.0, -24.0, 58.0).intersect(block((-FAR, FAR), (-FAR, FAR), (-27.0, 27.0)))
    hollow = rod("z", 38.0, -FAR, FAR, 12.0, 0.0)
    mouth = block((-FAR, -6.0), (-30.0, 30.0), (-FAR, FAR))
    body = bar.cut(hollow).cut(mouth).union(rod("x", 26.0, 52.0, 120.0))
    return bored(body, 32.0)


def curved_wide() -> Solid:
    """Wide ears, flat outside, hollowed by a cylinder whose axis lies behind the cross centre."""
    bar = rod("x", 56.5, -22.0, 57.0).intersect(block((-FAR, FAR), (-FAR, FAR), (-44.0, 44.0)))
    body = bar.cut(rod("z", 40.2, -FAR, FAR, 10.0, 0.0))
    body = body.cut(block((-FAR, -4.6), (-30.0, 30.0), (-FAR, FAR)))
    body = body.intersect(block((-FAR, FAR), (-53.5, 53.5), (-FAR, FAR)))
    return bored(body.union(rod("x", 31.0, 56.0, 84.0)), 31.0)


def open_straps() -> Solid:
    """Half-round saddles, bosses beside them with threaded holes along the shaft, a splined hub."""

    def ear(side: float) -> Solid:
        y = sided(side, 30.0, 43.0)
        return block((0.0, 40.0), y, (-27.0, 27.0))

    body = both(ear).union(block((26.0, 44.0), (-43.0, 43.0), (-27.0, 27.0)))
    body = body.union(rod("x", 30.0, 40.0, 75.0))
    body = body.cut(rod("x", 15.0, 0.0, FAR)).cut(rod("x", 22.0, 0.0, 32.0))
    for y in (36.5, -36.5):
        for z in (21.0, -21.0):
            body = body.cut(rod("x", 4.0, -1.0, 24.0, y, z))
    return bored(body, 27.0)


def bolted_caps() -> Solid:
    """Caps bolted over half-round saddles: full bores with a joint line, hexagon heads on top."""

    def ear(side: float) -> Solid:
        y = sided(side, 33.0, 48.0)
        saddle = block((0.3, 46.0), y, (-30.0, 30.0))
        cap = block((-22.0, -0.3), y, (-30.0, 30.0))
        bolts = cq.Workplane()
        for z in (22.0, -22.0):
            at = cq.Vector(-30.0, 40.5 * side, z)
            head = cq.Workplane(cq.Plane(at, cq.Vector(0, 1, 0), cq.Vector(1, 0, 0)))
            bolts = bolts.union(head.polygon(6, 14.0).extrude(8.5))
            bolts = bolts.union(rod("x", 4.0, -25.0, 20.0, 40.5 * side, z))
        return saddle.union(cap).cut(rod("y", 15.0, -FAR, FAR)).union(bolts)

    body = block((34.0, 52.0), (-48.0, 48.0), (-30.0, 30.0)).union(rod("x", 34.0, 50.0, 85.0))
    return both(ear).union(body)


def ring_grooves() -> Solid:
    """Flat forged ears, grooves for rings inside the bores near their outer ends."""
    body = bored(flat_ears(58.0, 17.0, 24.0, 34.0), 30.2)
    for side in (1.0, -1.0):
        start, stop = sided(side, 42.0, 43.8)
        body = body.cut(rod("y", 16.3, start, stop))
    return body.union(rod("x", 25.0, 45.0, 100.0))


def chamfered() -> Solid:
    """Bores with broad chamfers at both ends, fillets along the ears."""
    body = flat_ears(60.0, 18.0, 27.0, 36.0).edges("|Y").fillet(3.0)
    body = bored(body, 34.0)
    for side in (1.0, -1.0):
        for y, way in ((30.0, 1.0), (48.0, -1.0)):
            wide, small = 17.0 + 3.0, 17.0
            start, stop = side * (y - 0.0), side * (y + 3.0 * way)
            low, high = min(start, stop), max(start, stop)
            r_low, r_high = (wide, small) if low == start else (small, wide)
            body = body.cut(cone("y", low, high, r_low, r_high))
    return body.union(rod("x", 24.0, 45.0, 70.0)).union(rod("x", 38.0, 68.0, 78.0))


def flange() -> Solid:
    """A bolted flange whose eight holes are wider than many a bore, and a pilot."""
    body = flat_ears(54.0, 14.0, 22.0, 30.0).union(rod("x", 62.0, 44.0, 54.0))
    body = body.cut(rod("x", 24.0, 51.0, FAR))
    for k in range(8):
        angle = np.pi * (k + 0.5) / 4.0
        body = body.cut(rod("x", 6.0, 40.0, FAR, 49.0 * np.cos(angle), 49.0 * np.sin(angle)))
    return bored(body, 26.0)


def plugged_tube() -> Solid:
    """A yoke on a length of tube with a plug in its far end."""
    body = flat_ears(66.0, 16.0, 26.0, 38.0).union(rod("x", 36.0, 50.0, 66.0))
    tube = rod("x", 38.0, 64.0, 150.0).cut(rod("x", 35.5, 70.0, FAR))
    plug = rod("x", 35.5, 138.0, 149.0).cut(rod("x", 6.0, 100.0, FAR))
    return bored(body.union(tube).union(plug), 30.0)


def lightened() -> Solid:
    """Long ears with two lightening holes through each, in line like bores, and a round boss."""
    body = flat_ears(70.0, 13.0, 25.0, 62.0)
    for side in (1.0, -1.0):
        start, stop = sided(side, 35.0, 53.0)
        body = body.union(rod("y", 25.0, start, stop))
    body = bored(body, 32.0).cut(rod("y", 9.0, -FAR, FAR, 36.0, 11.0))
    body = body.cut(rod("y", 9.0, -FAR, FAR, 36.0, -11.0))
    return body.union(rod("x", 27.0, 74.0, 115.0))


def drafted() -> Solid:
    """Forged with draft: outside faces lean by 6 deg, inside faces are machined flat."""
    body = flat_ears(62.0, 30.0, 26.0, 34.0)
    lean = np.tan(np.radians(6.0))
    for side in (1.0, -1.0):
        corners = [(-60.0, side * (47.0 - 60.0 * lean)), (90.0, side * (47.0 + 90.0 * lean))]
        corners += [(90.0, side * 200.0), (-60.0, side * 200.0)]
        wedge = cq.Workplane("XY").polyline(corners).close().extrude(200.0)
        body = body.cut(wedge.translate((0.0, 0.0, -100.0)))
    return bored(body.union(rod("x", 29.0, 45.0, 95.0)), 29.0)


def sliding() -> Solid:
    """A long barrel with a hole for a shaft down it, curved ears on a ball-shaped body."""
    body = cq.Workplane(obj=cq.Solid.makeSphere(50.0, angleDegrees1=-90.0))
    body = body.intersect(block((-20.0, 60.0), (-FAR, FAR), (-22.0, 22.0)))
    body = body.cut(rod("z", 30.0, -FAR, FAR)).cut(block((-FAR, -10.0), (-27.0, 27.0), (-FAR, FAR)))
    body = body.union(rod("x", 24.0, 40.0, 190.0)).cut(rod("x", 17.0, 80.0, FAR))
    return bored(body, 25.0)


def few_sides() -> Solid:
    """So coarse that its bores have a dozen sides."""
    body = flat_ears(56.0, 15.0, 24.0, 33.0).union(rod("x", 26.0, 44.0, 90.0))
    return bored(body, 28.0)


def stepped_bores() -> Solid:
    """Bores with a lip at their inner ends: two radii in one line."""
    body = flat_ears(60.0, 18.0, 26.0, 36.0).union(rod("x", 27.0, 46.0, 84.0))
    body = body.cut(rod("y", 13.0, -FAR, FAR))
    for side in (1.0, -1.0):
        start, stop = sided(side, 33.0, FAR)
        body = body.cut(rod("y", 15.5, start, stop))
    return body


def stated_angle() -> Solid:
    """Square ears and a flat floor: where a pair of them touches is a line of trigonometry."""
    body = block((-20.0, 30.0), (-44.0, 44.0), (-19.0, 19.0))
    body = body.cut(block((-FAR, 30.0), (-30.0, 30.0), (-FAR, FAR)))
    body = body.union(block((30.0, 46.0), (-44.0, 44.0), (-44.0, 44.0)))
    return bored(body.union(rod("x", 26.0, 46.0, 80.0)), 28.0)


def stated_crown() -> Solid:
    """Ears crowned outside, each about a line along the shaft, straight across at their tips."""

    def ear(side: float) -> Solid:
        flank = block((-18.0, 34.0), sided(side, 29.0, 60.0), (-20.0, 20.0))
        return flank.intersect(rod("x", 30.0, -18.0, 34.0, 14.0 * side, 0.0))

    body = both(ear).union(block((34.0, 48.0), (-46.0, 46.0), (-46.0, 46.0)))
    return bored(body.union(rod("x", 26.0, 48.0, 80.0)), 27.0)


def pinch_bolt() -> Solid:
    """A hub that is slit and drawn together by a bolt on one side: no mirror image."""
    body = flat_ears(58.0, 16.0, 25.0, 36.0).union(rod("x", 26.0, 46.0, 96.0))
    body = body.union(block((62.0, 92.0), (-18.0, 18.0), (0.0, 46.0)))
    body = body.cut(rod("x", 14.0, 56.0, FAR))
    body = body.cut(block((60.0, FAR), (-2.0, 2.0), (0.0, FAR)))
    return bored(body.cut(rod("y", 5.0, -FAR, FAR, 77.0, 36.0)), 30.0)


def beside() -> Solid:
    """Its ears stand 2.3 mm beside the axis of its stub: one of the two is wrong."""
    body = bored(flat_ears(60.0, 16.0, 25.0, 36.0), 30.0).translate((0.0, 2.3, 0.0))
    return body.union(rod("x", 26.0, 46.0, 90.0))


def leaning() -> Solid:
    """Its stub leans by 3 deg along the bores."""
    body = bored(flat_ears(60.0, 16.0, 25.0, 36.0), 30.0)
    stub = rod("x", 22.0, 40.0, 90.0).rotate((0, 0, 0), (0, 0, 1), 3.0)
    return body.union(stub)


MAKES: dict[str, Callable[[], Solid]] = {
    "curved-coarse": curved_coarse,
    "curved-flat-outside": curved_flat_outside,
    "curved-leaning": curved_leaning,
    "curved-wide": curved_wide,
    "open-straps": open_straps,
    "bolted-caps": bolted_caps,
    "ring-grooves": ring_grooves,
    "chamfered": chamfered,
    "flange": flange,
    "plugged-tube": plugged_tube,
    "lightened": lightened,
    "drafted": drafted,
    "sliding": sliding,
    "few-sides": few_sides,
    "stepped-bores": stepped_bores,
    "stated-angle": stated_angle,
    "stated-crown": stated_crown,
    "pinch-bolt": pinch_bolt,
    "beside": beside,
    "leaning": leaning,
}


def stl_of(yoke: DrawnYoke) -> bytes:
    """Draw a yoke, cut it into triangles and put it down, as a binary STL file."""
    shape = MAKES[yoke.name]().val()
    points, faces = shape.tessellate(yoke.chord, yoke.turn)
    vertices = np.array([point.toTuple() for point in points])
    R, p = yoke.X
    corners = ((vertices @ R.T + p) / yoke.mm)[np.array(faces)].astype("<f4")
    records = np.zeros(len(corners), dtype=[("n", "<f4", 3), ("p", "<f4", (3, 3)), ("x", "<u2")])
    records["p"] = corners
    return b"invented yoke".ljust(80) + struct.pack("<I", len(corners)) + records.tobytes()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*", help="which; all when left out")
    names = parser.parse_args().names
    for yoke in (*DRAWN, *CONTRADICTING):
        if not names or yoke.name in names:
            data = stl_of(yoke)
            yoke.place.write_bytes(lzma.compress(data, preset=9))


if __name__ == "__main__":
    main()
