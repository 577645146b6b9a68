"""What the customer tells: the history of the joint, and what was felt and heard."""

from sim.seen.amounts import PerTurn, Road, Times
from sim.seen.parts import in_own_words
from sim.seen.words import (
    Changes,
    Happenings,
    Noises,
    OneGreased,
    OnePurged,
    OneThrottle,
    OneUse,
    OneWater,
)
from sim.table.form import maybe
from sim.table.loads import RoadSpeed
from sim.table.part import Part


class History(Part):
    """What went before."""

    distance: Road | None = maybe(
        "How far it ran since this joint went in.",
        "3000 mi",
        name="run since the last joint",
        asks="How far did it run since the last joint went in?",
        otherwise="not known",
    )
    failed_before: Times | None = maybe(
        "How often this joint failed before.",
        1,
        name="failed before",
        asks="How often did this joint fail before?",
        datum="0 where this is the first time.",
        otherwise="not known",
    )
    greased: OneGreased | None = maybe(
        "How often it was greased.",
        "never",
        asks="How often was it greased?",
        otherwise="not known",
    )
    purged: OnePurged | None = maybe(
        "Whether grease came out at all four seals the last time.",
        "not all four",
        name="grease came out at",
        asks="When it was greased, did grease come out at all four seals?",
        otherwise="not known",
    )
    water: OneWater | None = maybe(
        "How often it goes through water or deep mud.",
        "often",
        asks="How often does it go through water or deep mud?",
        otherwise="not known",
    )
    changed: Changes | None = maybe(
        "What was changed on the vehicle before this joint failed.",
        ["lift"],
        name="changed before",
        asks="What was changed on the vehicle before it failed?",
        datum="joint only: a new joint in the old yokes.",
        otherwise="not known",
    )
    use: OneUse | None = maybe(
        "What the vehicle is used for most.",
        "trail",
        asks="What is the vehicle used for most?",
        otherwise="not known",
    )
    note: str | None = in_own_words()


class Symptoms(Part):
    """How it happened, and what was felt and heard before."""

    happened: Happenings | None = maybe(
        "What the vehicle was doing; one word, or several in a list.",
        ["hard pull"],
        name="it happened at",
        asks="What was the vehicle doing when it happened, or when it is worst?",
        datum="As much as is known; what is not named stays open.",
        otherwise="not known",
    )
    speed: RoadSpeed | None = maybe(
        "Road speed at which it happened, or at which it is worst.",
        "45 mph",
        name="at a speed of",
        asks="At which speed?",
        otherwise="not known",
    )
    throttle: OneThrottle | None = maybe(
        "Whether it is felt under power or coasting.",
        "drive",
        asks="Is it felt under power, coasting, or both?",
        otherwise="not known",
    )
    per_turn: PerTurn | None = maybe(
        "How often it shakes in a turn of the shaft: 1 or 2; 0 where it does not shake.",
        2,
        name="shakes a turn",
        asks="Does it shake once or twice a turn of the shaft? 0 where it does not shake.",
        datum="Once goes with balance and runout, and with speed; twice with the angles, and with "
        "torque.",
        otherwise="not known",
    )
    noise: Noises | None = maybe(
        "What was heard before.",
        ["squeak"],
        asks="What was heard before?",
        otherwise="not known",
    )
    note: str | None = in_own_words()
