"""What each order of shaking feels like, and what it is a sign of.

The signs are common practice of the trade, without a source; they are consistent with a cause,
never proof of it.
"""

from collections.abc import Mapping
from typing import Final

ORDERS: Final[Mapping[str, tuple[str, str]]] = {
    "shaft, once a turn": (
        "a buzz that comes with road speed, in and out of gear, coasting in neutral too",
        "imbalance, bent tube or run-out, lost balance weight, mud, loose flange, near its "
        "critical speed",
    ),
    "shaft, twice a turn": (
        "a shudder pulling away or a drone that changes between drive, coast and neutral",
        "joint bends too large or unequal, ears out of phase, worn or stiff joint, axle wrap, half "
        "of its critical speed",
    ),
    "shaft, four times a turn": (
        "a harsh buzz under power with the shaft steeply bent",
        "very large joint bends, ears out of phase",
    ),
    "wheel, once a turn": (
        "a slow shake of wheel or seat that comes with road speed, whatever the torque",
        "tire or wheel out of balance, bent wheel or axle flange",
    ),
    "wheel, twice a turn": (
        "a thump that comes with road speed, worst when cold",
        "oval or flat-spotted tire",
    ),
    "engine, once a turn": (
        "a buzz that follows the engine, gone coasting in neutral",
        "engine, clutch or converter, engine mounts",
    ),
}
"""By the name of the order: the symptom, as a customer says it, and its causes."""
