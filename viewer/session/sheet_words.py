"""Words of the sheet: titles and labels made from key paths, and what may be chosen."""

import re

from sim.head.catalogue import head_kinds
from sim.parts.catalogue import cross_sizes, yoke_kinds
from sim.rig.choice import OWN_YOKE, Choice, CrossChoice, HeadChoice

_TITLES = {
    "": "The rig",
    "output": "Output: what the shaft hangs on",
    "ride_height": "The shaft at ride height",
    "axle": "Axle and pinion",
    "travel": "Travel from ride height",
    "suspension": "Suspension",
    "suspension.readings": "Readings at heights of the axle",
    "suspension.links": "Links",
    "suspension.wishbones": "Wishbones",
    "suspension.arms": "Radius arms",
    "suspension.track_bar": "Track bar",
    "suspension.torque_arm": "Torque arm",
    "carrier": "Carrier bearing of a two-piece shaft",
    "carrier.middle": "Middle joint",
    "shaft": "Shaft",
    "shaft.tube": "Tube",
    "shaft.slip": "Slip",
    "shaft.output_end": "Joint at the output",
    "shaft.pinion_end": "Joint at the pinion",
    "surroundings": "Things near the shaft",
    "wanted": "Room that is wanted",
    "wrap": "Axle wrap worked out",
    "wrap.drive": "Torque that reaches the axle",
    "drive": "What drives the shaft",
    "ride_height.tape": "Taped between other places",
    "surroundings.mesh": "Mesh file",
}
"""By key path; any other is made of the path's last word."""

_ENTRIES = {
    "suspension.readings": "Reading",
    "suspension.links": "Link",
    "suspension.wishbones": "Wishbone",
    "suspension.arms": "Radius arm",
    "surroundings": "Thing near the shaft",
}
"""What one of a list is called."""

_LABELS = {
    "suspension.readings.at": "height of the axle",
    "shaft.slip.at": "slips",
    "shaft.slip.closes": "closes from ride height",
    "shaft.slip.opens": "opens from ride height",
    "ride_height.length": "joint to joint",
    "output.joint": "joint centre",
    "axle.pinion_joint": "pinion joint centre",
    "axle.snout": "snout: axle to pinion joint",
    "axle.snout_outside": "snout: outside diameter",
    "axle.tubes_outside": "axle tubes: outside diameter",
    "axle.tubes_long": "axle tubes: end to end",
    "output.case_outside": "case: outside diameter",
    "output.case_long": "case: length behind the yoke",
    "travel.stops_apart": "stops apart, left to right",
    "travel.droop_strap": "droop ends at",
    "travel.wrap_at_droop": "wrap left at full droop",
    "shaft.phase": "phase of the ears",
    "shaft.tube.outside": "outside diameter",
    "shaft.tube.wall": "wall",
    "wanted.bend": "bend to spare",
    "wanted.gap": "gap between yokes",
    "wanted.clearance": "gap to things near",
    "wanted.slip": "slip to spare",
}


def group_title(path: str, entry: int = 0, name: str = "") -> str:
    """Title of a table; of an entry of a list with its number and its name."""
    plain = re.sub(r"\[\d+\]", "", path)
    title = _TITLES.get(plain, _words(plain.split(".")[-1]).capitalize())
    if entry:
        title = f"{_ENTRIES.get(plain, title)} {entry}"
    return f"{title}: {name}" if name else title


def label_of(key: str) -> str:
    """Label of a key."""
    plain = re.sub(r"\[\d+\]", "", key)
    return _LABELS.get(plain, _LABELS.get(plain.split(".")[-1], _words(plain.split(".")[-1])))


def names_of(choice: type[Choice], key: str) -> tuple[str, ...]:
    """Names of the catalogue that can stand at a key."""
    if issubclass(choice, CrossChoice):
        return tuple(size.name for size in cross_sizes())
    if issubclass(choice, HeadChoice):
        return head_kinds()
    kinds = [kind for kind in yoke_kinds() if "sliding" not in kind or key.endswith("output_yoke")]
    return (*kinds, OWN_YOKE)


def choice_words(choice: str, key: str) -> str:
    """How a choice is shown: a size of cross with the trade sizes it goes by."""
    if not key.endswith("cross"):
        return choice
    aliases = next((each.aliases for each in cross_sizes() if each.name == choice), ())
    return f"{choice} ({', '.join(aliases)})" if aliases else choice


def _words(name: str) -> str:
    return name.replace("_", " ")
