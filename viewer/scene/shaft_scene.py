"""The picture of a whole shaft in verbs for a canvas."""

from math import degrees

import numpy as np

from viewer.draw.base import BLACK, WHITE, Canvas, Letters, Pen
from viewer.draw.camera import Camera, Floats, Region, framing
from viewer.scene.labels import Ground, Label, place, rectangle
from viewer.scene.marks import RED, arc, dashes, haloed, joined, touch_ring
from viewer.scene.nearby import cover_thing, mark_gap, names
from viewer.scene.page import STRIP, bearings, bearings_boxes, frame
from viewer.scene.shaft import JointMark, ShaftPicture
from viewer.scene.staging import UP, covered, show

BELOW = 118.0
"""How far below the joints the dimension line runs, px."""

FROM_THE_LEFT = np.array([0.0, 1.0, 0.0])
FROM_ABOVE = np.array([0.0, 0.0, 1.0])

NEARBY = 120.0
"""How far around the shaft its surroundings are shown, mm."""


def draw_shaft(picture: ShaftPicture, canvas: Canvas) -> None:
    """Draw the shaft from the left side of the vehicle or from above, with bends and words."""
    free, scale = frame(canvas, picture.headline, picture.lines, picture.caution)
    strip = Region(free.left, free.bottom, free.width, STRIP * scale)
    region = Region(free.left, strip.top, free.width, free.height - strip.height)
    camera = _camera(picture, region, scale)
    canvas.view("shaft", region, camera)
    show(canvas, (*picture.around, *picture.parts), camera, scale)
    ground = covered((*picture.around, *picture.parts), camera, region, strip)
    for box in bearings_boxes(canvas, camera, strip, scale):
        ground.cover_box(box)
    if not picture.from_above:
        _level(picture, canvas, region, camera, ground, scale)
    labels = [_bend(joint, canvas, region, camera, ground, scale) for joint in picture.joints]
    _length(picture, canvas, region, camera, ground, scale)
    for name in picture.named:
        cover_thing(name, picture.around, region, camera, ground)
    gaps = [mark_gap(gap, canvas, region, camera, ground, scale) for gap in picture.gaps]
    called = names(picture.around, picture.named, region, camera, scale)
    place(canvas, ground, [*gaps, *labels, *called], scale)
    bearings(canvas, camera, strip, scale)


def _camera(picture: ShaftPicture, region: Region, scale: float) -> Camera:
    """See everything, and the dimension line below the joints."""
    points = np.concatenate([part.in_chassis for part in picture.parts])
    low, high = points.min(axis=0) - NEARBY, points.max(axis=0) + NEARBY
    around = [
        np.clip(part.in_chassis, low, high) if part.name in picture.named else part.in_chassis
        for part in picture.around
    ]
    points = np.concatenate([points, *around, *(gap.points for gap in picture.gaps)])
    if picture.from_above:
        return framing(points, FROM_ABOVE, -FROM_THE_LEFT, region, margin=0.06)
    if picture.ground is not None:
        points = np.concatenate([points, [[*points[0, :2], picture.ground]]])
    camera = framing(points, FROM_THE_LEFT, UP, region, margin=0.06)
    room = (BELOW + 60.0) * scale / camera.px_per_mm(region)
    lowest = min(float(joint.centre[2]) for joint in picture.joints) - room
    points = np.concatenate([points, [[*points[0, :2], lowest]]])
    return framing(points, FROM_THE_LEFT, UP, region, margin=0.06)


def _bend(
    joint: JointMark,
    canvas: Canvas,
    region: Region,
    camera: Camera,
    ground: Ground,
    scale: float,
) -> Label:
    """The two axes of a joint with the angle between them, and its label."""
    reach = 150.0 * scale / camera.px_per_mm(region)
    onward, driven = -joint.axes[0], joint.axes[1]
    for direction in (onward, driven):
        ends = camera.project(joint.centre + np.outer([0.0, 1.15 * reach], direction), region)
        line = dashes(ends[0], ends[1], 24.0 * scale, 7.0 * scale, dot=True)
        haloed(canvas, line, Pen(BLACK, 1.8 * scale), 1.6 * scale)
        ground.cover_line(ends[0], ends[1], 2.5)
    points = camera.project(arc(joint.centre, onward, driven, reach), region)
    haloed(canvas, joined(points), Pen(BLACK, 3.5 * scale), 2.0 * scale)
    ground.cover(points, 3.0)
    centre = camera.project(joint.centre, region)
    if joint.touches:
        touch_ring(canvas, centre, 46.0 * scale, scale, seen=True)
    colour = RED if joint.touches else BLACK
    words = [
        (joint.name, Letters(24.0 * scale)),
        (f"bend {degrees(joint.bend):.1f}°", Letters(33.0 * scale, bold=True, colour=colour)),
    ]
    if joint.touches:
        words.append(("metal meets metal", Letters(24.0 * scale, bold=True, colour=RED)))
    if joint.elsewhere:
        words.append(("touches at another turn", Letters(24.0 * scale, bold=True)))
    anchor = centre if joint.touches else points[len(points) // 2]
    clear = (58.0 if joint.touches else 5.0) * scale
    return Label(tuple(words), (float(anchor[0]), float(anchor[1])), clear, colour)


def _level(
    picture: ShaftPicture,
    canvas: Canvas,
    region: Region,
    camera: Camera,
    ground: Ground,
    scale: float,
) -> None:
    """The ground, or a level line where nobody knows how high it is, hatched below."""
    y = region.bottom + 16.0 * scale
    if picture.ground is not None:
        y = float(camera.project(np.array([0.0, 0.0, picture.ground]), region)[1])
    start, end = np.array([region.left, y]), np.array([region.right, y])
    canvas.stroke(np.stack([start, end])[None], Pen(BLACK, 3.0 * scale))
    x = np.arange(region.left + 14.0 * scale, region.right, 22.0 * scale)
    tops = np.stack([x, np.full_like(x, y)], axis=-1)
    ticks = np.stack([tops, tops - 12.0 * scale], axis=1)
    canvas.stroke(ticks, Pen(BLACK, 1.6 * scale))
    ground.cover_box(Region(region.left, y - 14.0 * scale, region.width, 16.0 * scale))
    word = "ground" if picture.ground is not None else "level"
    letters = Letters(22.0 * scale)
    width = canvas.extent(word, letters)
    at = region.right - width, y - 38.0 * scale
    canvas.words(word, at, letters)
    ground.cover_box(Region(*at, width, letters.size))


def _length(
    picture: ShaftPicture,
    canvas: Canvas,
    region: Region,
    camera: Camera,
    ground: Ground,
    scale: float,
) -> None:
    """A dimension line along the shaft, from joint to joint."""
    if not picture.length:
        return
    ends = camera.project(np.stack([joint.centre for joint in picture.joints[-2:]]), region)
    along = (ends[1] - ends[0]) / np.linalg.norm(ends[1] - ends[0])
    down = np.array([along[1], -along[0]])
    down = down if down[1] < 0.0 else -down
    far = ends + down * BELOW * scale
    canvas.stroke(np.stack([ends, far + down * 10.0 * scale], axis=1), Pen(BLACK, 1.6 * scale))
    canvas.stroke(far[None], Pen(BLACK, 2.2 * scale))
    for tip, way in zip(far, (along, -along), strict=True):
        canvas.area(_head(tip, way, scale)[None], BLACK)
    for aside in (-10.0, 0.0, 10.0):
        start, end = far + aside * scale * down
        ground.cover_line(start, end, 12.0)
    for start, end in zip(ends, far, strict=True):
        ground.cover_line(start, end, 2.0)
    letters = Letters(25.0 * scale, bold=True)
    width, height = canvas.extent(picture.length, letters), letters.size
    # On a steep shaft the words go lower, so that their corner stays off the tube.
    reach = 0.5 * float(np.abs(down) @ [width, height])
    middle = far.mean(axis=0) + down * max(0.0, reach - 30.0 * scale)
    left, base = middle - [0.5 * width, 0.5 * height]
    plate = Region(left, base, width, height).grown(7.0 * scale)
    rectangle(canvas, plate, WHITE)
    canvas.words(picture.length, (left, base), letters)
    ground.cover_box(plate)


def _head(tip: Floats, way: Floats, scale: float) -> Floats:
    """The head of a dimension's arrow, one triangle, its tip pointing against `way`."""
    aside = np.array([-way[1], way[0]])
    base = tip + way * 20.0 * scale
    return np.stack([tip, base + aside * 5.5 * scale, base - aside * 5.5 * scale])
