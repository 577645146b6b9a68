"""How far off one reading may be that names its tool beside it."""

from __future__ import annotations

from sim.accuracy.off import off_of
from sim.rig.measured_with import MeasuredWith
from sim.rig.tools import tools_of
from sim.suspension.measured.reading import Height
from sim.units import Angle, Length


def read_off(
    value: Length | Angle | Height,
    tool: str | None,
    said: MeasuredWith | None,
    usual: float | None = None,
) -> float:
    """How far off (mm or rad) 95 of 100 such readings are at most.

    What is typed behind the value goes first, then the tool that is named beside it, where that
    reads such values; then what is usual.

    tool : as named beside it, in any words.
    said : with what the rig was measured.
    usual : where neither says it; left out, that of the tool of the rig.
    """
    typed = value.off
    if typed is not None and typed.size is not None:
        return typed.size
    name = (typed.tool if typed is not None else "") or tool or ""
    found = tools_of(said).get(name)
    plain = Length(value.mm, "") if isinstance(value, Height) else value
    off = None if found is None else found.off(plain)
    if off is None:
        off = usual if usual is not None else off_of(plain, said)[0]
    return off
