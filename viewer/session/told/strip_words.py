"""What holds at one turn of the shaft, in words."""

from math import degrees

from viewer.session.charts.turn_strip import TurnStrip
from viewer.words.now import gap_words, left_words


def strip_words(strip: TurnStrip, place: int) -> str:
    """One place of a strip."""
    left = float(strip.left[place])
    words = f"{strip.joint} joint, shaft turned {degrees(strip.spin[place]):.1f} deg"
    bend = left_words(left)
    return f"{words}\n{gap_words(float(strip.gap[place]))}, {bend} at this turn"
