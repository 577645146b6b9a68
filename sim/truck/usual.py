"""How far off what is seen on a truck may be, where nobody says (from memory)."""

from __future__ import annotations

from math import radians
from typing import Final

READ: Final = 3.175
"""mm. A mark on a stub by a tape: 1/8 in."""

HEIGHT: Final = 6.35
"""mm. The height of an axle on a lift, against where it stands at ride height: 1/4 in."""

ROLL: Final = radians(0.5)
"""rad. The tube of an axle by a level on it."""

WRAP: Final = radians(1.0)
"""rad. Wrap under a torque that is held by hand."""

SLOPE: Final = radians(0.5)
"""rad. A slope by a level on a face that was cleaned."""

LENGTH: Final = 3.175
"""mm. A length by a tape: 1/8 in."""
