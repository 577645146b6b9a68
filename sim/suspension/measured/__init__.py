"""The suspension known by readings: shaft length and pinion angle at three or more heights."""
