"""What holds at one turn of the shaft, in words."""

from math import degrees, isnan

from viewer.session.charts.turn_strip import TurnStrip
from viewer.session.pose_now import left_words
from viewer.words.units import format_fine


def gap_words(mm: float) -> str:
    """A gap, too small for a tape: thousandths of an inch and mm."""
    if isnan(mm):
        return "gap not found yet"
    return format_fine(mm) if mm > 0.0 else "metal in metal"


def strip_words(strip: TurnStrip, place: int) -> str:
    """One place of a strip."""
    left = float(strip.left[place])
    words = f"{strip.joint} joint, shaft turned {degrees(strip.spin[place]):.1f} deg"
    bend = left_words(left)
    return f"{words}\n{gap_words(float(strip.gap[place]))}, {bend} at this turn"
