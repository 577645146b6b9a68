"""Error bars: the chance that a finding touches or runs out, its band, and what to read again."""
