"""What a shake most likely is, in sentences of the shop."""

from collections.abc import Iterator, Mapping
from math import pi
from typing import Final

from sim.speed import Felt
from sim.table.loads import MILE
from sim.vibration import Mend, Suspected, Symptom, Vibration
from sim.vibration.evidence import Reason, ReasonCode
from sim.vibration.find import LIKELY
from sim.vibration.suspect import Says, SuspectCode
from sim.vibration.symptom import Feel, Only, Turns, When
from sim.vibration.tubes import Tube
from viewer.words.felt import TEN_RPM, WHEN, felt_at
from viewer.words.remarks import said
from viewer.words.sentence import small
from viewer.words.units import format_angle, format_fraction, road, rpm

NAMES: Final[Mapping[SuspectCode, str]] = {
    "tyres": "a tire or wheel out of balance or out of round",
    "balance": "the shaft out of balance, bent, or loose on its flange",
    "joint-angles": "the joint angles",
    "worn-joint": "a worn or stiff U-joint, or a sloppy slip",
    "wind-up": "the axle winding up on its springs",
    "whirl": "the shaft whirling, too long or too thin for the speed",
    "carrier": "the carrier bearing",
    "axle-gears": "the ring and pinion or their bearings",
    "engine": "the engine, clutch or converter, or a mount",
    "other-shaft": "the other driveshaft",
}
"""What it is, as a shop says it."""

CHECKS: Final[Mapping[SuspectCode, str]] = {
    "tyres": "Swap the tires front to rear. If the shake moves with them, balance those first.",
    "balance": (
        "Turn the shaft half a turn on its flange. If the shake changes, it is the shaft: look for "
        "a lost weight, a dent, mud, run-out."
    ),
    "joint-angles": (
        "First see that springs, bushings and mounts are sound. Then put the angle finder on "
        "output, shaft and pinion, on its tires, and see that the ears line up."
    ),
    "worn-joint": (
        "Drop one end and swing each joint by hand, both ways: no notch, no play. Twist the slip."
    ),
    "wind-up": (
        "Film the pinion while it pulls away. Look for loose U-bolts, tired springs, worn bushings."
    ),
    "whirl": (
        "See whether it comes on hard at one speed. Check the tube for a dent and the slip for "
        "play, and do not drive it there."
    ),
    "carrier": "Pry the bearing in its rubber: torn, soft, or not square to the shaft?",
    "axle-gears": (
        "Listen: gears whine, and the pitch is far above a shake. Check backlash and pinion play."
    ),
    "engine": "Park it and hold the same engine speed in neutral. Still there? It is no shaft.",
    "other-shaft": "Take that shaft out and drive it again.",
}
"""What to look at, the cheapest first; common practice, no source."""

SOURCES: Final[Mapping[SuspectCode, str]] = {
    "joint-angles": "limits of published tables; [AE-7], from memory",
    "wind-up": "a technical page of the trade, read there",
    "whirl": "beam of finite elements; its limits common practice, no source",
    "carrier": "vector statics; its limit common practice, no source",
    "balance": "[ISO21940-11]",
}
"""Where a number of the rig's own is from; all else is common practice, no source."""

COMMON_PRACTICE = "common practice, no source"

FEELS: Final[Mapping[Feel | None, str]] = {
    "buzz": "buzzes",
    "shudder": "shudders",
    "boom": "booms",
    None: "shakes",
}

AT: Final[Mapping[When | None, str]] = {
    "power": " under power",
    "coast": " coasting",
    "any": " at any time",
    "takeoff": " pulling away",
    None: "",
}

ONLY: Final[Mapping[Only | None, str]] = {
    "4wd": ", only in four-wheel drive",
    "hubs-locked": ", only with the hubs locked",
    "loaded": ", only with weight in it",
    "drooped": ", only with the axle hanging low",
    None: "",
}

TAU: Final = 2.0 * pi

TIMES: Final[Mapping[float, str]] = {
    0.5: "every other turn",
    1.0: "once a turn",
    2.0: "twice a turn",
}

TURNS_WITH: Final[Mapping[str, str]] = {
    "shaft": "",
    "wheel": " of the wheel",
    "engine": " of the engine",
}

FORETOLD: Final[Mapping[Says, str]] = {
    "yes": "This rig predicts it",
    "near": "This rig comes near it",
    "no": "This rig does not predict it",
    "untold": "Nothing measured on this rig tells",
}

FOR: Final[Mapping[ReasonCode, str]] = {
    "load": "angles change with weight and droop",
    "drive": "it takes the front drive",
    "feel": "it feels about that fast",
    "still": "this shaft stands still",
}
"""What speaks for it."""

AGAINST: Final[Mapping[ReasonCode, str]] = {
    "load": "weight and droop hardly matter to it",
    "drive": "the front drive does not matter to it",
    "feel": "it does not feel that fast or slow",
    "too-slow": "it turns too slowly for that",
    "still": "it stands still on the road",
}
"""What speaks against it."""

AGAINST_WHEN: Final[Mapping[When, str]] = {
    "power": "the throttle hardly matters to it",
    "coast": "it is no worse off the throttle",
    "any": "it changes with the throttle",
    "takeoff": "it needs speed",
}


def what_it_does(symptom: Symptom, turns: Turns) -> str:
    """What somebody said: ``Buzzes at 45 mph (72 km/h) under power``."""
    at = ""
    if symptom.road is not None:
        at = f" at {road(symptom.road)}"
    elif symptom.engine is not None and turns.engine is not None:
        at = f" with the engine at {rpm(turns.engine)}"
    elif turns.shaft is not None:
        at = f" with the shaft at {rpm(turns.shaft)}"
    return f"{FEELS[symptom.feel]}{at}{AT[symptom.when]}{ONLY[symptom.only]}".capitalize()


def how_fast(symptom: Symptom, turns: Turns) -> str:
    """How often shaft and tires come round; "" where neither is known."""
    told = []
    if turns.shaft is not None:
        once = turns.shaft / TAU
        shaft = "" if symptom.shaft is not None else f"shaft {rpm(turns.shaft)}, "
        told.append(f"{shaft}{once:.0f} Hz once a turn and {2 * once:.0f} twice")
    if turns.wheel is not None:
        told.append(f"tires {turns.wheel / TAU:.0f} Hz")
    if turns.engine is not None:
        told.append(f"engine {turns.engine / TAU:.0f} Hz")
    return "; ".join(told)


def missing(found: Vibration) -> str:
    """What the rig would have to tell, in one line; "" for nothing."""
    case, turns = found.case, found.case.turns
    keys = [key.partition(".")[2] for key in case.said.lacks("axle_ratio", "tyre_radius")]
    if not keys:
        return ""
    gives = " and ".join(MISSING[key] for key in keys)
    if turns.shaft is None and case.symptom.road is not None:
        return (
            f"Give the rig its {gives} in [drive], or the shaft speed in rpm: then the counts per "
            "second and the match with the speed are told too."
        )
    return f"Give the rig its {gives} in [drive], and road speeds are told too."


MISSING: Final = {
    "axle_ratio": "axle ratio (axle_ratio)",
    "tyre_radius": "tire radius (tyre_radius)",
}


def often(each: Suspected) -> str:
    """``twice a turn, 70 Hz``."""
    suspect, hertz = each.suspect, each.frequencies
    if suspect.is_span:
        return f"{hertz[0]:.0f} to {hertz[-1]:.0f} Hz" if hertz else "far faster than the shaft"
    of = TURNS_WITH[suspect.turns_with]
    if not hertz:
        return f"{' or '.join(TIMES[order] for order in suspect.orders)}{of}"
    pairs = zip(suspect.orders, hertz, strict=True)
    told = [f"{TIMES[order]}, {value:.0f} Hz" for order, value in pairs]
    return f"{' or '.join(told)}{of}"


def foretold(each: Suspected, found: Vibration) -> str:
    """Whether the rig foretells it, and the numbers behind; "" where it knows nothing of it."""
    lead = FORETOLD[each.foretold.says]
    why = "" if each.foretold.why is None else said(each.foretold.why)
    if each.code == "joint-angles":
        felt = found.case.felt
        at = f"felt {WHEN[felt.load]} {above(felt)}" if felt.ever else "not felt at any speed"
        why = f"{at}; {why}"
    if each.foretold.says == "untold":
        return f"{why[:1].upper()}{why[1:]}." if why else ""
    return f"{lead}: {why}."


def above(felt: Felt) -> str:
    """``above 33 mph (53 km/h), shaft 1,520 rpm``."""
    return f"above {felt_at(felt.speed, felt.road)}" if felt.ever else "at no speed"


def for_and_against(each: Suspected, symptom: Symptom) -> str:
    """What speaks for it and against it, in one line."""
    told: dict[bool, list[str]] = {True: [], False: []}
    for reason in each.reasons:
        if reason.code not in ("common", "rig"):
            told[reason.points > 0].append(_reason(reason, symptom))
    parts = [
        f"{lead}: {', '.join(told[way])}."
        for way, lead in ((True, "For it"), (False, "Against it"))
        if told[way]
    ]
    return " ".join(parts)


def _reason(reason: Reason, symptom: Symptom) -> str:
    speaks_for = reason.points > 0
    if reason.code == "when" and symptom.when is not None:
        return f"it comes{AT[symptom.when]}" if speaks_for else AGAINST_WHEN[symptom.when]
    if reason.code == "per-turn" and symptom.per_turn is not None:
        times = TIMES[float(symptom.per_turn)]
        return f"it shakes {times}" if speaks_for else f"it would not shake {times}"
    if reason.code == "follows":
        return f"it {'goes' if speaks_for else 'would not go'} with {symptom.follows} speed"
    return (FOR if speaks_for else AGAINST)[reason.code]


def lead(found: Vibration) -> str:
    """What it most likely is, and how sure that is."""
    first, *others = found.as_likely
    if first.points < LIKELY:
        return f"Nothing stands out. First to look at: {NAMES[first.code]} ({often(first)})."
    name = f"{NAMES[first.code]} ({often(first)})"
    if not others:
        return f"Most likely: {name}."
    return f"{COUNT[len(others)]} are as likely. First the cheapest to check: {name}."


COUNT: Final = ("", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine")


def mend_line(mend: Mend) -> str:
    """What to do, and from which speed it is then felt."""
    words = said(mend.says)
    if mend.then is not None:
        then = said(mend.then)
        words = f"{words}; then {small(then)}"
    before, after = mend.before, mend.after
    if after.load == "takeoff":
        gain = f"From {format_angle(before.bend)} uneven to {format_angle(after.bend)}"
    elif mend.worth_it:
        gain = f"Felt {shortly(before)} now, {shortly(after)} then"
    else:
        gain = f"Evens out the pinion, but a bent joint still shakes the shaft {shortly(after)}"
    costs = mend.all_after
    if costs.speed < 0.95 * mend.all_before.speed:
        gain += f"; but {WHEN[costs.load]} {shortly(costs)} then"
    if mend.binds:
        gain += "; but it then binds sooner"
    return f"{words}. {gain}."


def mend_name(mend: Mend) -> str:
    """What a cure is called in a few words."""
    name = "ears turned" if mend.code == "phase" else mend.code.replace("-", " ")
    return name if mend.then is None else f"{name} and pinion turn"


def shortly(felt: Felt) -> str:
    """``above 33 mph``, or by the shaft where the road is not known; ``at no speed``."""
    if not felt.ever:
        return "at no speed"
    if felt.road is None:
        return f"above {rpm(round(felt.speed / TEN_RPM) * TEN_RPM)}"
    return f"above {felt.road * 3600.0 / MILE:.0f} mph"


def aim_alone(found: Vibration) -> str:
    """That no aim of the pinion mends it, where that is so; else ""."""
    if any(mend.code == "pinion-turn" for mend in found.mends):
        return ""
    if found.case.felt.governs == "torsional":
        return "Aim: the pinion points about as well as it can for that."
    joint, _ = found.case.to_blame
    return f"Aim alone does not cure it: the {joint} joint is bent too much by itself."


NO_MEND = (
    "Aim, ears, heights and wrap were tried and none helps: less lift or a longer shaft would."
)


def tube_line(tube: Tube) -> str:
    """A stouter tube."""
    then = "and the speed is then safe" if tube.enough else "which is still not enough"
    return (
        f"A {format_fraction(tube.outside)} tube of the same wall whirls at {rpm(tube.after)} in "
        f"place of {rpm(tube.before)}, {then}. A shorter shaft, or two pieces, does more."
    )


def balance_line(found: Vibration) -> str:
    """What balancing may leave, piece by piece; "" where that is not known."""
    shaft = found.case.turns.shaft
    if shaft is None or not found.balances:
        return ""
    told = []
    for name, each in found.balances:
        first, last = each.per_plane_oz_in
        told.append(f"{name} {first:.2f} oz in at the output end, {last:.2f} at the other")
    grade = found.balances[0][1].grade
    return f"Balance it to G{grade:g} at {rpm(shaft)}, which leaves: {'; '.join(told)}."


STANDS_STILL = "With the hubs unlocked this shaft stands still on the road, so it cannot shake."


def likeliest(found: Vibration) -> Iterator[Suspected]:
    """Those worth a paragraph: the first, those as likely, and two more that are likely."""
    as_likely = found.as_likely
    for number, each in enumerate(found.suspected):
        if number == 0 or each in as_likely or (number < 3 and each.points >= LIKELY):
            yield each
