"""Questions that are no key of a rig file: what is asked to know what else to ask."""

from typing import Final

from viewer.interview.answers import Keys, choice, no, yes
from viewer.interview.question import Question

_PICTURE: Final = """\
      output                                   pinion
    ====[ O ==============================  O ]====( axle )
          |<- joint center to joint center ->|"""
_OTHER_PLACES: Final = (
    "other places",
    "flange faces",
    "output seal",
    "end of output shaft",
    "yoke flat",
    "outer or inner cross",
)


def _tested(text: str) -> Keys:
    kind = choice("wrap.kind", {"no": None, "angles": "angles", "mark": "mark"})(text)
    return kind if kind["wrap.kind"] else {}


def _bar(text: str) -> Keys:
    said = yes("(track bar)")(text)
    return {**said, "suspension.track_bar.name": "track bar"} if said else said


SPECIAL: Final = Question(
    "(layout)",
    "Is it a plain shaft: one piece, with one cross at either end?",
    "no: it has a carrier bearing in the middle, or a double-Cardan head, which is two crosses "
    "close together and often called a CV.",
    no("(layout)"),
    "Count the crosses: two is a plain shaft, three is one with a double-Cardan head or one in two "
    "pieces.",
    "yes",
)
PIECES: Final = Question(
    "(pieces)",
    "Is it in two pieces, with a carrier bearing?",
    "The bearing holds the end of the front section; the rear section hangs on the joint behind "
    "it. Both ends and the bearing are then asked for as coordinates.",
    yes("(pieces)"),
    default="no",
)
WAY: Final = Question(
    "(way)",
    "Do you have the shaft's length and slopes, or coordinates of the joints?",
    "length: a tape along the shaft and an angle finder, what you get over the phone. "
    "coordinates: forward, sideways and height of both joints from the axle's center, by plumb bob "
    "and tape.",
    choice("(way)", {"length": "length", "coordinates": "coordinates"}),
    default="length",
)
DATUM: Final = Question(
    "(datum)",
    "Between which points did you measure the length?",
    f"{_PICTURE}\n1 joint centers. 2 other places: a flange face, the output seal, the end of the "
    "output shaft, a yoke's flat, a cross of a double-Cardan head; the parts are then asked first, "
    "since they decide how far those are from the joint centers.",
    choice("(datum)", {"joint centers": None} | dict.fromkeys(_OTHER_PLACES, "tape")),
    "A length taped from other places than you say makes a scrap shaft. Whichever it is: along the "
    "shaft, not the level distance.",
    "joint centers",
)
TESTED: Final = Question(
    "(wrap)",
    "Was axle wrap tested under a known torque?",
    "no: you give degrees, or take generic ones. angles: the pinion's slope was read before and "
    "under a torque. mark: a mark on the housing went up or down under a torque.",
    _tested,
    "Only torque that reaches the ground counts, or one on a bar bolted to the housing. A test "
    "against the brakes of the same axle shows nothing: they hold it back within the housing. "
    "Chock the wheels, nobody under the vehicle.",
    "no",
)
TORQUE: Final = Question(
    "(test torque)",
    "Where is the torque of the test known?",
    "axle: what both wheels put on the ground. pinion: a wrench at the pinion, the wheels held by "
    "the ground. bar: a pull square to a bar bolted to the housing.",
    choice("(test torque)", {"axle": "axle", "pinion": "pinion", "bar": "bar"}),
)
BAR: Final = Question(
    "(track bar)",
    "Is there a track bar?",
    "The bar across the vehicle that holds the axle sideways.",
    _bar,
    default="no",
)
DRIVE: Final = Question(
    "(drive)",
    "Do you know engine, gears and tires? (for torque, speed and the ticket)",
    "No angle depends on them. yes: they are asked one by one, and Enter leaves one out.",
    yes("(drive)"),
    default="no",
)
TRUCK: Final = Question(
    "(truck)",
    "Anything seen on the truck, or read on other days, to hold the numbers against?",
    "seen: the shaft touched or turned free on the lift, where the slip stood, how far paint ran. "
    "visits: the same few readings, each with its day. both, or no.",
    choice("(truck)", {"no": None, "seen": "seen", "visits": "visits", "both": "both"}),
    "bindpoint truck then tells whether they agree, and if not which number would have to be how "
    "wrong. It can go into the file later too.",
    "no",
)
