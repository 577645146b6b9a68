"""The parts of a failed joint as they lie on the bench: what is seen on each, what is measured."""

from collections.abc import Iterator

from sim.seen.amounts import Clock, FreePlay, Pair
from sim.seen.words import (
    CAPS,
    YOKES,
    BallWords,
    CapName,
    CapWords,
    CrossWords,
    EarWords,
    NeedleWords,
    OneBar,
    OneBrokenPart,
    OneFace,
    OneYoke,
    SeatWords,
    SplineWords,
    StrapWords,
    ThroatWords,
    TipWords,
    TrunnionWords,
    TubeWords,
    YokeName,
)
from sim.table.fields import Distance, Name, Size, Swing
from sim.table.form import field, maybe
from sim.table.part import Part

LONGEST_NOTE = 900
"""Characters. As one line of a file a longer one could not be read back."""


def in_own_words() -> str | None:
    """The key for anything else."""
    made: str | None = maybe(
        "Anything else worth knowing, in your own words.",
        "photo 12",
        more={"max_length": LONGEST_NOTE},
        name="remark",
        asks="Anything else? In your own words.",
        otherwise="nothing",
    )
    return made


class Cap(Part):
    """One cap with its trunnion, its needles, the ear that holds it and the seat in that ear."""

    clock: Clock | None = maybe(
        "Where that ear stood when the joint was taken apart.",
        "12 o'clock",
        name="clock position",
        asks="Where did the ear of cap {cap} stand when it was taken apart?",
        datum="On a clock seen from behind the vehicle, looking forward: 12 is up.",
        otherwise="not known",
    )
    seen: CapWords | None = maybe(
        "What is seen on the cap, its seal and its clip.",
        ["dry", "rust dust"],
        name="cap, seal and clip",
        asks="What is seen on cap {cap}, its seal and its clip?",
        beware="Look before anything is washed, and keep the four caps apart and labeled.",
        otherwise="not looked at",
    )
    trunnion: TrunnionWords | None = maybe(
        "What is seen on the trunnion that runs in this cap.",
        ["worn at the corners"],
        asks="What is seen on the trunnion of cap {cap}?",
        datum="The load side is the one that the yoke pushes as it turns; front and rear face "
        "along the shaft.",
        beware="Lines on the load side come from torque, lines front and rear from a push along "
        "the shaft: note the side before the cross is turned over.",
        otherwise="not looked at",
    )
    needles: NeedleWords | None = maybe(
        "What is seen on the needles of this cap.",
        ["missing"],
        asks="What is seen on the needles of cap {cap}?",
        datum="Count them and hold the count against another cap.",
        beware="One that lies across the bottom keeps the cap from going home.",
        otherwise="not looked at",
    )
    seat: SeatWords | None = maybe(
        "What is seen in the seat of this cap: the bore of the ear, or the half-round under a "
        "strap.",
        ["gouged"],
        asks="What is seen in the seat of cap {cap}?",
        beware="Wipe it and look along it with a lamp; a burr is felt with a fingernail.",
        otherwise="not looked at",
    )
    ear: EarWords | None = maybe(
        "What is seen on the ear that holds this cap.",
        ["spread"],
        asks="What is seen on the ear of cap {cap}?",
        otherwise="not looked at",
    )
    strap: StrapWords | None = maybe(
        "What is seen on the strap, U-bolt or bolted cap over this cap; only where the yoke has "
        "them.",
        ["loose"],
        name="strap or U-bolt",
        asks="What is seen on the strap or U-bolt of cap {cap}?",
        otherwise="not looked at",
    )
    cap_diameter: Pair | None = maybe(
        "Outside diameter of the cap in two directions: along the shaft, then across it.",
        ["1.0620 in", "1.0615 in"],
        asks="What is the outside diameter of cap {cap}, along the shaft and across it?",
        beware="Measure over the ground part, not over the clip groove.",
        otherwise="not measured",
    )
    trunnion_diameter: Pair | None = maybe(
        "Diameter of the trunnion in two directions: along the shaft, then across it.",
        ["0.6520 in", "0.6500 in"],
        asks="What is the diameter of the trunnion of cap {cap}, along the shaft and across it?",
        beware="Across the lines, where they are deepest, tells the wear.",
        otherwise="not measured",
    )
    bore: Pair | None = maybe(
        "Diameter of the seat in two directions: along the shaft, then across it.",
        ["1.0625 in", "1.0640 in"],
        name="bore of the ear",
        asks="What is the bore for cap {cap}, along the shaft and across it?",
        beware="In a half-round seat the cap's own clamp has to be on, tight.",
        otherwise="not measured",
    )
    end_float: Distance | None = maybe(
        "How far the cap and its trunnion move against each other along the trunnion.",
        "0.006 in",
        asks="How much end float has cap {cap}?",
        otherwise="not measured",
    )
    gouge: Distance | None = maybe(
        "Depth of a gouge in the seat.",
        "0.010 in",
        name="depth of the gouge",
        asks="How deep is the gouge in the seat of cap {cap}?",
        otherwise="not measured",
    )
    edge: Distance | None = maybe(
        "How far the edge of the seat is mushroomed in.",
        "0.005 in",
        name="mushroomed edge",
        asks="How far is the edge of the seat of cap {cap} mushroomed in?",
        otherwise="not measured",
    )
    tilt: Swing | None = maybe(
        "How far the cap sits out of line with its trunnion, where somebody measured it.",
        "0.2 deg",
        name="tilt of the cap",
        asks="How crooked does cap {cap} sit?",
        otherwise="not measured",
    )
    note: str | None = in_own_words()


class Caps(Part):
    """The four caps, by the yoke they sit in and by its ear."""

    shaft_a: Cap | None = maybe(
        "The cap in ear a of the shaft's own yoke.", name="Cap a on the shaft's yoke"
    )
    shaft_b: Cap | None = maybe(
        "The cap in ear b of the shaft's own yoke.", name="Cap b on the shaft's yoke"
    )
    end_a: Cap | None = maybe("The cap in ear a of the other yoke.", name="Cap a on the other yoke")
    end_b: Cap | None = maybe("The cap in ear b of the other yoke.", name="Cap b on the other yoke")
    note: str | None = in_own_words()

    def named(self) -> Iterator[tuple[CapName, Cap]]:
        """The caps that something is said of, with their names."""
        for name in CAPS:
            cap: Cap | None = getattr(self, name)
            if cap is not None:
                yield name, cap


class SeenYoke(Part):
    """One yoke as a whole: its ear tips, its throat, and how its ears stand to each other."""

    tips: TipWords | None = maybe(
        "What is seen on the ear tips.",
        ["half-moon"],
        name="ear tips",
        asks="What is seen on the ear tips of {yoke}?",
        beware="A fresh touch is bright and free of rust, with a sharp lip pushed outward.",
        otherwise="not looked at",
    )
    throat: ThroatWords | None = maybe(
        "What is seen in the throat, the hollow between the ears.",
        ["dent"],
        asks="What is seen in the throat of {yoke}?",
        beware="Look on either side of the middle, where the other yoke's ear tips come in.",
        otherwise="not looked at",
    )
    gap_at_tips: Size | None = maybe(
        "Inside from ear to ear, at the tips.",
        "2.10 in",
        name="ear gap at the tips",
        asks="What is the inside gap of {yoke}, ear to ear at the tips?",
        datum="By caliper, on machined faces, cross out.",
        otherwise="not measured",
    )
    gap_at_root: Size | None = maybe(
        "Inside from ear to ear, at the root.",
        "2.08 in",
        name="ear gap at the root",
        asks="What is the inside gap of {yoke}, ear to ear at the root?",
        datum="By caliper, on the same machined faces as at the tips.",
        otherwise="not measured",
    )
    bar: OneBar | None = maybe(
        "Whether a straight bar that fits both bores goes through them.",
        "does not go through",
        name="bar through both bores",
        asks="Does a straight bar go through both bores of {yoke}?",
        datum="A ground bar of the bore's size, or an old cap on either end of one.",
        otherwise="not tried",
    )
    off: Distance | None = maybe(
        "By how much the far bore is off that bar.",
        "0.020 in",
        name="far bore off the bar",
        asks="By how much is the far bore of {yoke} off the bar?",
        otherwise="not measured",
    )
    flat: Distance | None = maybe(
        "Depth of a flat or a gouge that the other yoke has worn.",
        "0.030 in",
        name="depth of a flat",
        asks="How deep is the flat that the other yoke wore into {yoke}?",
        otherwise="not measured",
    )
    note: str | None = in_own_words()


class SeenYokes(Part):
    """Both yokes of the joint."""

    shaft: SeenYoke | None = maybe(
        "The shaft's own yoke; of a head's cross the yoke toward the tube.", name="The shaft's yoke"
    )
    end: SeenYoke | None = maybe(
        "The other yoke: on the output or the pinion; of a head's cross the yoke away from the "
        "tube.",
        name="The other yoke",
    )
    note: str | None = in_own_words()

    def named(self) -> Iterator[tuple[YokeName, SeenYoke]]:
        """The yokes that something is said of, with their names."""
        for name in YOKES:
            yoke: SeenYoke | None = getattr(self, name)
            if yoke is not None:
                yield name, yoke


class Mark(Part):
    """One mark with its place."""

    yoke: OneYoke = field(
        "The yoke that it is on: the shaft's own, or the one at the end.",
        "shaft",
        asks="Which yoke is the mark on?",
    )
    surface: Name = field(
        "The surface that it is on, by the name that the yoke has for it.",
        "ear tip",
        asks="Which surface is the mark on?",
    )
    clock: Clock = field(
        "Where on the yoke it is.",
        "3 o'clock",
        name="clock position",
        asks="Where on the yoke is the mark?",
        datum="Look into the open yoke from the cross; 12 is ear a, 6 is ear b, clockwise.",
    )
    depth: Distance | None = maybe(
        "How deep it is.", "0.030 in", asks="How deep is the mark?", otherwise="not measured"
    )
    pair: bool | None = maybe(
        "Whether there is another one straight across.",
        True,
        name="another straight across",
        asks="Is there another one straight across?",
        datum="Two half a turn apart come from touching while it turned; one alone from touching "
        "once, crawling or parked.",
        otherwise="not looked at",
    )
    note: str | None = in_own_words()


class SeenCross(Part):
    """The cross itself."""

    seen: CrossWords | None = maybe(
        "What is seen on the cross.",
        ["broken at the root"],
        name="cross",
        asks="What is seen on the cross?",
        datum="The root is where a trunnion comes out of the middle.",
        otherwise="not looked at",
    )
    note: str | None = in_own_words()


class Fracture(Part):
    """What broke, and how the break looks."""

    part: OneBrokenPart | None = maybe(
        "The part that broke first, as far as that is known.",
        "cross",
        name="what broke",
        asks="What broke?",
        beware="What broke first is the one whose break the others explain; all may be in pieces.",
        otherwise="not known",
    )
    face: OneFace | None = maybe(
        "How the face of the break looks.",
        "rough",
        name="face of the break",
        asks="How does the face of the break look?",
        datum="rough: gray and grainy all over, it went at once. rippled: smooth zones with lines "
        "like a beach, it grew. old and new: a dark or rusty part, and a bright rest.",
        beware="Do not fit the halves together: that rubs off what there is to see.",
        otherwise="not looked at",
    )
    note: str | None = in_own_words()


class SeenSpline(Part):
    """The spline of the slip."""

    seen: SplineWords | None = maybe(
        "What is seen on the spline.",
        ["dry"],
        name="spline",
        asks="What is seen on the spline of the slip?",
        datum="stuck: it does not slide by hand. bottomed mark: a bright ring or dent at the end "
        "of its travel. polished at the end only: it ran with little of it engaged.",
        otherwise="not looked at",
    )
    note: str | None = in_own_words()


class SeenTube(Part):
    """The tube and its welds."""

    seen: TubeWords | None = maybe(
        "What is seen on the tube.",
        ["twisted"],
        name="tube",
        asks="What is seen on the tube and its welds?",
        datum="twisted: the paint has spiral cracks, or lines run around it. weight missing: a "
        "clean spot where a balance weight was.",
        otherwise="not looked at",
    )
    note: str | None = in_own_words()


class SeenBall(Part):
    """The centering ball of a double-Cardan head."""

    seen: BallWords | None = maybe(
        "What is seen on the centering ball, its socket and its spring.",
        ["broken"],
        name="centering ball",
        asks="What is seen on the centering ball?",
        otherwise="not looked at",
    )
    note: str | None = in_own_words()


class Play(Part):
    """Play that is felt by hand."""

    at_tube: FreePlay | None = maybe(
        "Free play in turning, at the tube, the other end held.",
        "1 1/2 deg",
        name="play at the tube",
        asks="How much free play in turning is there at the tube?",
        datum="Hold the yoke on the vehicle and turn the tube back and forth by hand.",
        otherwise="not measured",
    )
    note: str | None = in_own_words()
