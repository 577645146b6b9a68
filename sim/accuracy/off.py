"""How far off one value of a rig may be, and who says so."""

from __future__ import annotations

from typing import Final

from sim.accuracy.source import Why
from sim.rig.measured_with import MeasuredWith
from sim.rig.tools import Of, tools_of, usual_tool
from sim.suspension.measured.reading import Height
from sim.units import Angle, Length

_KEY: Final[dict[Of, str]] = {"length": "lengths", "angle": "angles", "part": "parts"}


def off_of(
    value: Length | Angle | Height, said: MeasuredWith | None, part: bool = False
) -> tuple[float, Why, str]:
    """How far off (mm or rad) 95 of 100 such values are at most, who says so, and the tool.

    said : with what the rig was measured.
    part : whether it is a dimension of a part, in the hand.
    """
    typed, tools = value.off, tools_of(said)
    if typed is not None and typed.size is not None:
        return typed.size, "typed", typed.tool
    of: Of = "part" if part else "angle" if isinstance(value, Angle) else "length"
    named = typed.tool if typed is not None else getattr(said, _KEY[of], None)
    tool = tools.get(named or "", usual_tool(of))
    off = tool.off(value)
    if off is None:  # an angle of a part, read with what reads lengths
        tool = usual_tool("angle" if isinstance(value, Angle) else "length")
        off = tool.off(value) or 0.0
    return off, "usual" if named is None else "tool", tool.name
