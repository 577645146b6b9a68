"""The inspection of a failed joint: what is seen, measured and told, and the signs it gives.

| to | use |
|---|---|
| read a file or a text | `load_inspection`, `parse_inspection`, `inspection_from_data` |
| write a file | `save_inspection`, `inspection_text`, `retyped` |
| help an editor | `inspection_schema` |
| have its signs | `signs_of` |
| see what is odd | `doubts` |
| refuse a joint that the rig does not have | `demand_joint` |
"""

from sim.rig.typed_joints import NoSuchJointError
from sim.seen.amounts import clock_angle
from sim.seen.doubts import doubts
from sim.seen.inspection import Inspection
from sim.seen.joint import demand_joint
from sim.seen.reading import (
    inspection_from_data,
    inspection_schema,
    inspection_text,
    load_inspection,
    parse_inspection,
)
from sim.seen.retyping import retyped, save_inspection
from sim.seen.signs import signs_of

__all__ = [
    "Inspection",
    "NoSuchJointError",
    "clock_angle",
    "demand_joint",
    "doubts",
    "inspection_from_data",
    "inspection_schema",
    "inspection_text",
    "load_inspection",
    "parse_inspection",
    "retyped",
    "save_inspection",
    "signs_of",
]
