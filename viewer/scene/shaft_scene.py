"""The picture of a whole shaft in verbs for a stage."""

from math import degrees

import numpy as np

from viewer.draw.base import BLACK, WHITE, Letters, Pen
from viewer.draw.camera import LEFT, UP, Camera, Region, framing
from viewer.draw.stage import Stage
from viewer.draw.verdict_mark import RED
from viewer.scene.figure import Figure, points_of
from viewer.scene.labels import rectangle
from viewer.scene.marks import arc, dashes, dimension, joined, touch_ring
from viewer.scene.nearby import cover_things, mark_gap, name_things
from viewer.scene.page import STRIP, bearings, frame
from viewer.scene.shaft import JointMark, ShaftPicture

BELOW = 118.0
"""How far below the joints the dimension line runs, px."""

NEARBY = 120.0
"""How far around the shaft its surroundings are shown, mm."""


def draw_shaft(picture: ShaftPicture, stage: Stage, page: Region) -> None:
    """Draw the shaft from the left side of the vehicle or from above, with bends and words."""
    free = frame(stage, page, picture.headline, picture.lines, picture.caution)
    strip = Region(free.left, free.bottom, free.width, STRIP)
    region = Region(free.left, strip.top, free.width, free.height - STRIP)
    figure = Figure(stage, "shaft", region, _camera(picture, region), strip.bottom)
    figure.put((*picture.near.parts, *picture.parts))
    for box in bearings(stage, "shaft", figure.camera, strip):
        figure.ground.cover_box(box)
    if not picture.from_above:
        _level(picture, figure)
    for joint in picture.joints:
        _bend(joint, figure)
    _length(picture, figure)
    cover_things(figure, picture.near.things)
    for gap in reversed(picture.near.gaps):
        mark_gap(figure, gap)
    name_things(figure, picture.near.things)
    figure.place()


def _camera(picture: ShaftPicture, region: Region) -> Camera:
    """See everything, and the dimension line below the joints."""
    points = points_of(picture.parts)
    low, high = points.min(axis=0) - NEARBY, points.max(axis=0) + NEARBY
    near = picture.near
    around = [part.in_chassis for part in near.suspension]
    around += [np.clip(part.in_chassis, low, high) for part in near.things]
    points = np.concatenate([points, *around, *(gap.points for gap in near.gaps)])
    if picture.from_above:
        return framing(points, UP, -LEFT, region, margin=0.06)
    if picture.ground is not None:
        points = np.concatenate([points, [[*points[0, :2], picture.ground]]])
    camera = framing(points, LEFT, UP, region, margin=0.06)
    room = (BELOW + 60.0) / camera.px_per_mm(region)
    lowest = min(float(joint.centre[2]) for joint in picture.joints) - room
    points = np.concatenate([points, [[*points[0, :2], lowest]]])
    return framing(points, LEFT, UP, region, margin=0.06)


def _bend(joint: JointMark, figure: Figure) -> None:
    """The two axes of a joint with the angle between them, and its label."""
    reach = 150.0 / figure.px_per_mm
    onward, driven = -joint.axes[0], joint.axes[1]
    for direction in (onward, driven):
        ends = figure.at(joint.centre + np.outer([0.0, 1.15 * reach], direction))
        figure.draw(dashes(ends[0], ends[1], 24.0, 7.0, dot=True), 1.8, 1.6)
        figure.ground.cover_line(ends[0], ends[1], 2.5)
    points = figure.at(arc(joint.centre, onward, driven, reach))
    figure.draw(joined(points), 3.5, 2.0)
    figure.ground.cover(points, 3.0)
    centre = figure.at(joint.centre)
    if joint.touches:
        touch_ring(figure.stage, centre, 46.0)
    colour = RED if joint.touches else BLACK
    words = [
        (joint.name, Letters(24.0)),
        (f"bend {degrees(joint.bend):.1f}°", Letters(33.0, bold=True, colour=colour)),
    ]
    if joint.touches:
        words.append(("metal meets metal", Letters(24.0, bold=True, colour=RED)))
    if joint.elsewhere:
        words.append(("touches at another turn", Letters(24.0, bold=True)))
    at = centre if joint.touches else points[len(points) // 2]
    figure.say(at, words, 58.0 if joint.touches else 5.0, colour)


def _level(picture: ShaftPicture, figure: Figure) -> None:
    """The ground, or a level line where nobody knows how high it is, hatched below."""
    stage, region, ground = figure.stage, figure.region, figure.ground
    y = region.bottom + 16.0
    if picture.ground is not None:
        y = float(figure.at([0.0, 0.0, picture.ground])[1])
    stage.stroke(np.array([[[region.left, y], [region.right, y]]]), Pen(BLACK, 3.0))
    x = np.arange(region.left + 14.0, region.right, 22.0)
    tops = np.stack([x, np.full_like(x, y)], axis=-1)
    stage.stroke(np.stack([tops, tops - 12.0], axis=1), Pen(BLACK, 1.6))
    ground.cover_box(Region(region.left, y - 14.0, region.width, 16.0))
    word, letters = "ground" if picture.ground is not None else "level", Letters(22.0)
    width = stage.extent(word, letters)
    at = region.right - width, y - 38.0
    stage.write(word, at, letters)
    ground.cover_box(Region(*at, width, letters.size))


def _length(picture: ShaftPicture, figure: Figure) -> None:
    """A dimension line along the shaft, from joint to joint."""
    if not picture.length:
        return
    stage, ground = figure.stage, figure.ground
    ends = figure.at(np.stack([joint.centre for joint in picture.joints[-2:]]))
    along = (ends[1] - ends[0]) / np.linalg.norm(ends[1] - ends[0])
    down = np.array([along[1], -along[0]])
    down = down if down[1] < 0.0 else -down
    far = ends + down * BELOW
    stage.stroke(np.stack([ends, far + down * 10.0], axis=1), Pen(BLACK, 1.6))
    dimension(stage, far, 20.0, 5.5)
    for aside in (-10.0, 0.0, 10.0):
        start, end = far + aside * down
        ground.cover_line(start, end, 12.0)
    for start, end in zip(ends, far, strict=True):
        ground.cover_line(start, end, 2.0)
    letters = Letters(25.0, bold=True)
    width, height = stage.extent(picture.length, letters), letters.size
    # On a steep shaft the words go lower, so that their corner stays off the tube.
    reach = 0.5 * float(np.abs(down) @ [width, height])
    middle = far.mean(axis=0) + down * max(0.0, reach - 30.0)
    left, base = middle - [0.5 * width, 0.5 * height]
    plate = Region(left, base, width, height).grown(7.0)
    rectangle(stage, plate, WHITE)
    stage.write(picture.length, (left, base), letters)
    ground.cover_box(plate)
