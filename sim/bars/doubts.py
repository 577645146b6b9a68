"""Everything that may be off of a rig, gathered: measurements, assumptions, shapes of joints."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from sim.accuracy.source import Source
from sim.accuracy.sources import sources_of
from sim.bench.both_cores import AllCores
from sim.bench.shape import Free, Shape
from sim.bench.shape_of import How, shape_of
from sim.progress import Progress, silent
from sim.rig import Rig
from sim.vehicle import Joint


@dataclass(frozen=True, eq=False)
class Doubts:
    """What may be off of a rig.

    Attributes
    ----------
    sources : every uncertain number.
    shapes : of each joint whose dimensions may be off.
    """

    sources: tuple[Source, ...] = ()
    shapes: Mapping[Joint, Shape] = field(default_factory=dict)

    @property
    def moving(self) -> tuple[Source, ...]:
        """Sources that no shape has in it."""
        return tuple(each for each in self.sources if each.joint not in self.shapes)

    @property
    def free(self) -> tuple[Free, ...]:
        """Dimensions of the shapes."""
        return tuple(free for shape in self.shapes.values() for free in shape.free)


def doubts_of(
    rig: Rig, joints: Iterable[Joint], how: How = "first", progress: Progress = silent
) -> Doubts:
    """Gather what may be off of a rig with these joints.

    Raises BindpointError where its parts cannot be built.
    """
    shapes: dict[Joint, Shape] = {}
    asked = tuple(joints)
    with AllCores() as together:
        for number, joint in enumerate(asked):

            def told(share: float, joint: Joint = joint, before: int = number) -> None:
                progress(f"how sure: the {joint} joint's yokes", (before + share) / len(asked))

            told(0.0)
            shape = shape_of(rig, joint, how, together, told)
            if shape is not None:
                shapes[joint] = shape
    return Doubts(sources_of(rig), MappingProxyType(shapes))
