"""The words of an inspection: closed lists of what the trade sees, one list for each place.

A list that is missing was not looked at. A list that is empty was looked at, and there was nothing.
With words in it those are there, and the other words of that list are not; but who tells what
happened, what was heard or what was changed names what comes to mind, and leaves the rest open.
"""

from collections.abc import Mapping, Sequence
from typing import Annotated, Final, Literal, get_args

from sim.front_section import Joint
from sim.table.words import Listed, word

_LIST: Final = Listed('a list of words in [ ], such as ["dry", "rust dust"]; [ ] for nothing found')

_ONE_OR_MORE: Final = Listed('a word, or a list of words in [ ], such as ["hard pull"]', alone=True)

Came = Literal["broke", "wore", "runs"]
HeadCross = Literal["outer", "inner", "single"]
CapName = Literal["shaft_a", "shaft_b", "end_a", "end_b"]
YokeName = Literal["shaft", "end"]

CapWord = Literal[
    "dry",
    "rust dust",
    "burned blue",
    "muddy",
    "seal torn",
    "will not purge",
    "spun",
    "walked out",
    "cracked",
    "sits crooked",
    "wrong clip",
    "clip out",
]
TrunnionWord = Literal[
    "lines on the load side",
    "lines front and rear",
    "lines all round",
    "worn at the corners",
    "worn on one side",
    "flakes",
    "burned blue",
    "end galled",
    "broken off",
]
NeedleWord = Literal["worn", "broken", "missing", "one lay at the bottom", "rusty"]
SeatWord = Literal["gouged", "burr", "mushroomed edge", "egg-shaped", "worn bright", "rusty"]
EarWord = Literal["spread", "bent", "cracked", "torn", "hammer marks"]
StrapWord = Literal["loose", "stretched", "bent", "bolt sheared", "tab broken", "used again"]
TipWord = Literal["half-moon", "dent", "burr", "ground"]
ThroatWord = Literal["half-moon", "dent", "burr", "rubbed"]
CrossWord = Literal[
    "broken at the root",
    "broken through the middle",
    "cracked",
    "grease hole cracked",
    "fitting snapped off",
    "bent",
]
SplineWord = Literal[
    "dry",
    "rusty",
    "galled",
    "worn loose",
    "stuck",
    "twisted",
    "bottomed mark",
    "polished at the end only",
]
TubeWord = Literal[
    "twisted",
    "wrinkled",
    "dented",
    "rubbed",
    "torn round",
    "weld cracked",
    "weight missing",
    "bent",
]
BallWord = Literal["broken", "worn", "dry", "spring broken"]
BrokenPart = Literal["cross", "ear", "tube", "weld", "stub", "cap", "strap bolt", "ball"]
Face = Literal["rough", "rippled", "old and new"]
Bar = Literal["goes through", "drags", "does not go through"]
Greased = Literal["never", "when built", "yearly", "every oil change", "after water"]
Purged = Literal["all four", "not all four", "nobody looked"]
Water = Literal["never", "now and then", "often"]
Change = Literal[
    "lift",
    "gears",
    "tires",
    "engine",
    "yoke",
    "joint only",
    "straps",
    "shocks",
    "springs",
    "nothing",
]
Use = Literal["street", "tow", "trail", "rocks", "sand", "farm"]
Happened = Literal[
    "hard pull", "droop", "reverse or braking", "highway", "slow and steady", "parked"
]
Throttle = Literal["drive", "coast", "both"]
Noise = Literal["squeak", "clunk", "groan at droop", "rattle", "shudder", "grind"]

OneCame = Annotated[Came, word(Came)]
OneJoint = Annotated[Joint, word(Joint)]
OneHeadCross = Annotated[HeadCross, word(HeadCross)]
OneYoke = Annotated[YokeName, word(YokeName)]
OneBrokenPart = Annotated[BrokenPart, word(BrokenPart)]
OneFace = Annotated[Face, word(Face)]
OneBar = Annotated[Bar, word(Bar)]
OneGreased = Annotated[Greased, word(Greased)]
OnePurged = Annotated[Purged, word(Purged)]
OneWater = Annotated[Water, word(Water)]
OneUse = Annotated[Use, word(Use)]
OneThrottle = Annotated[Throttle, word(Throttle)]

CapWords = Annotated[tuple[Annotated[CapWord, word(CapWord)], ...], _LIST]
TrunnionWords = Annotated[tuple[Annotated[TrunnionWord, word(TrunnionWord)], ...], _LIST]
NeedleWords = Annotated[tuple[Annotated[NeedleWord, word(NeedleWord)], ...], _LIST]
SeatWords = Annotated[tuple[Annotated[SeatWord, word(SeatWord)], ...], _LIST]
EarWords = Annotated[tuple[Annotated[EarWord, word(EarWord)], ...], _LIST]
StrapWords = Annotated[tuple[Annotated[StrapWord, word(StrapWord)], ...], _LIST]
TipWords = Annotated[tuple[Annotated[TipWord, word(TipWord)], ...], _LIST]
ThroatWords = Annotated[tuple[Annotated[ThroatWord, word(ThroatWord)], ...], _LIST]
CrossWords = Annotated[tuple[Annotated[CrossWord, word(CrossWord)], ...], _LIST]
SplineWords = Annotated[tuple[Annotated[SplineWord, word(SplineWord)], ...], _LIST]
TubeWords = Annotated[tuple[Annotated[TubeWord, word(TubeWord)], ...], _LIST]
BallWords = Annotated[tuple[Annotated[BallWord, word(BallWord)], ...], _LIST]
Changes = Annotated[tuple[Annotated[Change, word(Change)], ...], _LIST]
Happenings = Annotated[tuple[Annotated[Happened, word(Happened)], ...], _ONE_OR_MORE]
Noises = Annotated[tuple[Annotated[Noise, word(Noise)], ...], _LIST]

CAPS: Final[tuple[CapName, ...]] = get_args(CapName)
"""The caps as they are named: by the yoke they sit in and by its ear a or b."""
YOKES: Final[tuple[YokeName, ...]] = get_args(YokeName)
"""The shaft's own yoke of a joint, and the other one: on the output, the pinion, or a head."""


_RULES_OUT: Final[Mapping[Happened, frozenset[Happened]]] = {
    "parked": frozenset({"hard pull", "reverse or braking", "highway", "slow and steady"}),
    "slow and steady": frozenset({"hard pull", "highway", "parked"}),
}
"""What cannot have been at the same time; a pull may be hard with the axle hanging, and in
reverse."""


def was_at(happened: Sequence[Happened] | None, sought: Happened) -> bool | None:
    """Whether it happened at that; None where what was told leaves it open."""
    told = happened or ()
    if sought in told:
        return True
    return False if any(sought in _RULES_OUT.get(each, ()) for each in told) else None


def caps_of(yoke: YokeName) -> tuple[CapName, ...]:
    """The two caps of one yoke, ear a first."""
    return tuple(cap for cap in CAPS if cap.startswith(f"{yoke}_"))
