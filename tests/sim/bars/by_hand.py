"""Sources and shapes made by hand, of which a test knows all there is to know."""

from dataclasses import dataclass
from functools import partial
from typing import Any

import numpy as np

from sim.accuracy.source import Source, Unit
from sim.bench.shape import Free
from sim.frames import FloatArray
from sim.rig import Rig
from sim.rig.change import key_path
from sim.units import Angle, Length
from sim.vehicle import Joint


def source(rig: Rig, key: str, off: float, joint: Joint | None = None) -> Source:
    """A typed length (mm) or angle (rad) of a rig, off by as much."""
    path = key_path(key)
    assert path is not None
    typed: Any = rig
    for step in path:
        typed = typed[step] if isinstance(step, int) else getattr(typed, step)
    unit: Unit = "rad" if isinstance(typed, Angle) else "mm"
    value = typed.rad if isinstance(typed, Angle) else typed.mm
    return Source(key, value, unit, off, "typed", joint=joint, put=partial(_put, path))


def _put(path: tuple[str | int, ...], part: Any, off: float) -> Any:
    if not path:
        is_angle = isinstance(part, Angle)
        return Angle.exactly(part.rad + off) if is_angle else Length.exactly(part.mm + off)
    step, *rest = path
    if isinstance(step, int):
        return (*part[:step], _put(tuple(rest), part[step], off), *part[step + 1 :])
    return part.model_copy(update={step: _put(tuple(rest), getattr(part, step), off)})


@dataclass(frozen=True)
class OneThroat:
    """A joint whose touch bend goes up in a straight line with one dimension."""

    joint: Joint
    middle: float
    slope: float
    free: tuple[Free, ...]
    forecast_off: float = 0.0
    later: float = 0.0

    def dimensions(self, z: FloatArray) -> FloatArray:
        return np.array([each.value for each in self.free]) + z

    def clear(self, z: FloatArray) -> FloatArray:
        return self.middle + self.slope * z[:, 0]

    def keeps(self, z: FloatArray) -> FloatArray:
        return self.clear(z) - 0.01


def one_throat(joint: Joint, middle: float, slope: float) -> OneThroat:
    key = f"shaft.{joint}_end.shaft_yoke.throat_depth"
    return OneThroat(
        joint, middle, slope, (Free(key, "shaft_yoke", "throat_depth", 20.0, 1.96, False),)
    )
