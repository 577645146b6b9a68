"""The picture of a whole shaft in one pose, as data: its joints and what lives around it."""

from dataclasses import dataclass

import numpy as np

from viewer.draw.camera import Floats
from viewer.scene.joint import CAUTION
from viewer.scene.parts import PosedPart, SceneError, set_array


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

    @property
    def runs_sideways(self) -> bool:
        """Whether it runs so much sideways that it cannot be seen from the left."""
        across = self.points[1] - self.points[0]
        return bool(abs(across[1]) > 0.8 * np.linalg.norm(across) > 0.0)


@dataclass(frozen=True, eq=False)
class Nearby:
    """What lives around the shaft: things near it, what holds the axle, gaps to be marked."""

    things: tuple[PosedPart, ...] = ()
    suspension: tuple[PosedPart, ...] = ()
    gaps: tuple[GapMark, ...] = ()

    @property
    def parts(self) -> tuple[PosedPart, ...]:
        """All of it that is drawn."""
        return *self.things, *self.suspension

    @property
    def for_export(self) -> tuple[PosedPart, ...]:
        """The same bodies, each with a name of its own that no part of the shaft has."""
        kinds = (("surroundings", self.things), ("suspension", self.suspension))
        return tuple(
            PosedPart(f"{kind} {i + 1} {part.name}", part.material, part.mesh, part.X_CP)
            for kind, parts in kinds
            for i, part in enumerate(parts)
        )


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
    near : what else is drawn and marked; things are called by their names, and shown as far as
        they are near.

    Raises SceneError where there is nothing to draw.
    """

    parts: tuple[PosedPart, ...]
    joints: tuple[JointMark, ...]
    headline: str
    lines: tuple[str, ...] = ()
    length: str = ""
    ground: float | None = None
    caution: str = CAUTION
    near: Nearby = Nearby()

    def __post_init__(self) -> None:
        if not self.parts or len(self.joints) < 2:
            raise SceneError(
                f"a picture of a shaft needs parts and two joints or more; got {len(self.parts)} "
                f"parts and {len(self.joints)} joints"
            )

    @property
    def from_above(self) -> bool:
        """Whether it is seen from above and not from the left."""
        return any(gap.runs_sideways for gap in self.near.gaps)
