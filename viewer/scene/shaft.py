"""The picture of a whole shaft in one pose: its joints and what lives around it."""

from dataclasses import dataclass, field

import numpy as np

from viewer.draw.base import BLACK, WHITE, Letters, Pen
from viewer.draw.camera import LEFT, UP, Camera, Floats, Region, framing
from viewer.draw.stage import Paper
from viewer.draw.verdict_mark import RED
from viewer.scene.figure import Figure, points_of
from viewer.scene.labels import rectangle
from viewer.scene.marks import dimension, touch_ring
from viewer.scene.nearby import Nearby
from viewer.scene.page import STRIP, Picture, bearings
from viewer.scene.parts import PosedPart, SceneError, set_array
from viewer.scene.slip_mark import SlipMark
from viewer.words.captions import bend_caption

BELOW = 118.0
"""How far below the joints the dimension line runs, px."""

NEARBY = 120.0
"""How far around the shaft its surroundings are shown, mm."""


@dataclass(frozen=True, eq=False)
class JointMark:
    """A joint of the shaft, to be annotated.

    name : what it is called. centre : (3,) mm in C.
    axes : (2, 3) in C, directions of its driving and driven shaft, each away from the centre.
    bend : rad. touches : whether metal meets there as it is turned. elsewhere : whether it does
        not, but would at another turn of the shaft.
    """

    name: str
    centre: Floats
    axes: Floats
    bend: float
    touches: bool = False
    elsewhere: bool = False

    def __post_init__(self) -> None:
        set_array(self, "centre", (3,), self.name)
        set_array(self, "axes", (2, 3), self.name)

    def draw(self, figure: Figure) -> None:
        """The two axes of the joint with the angle between them, and its label."""
        at = figure.bend(self.centre, self.axes, 150.0 / figure.px_per_mm)
        colour = RED if self.touches else BLACK
        if self.touches:
            at = figure.at(self.centre)
            touch_ring(figure.paper, at, 46.0)
        letters = (
            Letters(24.0),
            Letters(33.0, bold=True, colour=colour),
            Letters(24.0, bold=True, colour=colour),
        )
        words = bend_caption(self.name, self.bend, self.touches, self.elsewhere)
        clear = 58.0 if self.touches else 5.0
        figure.say(at, list(zip(words, letters, strict=False)), clear, colour)


@dataclass(frozen=True, eq=False)
class ShaftPicture(Picture):
    """A whole shaft in one pose, in the chassis frame C, mm and rad.

    Attributes
    ----------
    parts : the shaft and what it hangs on, shown whole.
    joints : the joints, from the output to the pinion.
    length : words for the distance of the first and the last joint; "" leaves it out.
    slip : its slip; None leaves it out.
    near : what else is drawn and marked; things are called by their names, and shown as far as
        they are near.

    Raises SceneError where there is nothing to draw.
    """

    parts: tuple[PosedPart, ...]
    joints: tuple[JointMark, ...]
    length: str = ""
    slip: SlipMark | None = None
    near: Nearby = field(default_factory=Nearby)

    def __post_init__(self) -> None:
        if not self.parts or len(self.joints) < 2:
            raise SceneError(
                f"a picture of a shaft needs parts and two joints or more; got {len(self.parts)} "
                f"parts and {len(self.joints)} joints"
            )

    def draw(self, paper: Paper, page: Region) -> None:
        """Draw the shaft from the left of the vehicle or from above, with bends and words."""
        free = self.frame(paper, page)
        strip = Region(free.left, free.bottom, free.width, STRIP)
        region = Region(free.left, strip.top, free.width, free.height - STRIP)
        figure = Figure(paper, "shaft", region, self._camera(region), strip.bottom)
        figure.put((*self.near.parts, *self.parts))
        for box in bearings(paper, "shaft", figure.camera, strip):
            figure.ground.cover_box(box)
        if not self.near.is_beside:
            _level(figure)
        for joint in self.joints:
            joint.draw(figure)
        if self.slip is not None:
            self.slip.draw(figure)
        if self.length:
            self._length(figure)
        self.near.mark(figure)
        figure.place()

    def _camera(self, region: Region) -> Camera:
        """See everything, and the dimension line below the joints."""
        points = points_of(self.parts)
        points = np.concatenate([points, *self.near.seen(points, NEARBY)])
        if self.near.is_beside:
            return framing(points, UP, -LEFT, region, margin=0.06)
        camera = framing(points, LEFT, UP, region, margin=0.06)
        room = (BELOW + 60.0) / camera.px_per_mm(region)
        lowest = min(float(joint.centre[2]) for joint in self.joints) - room
        points = np.concatenate([points, [[*points[0, :2], lowest]]])
        return framing(points, LEFT, UP, region, margin=0.06)

    def _length(self, figure: Figure) -> None:
        """A dimension line along the shaft, from joint to joint."""
        paper, ground = figure.paper, figure.ground
        ends = figure.at(np.stack([joint.centre for joint in self.joints[-2:]]))
        along = (ends[1] - ends[0]) / np.linalg.norm(ends[1] - ends[0])
        down = np.array([along[1], -along[0]])
        down = down if down[1] < 0.0 else -down
        far = ends + down * BELOW
        paper.stroke(np.stack([ends, far + down * 10.0], axis=1), Pen(BLACK, 1.6))
        dimension(paper, far, 20.0, 5.5)
        for aside in (-10.0, 0.0, 10.0):
            start, end = far + aside * down
            ground.cover_line(start, end, 12.0)
        for start, end in zip(ends, far, strict=True):
            ground.cover_line(start, end, 2.0)
        letters = Letters(25.0, bold=True)
        width, height = paper.extent(self.length, letters), letters.size
        # On a steep shaft the words go lower, so that their corner stays off the tube.
        reach = 0.5 * float(np.abs(down) @ [width, height])
        middle = far.mean(axis=0) + down * max(0.0, reach - 30.0)
        left, base = middle - [0.5 * width, 0.5 * height]
        plate = Region(left, base, width, height).grown(7.0)
        rectangle(paper, plate, WHITE)
        paper.write(self.length, (left, base), letters)
        ground.cover_box(plate)


def _level(figure: Figure) -> None:
    """A level line below everything, hatched, since nobody knows how high the ground is."""
    paper, region, ground = figure.paper, figure.region, figure.ground
    y = region.bottom + 16.0
    paper.stroke(np.array([[[region.left, y], [region.right, y]]]), Pen(BLACK, 3.0))
    x = np.arange(region.left + 14.0, region.right, 22.0)
    tops = np.stack([x, np.full_like(x, y)], axis=-1)
    paper.stroke(np.stack([tops, tops - 12.0], axis=1), Pen(BLACK, 1.6))
    ground.cover_box(Region(region.left, y - 14.0, region.width, 16.0))
    letters = Letters(22.0)
    width = paper.extent("level", letters)
    at = region.right - width, y - 38.0
    paper.write("level", at, letters)
    ground.cover_box(Region(*at, width, letters.size))
