"""The picture of a whole shaft in one pose, as data: its joints and what lives around it."""

from dataclasses import dataclass

import numpy as np

from viewer.draw.camera import Floats
from viewer.scene.joint import CAUTION
from viewer.scene.parts import PosedPart, SceneError


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
        for name, shape in (("centre", (3,)), ("axes", (2, 3))):
            array = np.array(getattr(self, name), dtype=np.float64)
            if array.shape != shape or not np.isfinite(array).all():
                raise SceneError(
                    f"{self.name} {name}: expected finite numbers of shape {shape}, "
                    f"got shape {array.shape}"
                )
            array.flags.writeable = False
            object.__setattr__(self, name, array)


@dataclass(frozen=True, eq=False)
class GapMark:
    """The smallest gap to a thing near the shaft, to be marked.

    thing, part : what it is called, and which part of the shaft comes nearest.
    gap_mm : 0 where they touch. points : (2, 3) mm in C, on the shaft and on the thing.
    """

    thing: str
    part: str
    gap_mm: float
    points: Floats

    @property
    def touches(self) -> bool:
        """Whether they touch."""
        return self.gap_mm == 0.0


@dataclass(frozen=True, eq=False)
class ShaftPicture:
    """A whole shaft in one pose, in the chassis frame C, mm and rad.

    Attributes
    ----------
    parts : the shaft and what it hangs on, shown whole.
    joints : the joints, from the output to the pinion.
    length : words for the distance of the first and the last joint; "" leaves it out.
    ground : height of the ground in C, mm; None draws a level line below everything.
    headline, lines, caution : words, written as they come.
    around : what else is drawn: surroundings, links, springs.
    named : which of those are called by their names; they are shown as far as they are near.
    gaps : gaps to be marked.
    from_above : whether it is seen from above and not from the left.

    Raises SceneError where there is nothing to draw.
    """

    parts: tuple[PosedPart, ...]
    joints: tuple[JointMark, ...]
    headline: str
    lines: tuple[str, ...] = ()
    length: str = ""
    ground: float | None = None
    caution: str = CAUTION
    around: tuple[PosedPart, ...] = ()
    named: tuple[str, ...] = ()
    gaps: tuple[GapMark, ...] = ()
    from_above: bool = False

    def __post_init__(self) -> None:
        if not self.parts or len(self.joints) < 2:
            raise SceneError(
                f"a picture of a shaft needs parts and two joints or more; got {len(self.parts)} "
                f"parts and {len(self.joints)} joints"
            )
