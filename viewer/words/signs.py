"""Every sign in words: that it is there, that it is not, the question for it, and the tool."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final, cast

from sim.causes.codes import ComputedCode, SeenCode, SignCode
from sim.seen import Inspection
from sim.seen.evidence import at
from sim.seen.signs import SIGNS


@dataclass(frozen=True)
class SignWords:
    """One sign in words.

    Attributes
    ----------
    there, absent : that it was seen, or computed, and that it was not; to go on a sentence after
        "we saw: " or a dash, small at the start and without a stop.
    asks : the question whose answer says which.
    tool : what settles it, and how.
    """

    there: str
    absent: str
    asks: str
    tool: str


_EYES: Final = "a lamp and your eyes, before anything is washed"
_NAIL: Final = "a lamp and a fingernail"
_ASK: Final = "ask whoever drives it"
_BOOK: Final = "ask, or look in the service book"

SEEN_WORDS: Final[Mapping[SeenCode, SignWords]] = {
    "came-apart": SignWords(
        "it came apart",
        "it stayed in one piece",
        "Did it break, or did it wear out?",
        _EYES,
    ),
    "fracture-rough": SignWords(
        "the break is gray and grainy all over",
        "the break is not grainy all over",
        "Is the break gray and grainy all over?",
        "a lamp and a magnifying glass on the face of the break; do not fit the halves together",
    ),
    "fracture-rippled": SignWords(
        "the break has smooth zones with ripple lines",
        "the break has no ripple lines",
        "Has the break smooth zones with lines like a beach?",
        "a lamp held low over the face of the break, and a magnifying glass",
    ),
    "fracture-old-and-new": SignWords(
        "part of the break is old and dark, the rest is bright",
        "the break is all of one age",
        "Is part of the break dark or rusty, and the rest bright?",
        "a lamp on the face of the break, before it rusts",
    ),
    "cross-broken": SignWords(
        "the cross is broken or cracked",
        "the cross is whole",
        "Is the cross broken or cracked?",
        "a lamp; dye for cracks at the roots and at the grease hole",
    ),
    "ear-broken": SignWords(
        "an ear of a yoke is cracked or torn",
        "no ear is cracked or torn",
        "Is an ear of either yoke cracked or torn?",
        "a lamp; dye for cracks around the bores",
    ),
    "ears-spread": SignWords(
        "the ears of a yoke are spread or bent",
        "no ear was seen spread or bent",
        "Are the ears of either yoke spread or bent?",
        "an inside caliper: ear gap at the tips against the gap at the root",
    ),
    "bores-egged": SignWords(
        "a bore is out of round",
        "no bore was seen to be out of round",
        "Is a bore egg-shaped?",
        "a bore gauge in two directions, along the shaft and across it",
    ),
    "bores-skewed": SignWords(
        "the two bores of a yoke are out of line",
        "a bar goes through both bores",
        "Does a straight bar go through both bores of each yoke?",
        "a ground bar of the bore's size",
    ),
    "hammer-marks": SignWords(
        "there are hammer marks on an ear",
        "no hammer marks were seen",
        "Are there hammer marks on the ears?",
        _EYES,
    ),
    "half-moons": SignWords(
        "there are half-moons or dents on the ear tips",
        "no marks were seen on the ear tips",
        "Are there half-moons, dents or burrs on the ear tips?",
        _NAIL,
    ),
    "throat-dents": SignWords(
        "there are dents in a throat",
        "no marks were seen in the throats",
        "Are there dents or rubbed places in the throats?",
        _NAIL,
    ),
    "marks-paired": SignWords(
        "the marks come in pairs, straight across from each other",
        "no mark has another one straight across",
        "Is there another mark straight across?",
        "a lamp; turn the yoke half a turn",
    ),
    "mark-single": SignWords(
        "a mark stands alone, with nothing straight across",
        "no mark stands alone",
        "Does a mark stand alone, with nothing straight across?",
        "a lamp; turn the yoke half a turn",
    ),
    "fitting-snapped": SignWords(
        "the grease fitting is snapped off",
        "the grease fitting is whole",
        "Is the grease fitting snapped off?",
        _EYES,
    ),
    "a-cap-dry": SignWords(
        "at least one cap is dry",
        "none of the caps is dry",
        "Which of the four caps were dry?",
        "your eyes and a rag, all four caps side by side, before they are washed",
    ),
    "one-cap-dry": SignWords(
        "one cap is dry and another is not",
        "the caps are all alike, dry or greased",
        "Which of the four caps were dry?",
        "your eyes and a rag, all four caps side by side, before they are washed",
    ),
    "all-caps-dry": SignWords(
        "all four caps are dry",
        "not all four caps are dry",
        "Which of the four caps were dry?",
        "your eyes and a rag, all four caps side by side, before they are washed",
    ),
    "rust-dust": SignWords(
        "there is rust-red dust in the caps",
        "there is no rust-red dust",
        "Is there rust-red dust in the caps or at the seals?",
        "a white rag",
    ),
    "burned": SignWords(
        "a trunnion is burned blue",
        "no trunnion is burned blue",
        "Is a trunnion burned blue?",
        "a rag and daylight",
    ),
    "muddy": SignWords(
        "there is mud or water in a cap",
        "there is no mud in the caps",
        "Is there mud, sand or water in the caps?",
        "a white rag; rub what is left of the grease between two fingers",
    ),
    "seal-torn": SignWords(
        "a seal is torn",
        "no seal was seen torn",
        "Is a seal torn or missing?",
        _EYES,
    ),
    "will-not-purge": SignWords(
        "a cap takes no grease",
        "no cap was said to refuse grease",
        "Does grease come out at all four seals?",
        "a grease gun, and the cross held with the dry cap up",
    ),
    "one-axis-worn": SignWords(
        "only one axis of the cross is worn, the other one is good",
        "both axes of the cross are alike",
        "Which of the four trunnions are worn?",
        "the four trunnions side by side; a micrometer in two directions",
    ),
    "corners-worn": SignWords(
        "trunnions are worn at the corners",
        "no trunnion is worn at the corners",
        "Is a trunnion worn at its corners, at one end and on one side?",
        "a straight edge along the trunnion, against the light",
    ),
    "lines-on-the-load-side": SignWords(
        "there are needle lines on the load side",
        "no needle lines were seen on the load side",
        "Are there lines from the needles on the side that the yoke pushes?",
        "a fingernail across the trunnion",
    ),
    "lines-front-and-rear": SignWords(
        "there are needle lines front and rear, not on the load side",
        "no needle lines were seen front and rear",
        "Are there lines from the needles front and rear, along the shaft?",
        "a fingernail across the trunnion; note the side before the cross is turned over",
    ),
    "lines-all-round": SignWords(
        "there are needle lines all around",
        "no needle lines were seen all around",
        "Are there lines from the needles all around a trunnion?",
        "a fingernail across the trunnion",
    ),
    "flakes": SignWords(
        "metal flakes off a trunnion",
        "nothing flakes off",
        "Are there flakes or pits on a trunnion?",
        "a fingernail and a magnifying glass",
    ),
    "ends-galled": SignWords(
        "the end of a trunnion is galled",
        "the ends of the trunnions are good",
        "Is the end of a trunnion, or the bottom of its cap, galled?",
        _EYES,
    ),
    "needles-broken": SignWords(
        "needles are broken",
        "no needle is broken",
        "Are needles broken?",
        "tip them out and count them against another cap",
    ),
    "needle-astray": SignWords(
        "a needle is missing, or lay across the bottom of its cap",
        "all needles stood in their places",
        "Is a needle missing, or did one lie across the bottom of a cap?",
        "count them against another cap; look for a dent in the bottom",
    ),
    "cap-spun": SignWords(
        "a cap has spun in its seat",
        "no cap has spun",
        "Has a cap spun in its seat?",
        "look for bright rings around the cap and in its seat",
    ),
    "cap-walked": SignWords(
        "a cap has walked out",
        "no cap has walked out",
        "Has a cap walked out of its ear?",
        "a caliper from the cap to the outside of its ear, both sides",
    ),
    "cap-crooked": SignWords(
        "a cap sits crooked",
        "no cap was seen to sit crooked",
        "Does a cap sit crooked in its seat?",
        "feeler gauges under the rim of the cap, all around",
    ),
    "cap-cracked": SignWords(
        "a cap is cracked or chipped",
        "no cap is cracked",
        "Is a cap cracked or chipped?",
        _EYES,
    ),
    "clip-wrong": SignWords(
        "a clip is the wrong one",
        "no clip was seen to be a wrong one",
        "Are the clips the right ones, all of one thickness?",
        "a caliper on all four clips",
    ),
    "clip-out": SignWords(
        "a clip is out of its groove",
        "no clip was seen out of its groove",
        "Is a clip out of its groove or missing?",
        _EYES,
    ),
    "seat-damaged": SignWords(
        "a seat is gouged, burred or mushroomed",
        "no seat was seen gouged, burred or mushroomed",
        "Is a seat gouged, burred, or mushroomed at its edge?",
        "a lamp and a fingernail; push the cap home by hand",
    ),
    "strap-loose": SignWords(
        "a strap or U-bolt is loose or stretched",
        "no strap or U-bolt was seen loose",
        "Is a strap or U-bolt loose or stretched?",
        "a torque wrench before anything is taken off; a strap against a new one",
    ),
    "strap-bolt-sheared": SignWords(
        "a strap is bent, its bolt sheared, or a tab is broken off",
        "strap bolts and tabs are whole",
        "Is a strap bent, its bolt sheared, or a tab of the yoke broken off?",
        _EYES,
    ),
    "spline-dry": SignWords(
        "the spline is dry or rusty",
        "the spline is greased",
        "Is the spline dry or rusty?",
        "pull the slip apart; a rag",
    ),
    "spline-worn": SignWords(
        "the spline is galled or worn loose",
        "the spline is good",
        "Is the spline galled or worn loose?",
        "rock the slip by hand at ride length; a dial indicator",
    ),
    "spline-stuck": SignWords(
        "the slip does not slide",
        "the slip slides by hand",
        "Does the slip slide by hand?",
        "both hands, the shaft off the vehicle, at ride length",
    ),
    "spline-twisted": SignWords(
        "the spline teeth are twisted",
        "the spline teeth are straight",
        "Are the spline teeth twisted?",
        "a straight edge along one tooth",
    ),
    "spline-bottomed": SignWords(
        "the slip has bottomed",
        "there is no mark of bottoming in the slip",
        "Is there a mark of the slip having bottomed?",
        "a lamp into the slip; a bright ring or a dent at its end",
    ),
    "spline-short": SignWords(
        "the spline is polished at its end only: it ran nearly pulled out",
        "the spline is polished over its length",
        "Is the spline polished at its end only?",
        "a tape along the polished part",
    ),
    "tube-twisted": SignWords(
        "the tube is twisted or wrinkled",
        "the tube is not twisted",
        "Is the tube twisted or wrinkled?",
        "a chalk line along the tube; look for spiral cracks in the paint",
    ),
    "tube-dented": SignWords(
        "the tube is dented or bent",
        "the tube is straight and has no dents",
        "Is the tube dented or bent?",
        "a dial indicator at both ends and in the middle",
    ),
    "tube-rubbed": SignWords(
        "the tube has rubbed on something",
        "the tube has not rubbed",
        "Has the tube rubbed on something?",
        "a lamp around the tube, and along everything near it on the vehicle",
    ),
    "tube-torn": SignWords(
        "the tube is torn clean around",
        "the tube is not torn",
        "Is the tube torn clean around?",
        _EYES,
    ),
    "weld-cracked": SignWords(
        "a weld is cracked",
        "the welds are whole",
        "Is a weld of the tube cracked?",
        "a wire brush, then dye for cracks",
    ),
    "weight-missing": SignWords(
        "a balance weight is missing",
        "the balance weights are all there",
        "Is a balance weight missing?",
        "look for a clean spot with weld marks",
    ),
    "ball-broken": SignWords(
        "the centering ball or its spring is broken",
        "the centering ball is whole",
        "Is the centering ball, its stud or its spring broken?",
        _EYES,
    ),
    "ball-worn": SignWords(
        "the centering ball is worn or dry",
        "the centering ball is good",
        "Is the centering ball worn or dry?",
        "rock the head by hand; a needle on the grease gun",
    ),
    "soon-again": SignWords(
        "it went after a short distance",
        "it did not go after a short distance",
        "How far did it run since the last joint went in?",
        _BOOK,
    ),
    "failed-before": SignWords(
        "this joint failed before",
        "this joint never failed before",
        "How often did this joint fail before?",
        _BOOK,
    ),
    "many-miles": SignWords(
        "it has run a long way",
        "it has not run a long way",
        "How far did it run since the last joint went in?",
        _BOOK,
    ),
    "never-greased": SignWords(
        "it was never greased",
        "it was greased now and then",
        "How often was it greased?",
        _BOOK,
    ),
    "not-all-purged": SignWords(
        "grease did not come out at all four seals",
        "grease came out at all four seals",
        "When it was greased, did grease come out at all four seals?",
        "a grease gun: pump until all four seals purge",
    ),
    "water-crossed": SignWords(
        "it goes through water or mud",
        "it stays out of the water",
        "How often does it go through water or deep mud?",
        _ASK,
    ),
    "lifted": SignWords(
        "the vehicle was lifted",
        "nobody told of a lift",
        "Was the vehicle lifted before this?",
        "a tape from the axle to the frame, against the ticket",
    ),
    "more-torque": SignWords(
        "it got lower gears, bigger tires or more engine",
        "no other gears, tires or engine were told of",
        "Did it get other gears, tires or another engine before this?",
        _ASK,
    ),
    "yoke-kept": SignWords(
        "the new joint went into the old yokes",
        "the yoke was replaced with the joint",
        "Did the last new joint go into the old yokes?",
        "ask, or look at the yokes: paint, rust, part marks",
    ),
    "at-a-hard-pull": SignWords(
        "it happened at a hard pull",
        "it was not said to happen at a hard pull",
        "What was the vehicle doing when it happened?",
        _ASK,
    ),
    "at-droop": SignWords(
        "it happened with the axle hanging",
        "it was not said to happen with the axle hanging",
        "What was the vehicle doing when it happened?",
        _ASK,
    ),
    "in-reverse-or-braking": SignWords(
        "it happened in reverse or braking",
        "it was not said to happen in reverse or braking",
        "What was the vehicle doing when it happened?",
        _ASK,
    ),
    "on-the-highway": SignWords(
        "it happened on the highway",
        "it was not said to happen on the highway",
        "What was the vehicle doing when it happened?",
        _ASK,
    ),
    "squeak": SignWords(
        "it squeaked before",
        "nobody told of a squeak",
        "Did it squeak, in time with the wheels, at low speed?",
        "drive slowly along a wall with the window down",
    ),
    "clunk": SignWords(
        "it clunked from drive to reverse",
        "nobody told of a clunk",
        "Did it clunk from drive to reverse?",
        "shift from drive to reverse with a hand on the shaft's tunnel; nobody under the vehicle",
    ),
    "groan-at-droop": SignWords(
        "it groaned or caught at droop",
        "nobody told of a groan at droop",
        "Did it groan or catch with the axle hanging?",
        "turn the shaft by hand with the axle lowered on stands",
    ),
    "rattle": SignWords(
        "it rattled",
        "nobody told of a rattle",
        "Did it rattle?",
        "rock the head or the slip by hand",
    ),
    "shudder": SignWords(
        "it shuddered when pulling away",
        "nobody told of a shudder when pulling away",
        "Did it shudder when pulling away?",
        "pull away gently, then hard",
    ),
    "shakes-once-a-turn": SignWords(
        "it shakes once a turn of the shaft",
        "it does not shake once a turn",
        "Does it shake once or twice a turn of the shaft?",
        "a phone that records vibration, at a steady speed; coast in neutral and compare",
    ),
    "shakes-twice-a-turn": SignWords(
        "it shakes twice a turn of the shaft",
        "it does not shake twice a turn",
        "Does it shake once or twice a turn of the shaft?",
        "a phone that records vibration, at a steady speed; under power and coasting",
    ),
    "play": SignWords(
        "there is play in the joint",
        "there is no play in the joint",
        "How much free play in turning is there at the tube?",
        "hold the yoke on the vehicle, turn the tube back and forth; an angle finder on the tube",
    ),
}
"""Words of what somebody sees, measures or tells."""

COMPUTED_WORDS: Final[Mapping[ComputedCode, SignWords]] = {
    "touches-in-reach": SignWords(
        "on this vehicle the yokes meet within the travel",
        "on this vehicle the yokes do not meet within the travel",
        "Do the yokes meet within the travel?",
        "lower the axle slowly on stands and turn the shaft by hand until it catches",
    ),
    "nearly-touches": SignWords(
        "on this vehicle the yokes come close to each other",
        "on this vehicle the yokes stay well apart",
        "How close do the yokes come?",
        "modeling clay in the throat, the axle at full droop, one turn by hand",
    ),
    "marks-where-computed": SignWords(
        "the marks are where the yokes meet on this vehicle",
        "the marks are not where the yokes meet on this vehicle",
        "Are the marks where the yokes meet?",
        "the clock position and the surface of each mark",
    ),
    "marks-elsewhere": SignWords(
        "there are marks where the yokes cannot meet on this vehicle",
        "no mark is where the yokes cannot meet",
        "Are there marks where the yokes cannot meet?",
        "the clock position and the surface of each mark",
    ),
    "pull-past-strength": SignWords(
        "one hard pull passes what a part of this joint takes",
        "no single pull passes what the parts of this joint take",
        "Can one pull pass what this joint takes?",
        "engine torque, gears and axle load in the rig file",
    ),
    "steady-pull-past": SignWords(
        "low gear alone passes what it holds, with no shock and no wedged tire",
        "it takes a shock or a wedged tire to pass what it holds",
        "Does low gear alone pass what this joint takes?",
        "engine torque, gears and axle load in the rig file",
    ),
    "pulls-few": SignWords(
        "a joint of this size is good for few such pulls",
        "a joint of this size is good for very many such pulls",
        "For how many hard pulls is this joint good?",
        "engine torque, gears and axle load in the rig file",
    ),
    "cap-cocked": SignWords(
        "from what was measured, a cap sits crooked",
        "from what was measured, the caps sit straight",
        "How crooked can a cap sit in its seat?",
        "bores in two directions, ear gap at tips and root, a bar through both bores",
    ),
    "corner-dents": SignWords(
        "the needles press past what hardened steel takes at their corners",
        "the needles press no dents at their corners",
        "Is the pressure at the corners past what hardened steel takes?",
        "bores in two directions, ear gap at tips and root, a bar through both bores",
    ),
    "slip-thrust-dents": SignWords(
        "a slip that sticks would press dents front and rear at this torque",
        "even a slip that sticks would press no dents at this torque",
        "Would a stuck slip dent the trunnions?",
        "slide the slip by hand at ride length",
    ),
    "slip-runs-in": SignWords(
        "the slip bottoms within the travel",
        "the slip does not bottom within the travel",
        "Does the slip bottom within the travel?",
        "a paint stripe on the spline, then a drive",
    ),
    "slip-runs-out": SignWords(
        "the slip runs out of spline within the travel",
        "the slip keeps enough spline over the travel",
        "Does the slip run out of spline within the travel?",
        "a paint stripe on the spline, then a drive",
    ),
    "bend-past-limit": SignWords(
        "the joint runs at more bend than its speed allows",
        "the joint runs at no more bend than its speed allows",
        "Is the bend at ride height too much for the speed?",
        "an angle finder on output, shaft and pinion at ride height",
    ),
    "needles-do-not-roll": SignWords(
        "the joint runs nearly straight, so that the needles do not roll",
        "the joint runs at enough bend for the needles to roll",
        "Is the bend at ride height enough for the needles to roll?",
        "an angle finder on output, shaft and pinion at ride height",
    ),
    "much-wrap": SignWords(
        "the axle wraps a lot",
        "the axle wraps little",
        "How much does the axle wrap?",
        "a camera on the pinion during a brake-torque test; nobody in line or beneath",
    ),
    "thing-hit": SignWords(
        "the shaft comes against something near it within the travel",
        "the shaft stays clear of what is near it",
        "Does the shaft come against something near it?",
        "a lamp around the tube with the axle at droop, bump and crossed up",
    ),
    "head-past-its-ball": SignWords(
        "the head bends past what its ball and socket allow",
        "the head stays within what its ball and socket allow",
        "Does the head bend past its ball and socket?",
        "an angle finder on output and shaft at full droop",
    ),
    "shake-computed": SignWords(
        "the angles of this shaft make it shake",
        "the angles of this shaft cancel well enough",
        "Do the angles of this shaft make it shake?",
        "an angle finder on output, shaft and pinion at ride height, and the phase of the ears",
    ),
}
"""Words of what the rig itself says."""

SIGN_WORDS: Final[Mapping[SignCode, SignWords]] = dict(
    [*SEEN_WORDS.items(), *COMPUTED_WORDS.items()]
)
"""Words of every sign."""


@dataclass(frozen=True)
class Named:
    """A sign that several words of an inspection speak for, told by those that were named.

    Attributes
    ----------
    there : that it is there, with braces for what was named.
    plain : what is said in its place where a reading or a mark tells of it, and no word.
    words : by word of the inspection, or by key of a reading, how it is said.
    """

    there: str
    plain: str
    words: Mapping[str, str]


_MARKED: Final = {"half-moon": "half-moons", "dent": "dents", "burr": "burrs"}

NAMED: Final[Mapping[SignCode, Named]] = {
    "cross-broken": Named(
        "the cross is {}",
        "broken",
        {
            "broken at the root": "broken at the root",
            "broken through the middle": "broken through the middle",
            "cracked": "cracked",
            "grease hole cracked": "cracked at the grease hole",
        },
    ),
    "ear-broken": Named("an ear of a yoke is {}", "broken", {"cracked": "cracked", "torn": "torn"}),
    "ears-spread": Named(
        "the ears of a yoke are {}", "spread", {"spread": "spread", "bent": "bent"}
    ),
    "half-moons": Named("there are {} on the ear tips", "marks", _MARKED),
    "throat-dents": Named(
        "there are {} in a throat", "marks", {**_MARKED, "rubbed": "rubbed places"}
    ),
    "rust-dust": Named(
        "{}",
        "there is rust-red dust in the caps",
        {"rust dust": "there is rust-red dust in the caps", "rusty": "needles are rusty"},
    ),
    "needle-astray": Named(
        "{}",
        "a needle is missing",
        {
            "missing": "a needle is missing",
            "one lay at the bottom": "a needle lay across the bottom of its cap",
        },
    ),
    "cap-spun": Named(
        "{}",
        "a cap has spun in its seat",
        {
            "spun": "a cap has spun in its seat",
            "worn bright": "a seat is worn bright, as where a cap spins",
        },
    ),
    "cap-cracked": Named("a cap is {}", "broken", {"cracked": "cracked"}),
    "seat-damaged": Named(
        "a seat is {}",
        "damaged",
        {
            "gouged": "gouged",
            "gouge": "gouged",
            "burr": "burred",
            "mushroomed edge": "mushroomed at its edge",
            "edge": "mushroomed at its edge",
        },
    ),
    "strap-loose": Named(
        "a strap or U-bolt is {}", "loose", {"loose": "loose", "stretched": "stretched"}
    ),
    "strap-bolt-sheared": Named(
        "{}",
        "a strap bolt is broken",
        {
            "bent": "a strap is bent",
            "bolt sheared": "a strap bolt is sheared",
            "tab broken": "a tab of the yoke is broken off",
        },
    ),
    "spline-dry": Named("the spline is {}", "dry", {"dry": "dry", "rusty": "rusty"}),
    "spline-worn": Named(
        "the spline is {}", "worn", {"galled": "galled", "worn loose": "worn loose"}
    ),
    "tube-twisted": Named(
        "the tube is {}", "twisted", {"twisted": "twisted", "wrinkled": "wrinkled"}
    ),
    "tube-dented": Named("the tube is {}", "dented", {"dented": "dented", "bent": "bent"}),
    "ball-broken": Named(
        "{}",
        "the centering ball is broken",
        {
            "broken": "the centering ball is broken",
            "spring broken": "the spring of the centering ball is broken",
        },
    ),
    "ball-worn": Named("the centering ball is {}", "worn", {"worn": "worn", "dry": "dry"}),
    "more-torque": Named(
        "it got {}",
        "more torque",
        {"gears": "other gears", "tires": "other tires", "engine": "another engine"},
    ),
}
"""Signs of which only what was named may be told."""


def sign_words(code: SignCode, is_there: bool, seen: Inspection | None = None) -> str:
    """A sign in words, as it was found.

    seen : the inspection that it is a sign of: of several words that speak for the sign only those
        that stand in it are told.
    """
    words = SIGN_WORDS[code]
    if not is_there:
        return words.absent
    if seen is None or code not in NAMED:
        return words.there
    return _as_named(NAMED[code], SIGNS[cast("SeenCode", code)].reads, seen)


def _as_named(named: Named, paths: Iterable[str], seen: Inspection) -> str:
    """By the words and readings that an inspection has at some key paths."""
    told: dict[str, None] = {}
    for path in paths:
        found, key = at(seen, path), path.rpartition(".")[2]
        words = found if isinstance(found, tuple | list) else () if found is None else (found,)
        says = [each if isinstance(each, str) else key for each in words]
        told |= dict.fromkeys(named.words[each] for each in says if each in named.words)
    return named.there.format(" and ".join(told) or named.plain)
