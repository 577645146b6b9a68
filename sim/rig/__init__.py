"""The rig file: its schema, reading it, writing it, and what is wrong with it.

| to | use |
|---|---|
| read a file or a text | `load_rig`, `parse_rig`, `rig_from_data` |
| see everything that is wrong | `RigError.problems`, each a `Problem` |
| see what was not given | `Rig.assumed`, each an `Assumed` |
| see what is odd but possible | `notes(rig)`, each a `Remark` |
| change a value | `changed(rig, {"travel.droop": "6 in"})` |
| write a file | `save_rig`, `rig_text` |
| help an editor | `json_schema` |
| have something to try | `demo_names`, `demo_text`, `load_demo` |

`sim.derive` makes the vehicle of a rig.
"""

from sim.rig.assumed import Assumed
from sim.rig.change import changed
from sim.rig.demos import demo_names, demo_text, load_demo
from sim.rig.document import rig_text, save_rig
from sim.rig.json_schema import json_schema
from sim.rig.notes import notes
from sim.rig.reading import load_rig, parse_rig
from sim.rig.rig import Rig
from sim.rig.validation import rig_from_data
from sim.table.problems import Problem, RigError

__all__ = [
    "Assumed",
    "Problem",
    "Rig",
    "RigError",
    "changed",
    "demo_names",
    "demo_text",
    "json_schema",
    "load_demo",
    "load_rig",
    "notes",
    "parse_rig",
    "rig_from_data",
    "rig_text",
    "save_rig",
]
