"""What stands around the picture of the pressure on a trunnion."""

from typing import Final

from sim.bearing.needles import STATIC_PRESSURE

AROUND: Final = (
    "coast side",
    "toward the other shaft",
    "drive side",
    "toward its own yoke's shaft",
    "coast side",
)
"""Places round a trunnion, every quarter turn."""

OUTER, INNER = ("bottom", "of the cap"), ("toward", "the cross")

DRIVE_CORNER, COAST_CORNER = "corner, on drive", "corner, on coast"

NOT_PRESSED: Final = "not pressed"

SCALE: Final = "100 % is what hardened steel takes: past it a dent stays"


def level_caption(megapascal: float) -> str:
    """A pressure as a share of what dents."""
    return f"{100.0 * megapascal / STATIC_PRESSURE:.0f} %"
