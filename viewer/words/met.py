"""Words on where metal met: a mark on the metal, a picture of it."""

from collections.abc import Sequence
from math import degrees, isfinite, pi

from sim.marks import Backward, Mark, Marks
from viewer.words.apart import clock_text
from viewer.words.captions import short_length
from viewer.words.poses import pose_words
from viewer.words.units import share_words

EAR_A = "12 is ear a, 6 is ear b"

INTO = "as one looks into the open yoke from the cross"

NO_MARKS = "Nothing meets it."

SEEN_KEY, MET_KEY = "seen", "computed: the darker and closer hatched, the deeper"

MET_CAUTION = (
    "Computed from the shapes as described, as if nothing gave: depths are a scale, not a "
    "measurement. It is consistent with marks in these places; it does not prove what made them."
)


def clocks_text(clocks: Sequence[float]) -> str:
    """Places on a clock, rad: "12 and 6 o'clock"."""
    said = [clock_text(each) for each in sorted({round(c % (2.0 * pi), 3) for c in clocks})]
    hours = [text.removesuffix(" o'clock") for text in dict.fromkeys(said)]
    if not hours:
        return "about the middle"
    listed = " and ".join(filter(None, [", ".join(hours[:-1]), hours[-1]]))
    return f"{listed} o'clock"


def met_lines(alike: Sequence[Mark]) -> list[str]:
    """One mark, and those like it: what, where, by what, how deep, from when."""
    mark, patch = alike[0], alike[0].patch
    clocks = [each.patch.clock for each in alike if each.patch.clock is not None]
    first = "touches first" if mark.comes_first else f"only past {degrees(mark.bend):.1f}° of bend"
    if not isfinite(mark.bend):
        first = "at no bend of this joint"
    return [
        f"{patch.surface}, {clocks_text(clocks)}",
        f"met by the {patch.against} of the {mark.by}",
        f"up to {short_length(patch.depth)} past touching; {first}",
    ]


def made_lines(back: Backward) -> list[str]:
    """What made a mark: from which bend on its place is met, by what, and where the axle has it."""
    mark = back.mark
    at = "" if mark.clock is None else f" at {clock_text(mark.clock)}"
    place = f"{mark.surface or 'mark'}{at}"
    if not back.possible:
        return [f"{place}: the other yoke reaches it at no bend. Something else made that mark."]
    met = f"met by the {' and the '.join(back.by)}" if back.by else "met"
    said = [
        f"{place}: {met} from {degrees(back.low):.1f}° of bend on; "
        f"a mark so deep takes {degrees(back.high):.1f}° or more."
    ]
    if back.nearest is None:
        return [
            *said,
            f"No pose of this axle bends the joint so far ({degrees(back.most):.1f}° at most): it "
            "took more droop, a hoist, or something loose.",
        ]
    part = share_words(back.share)
    return [*said, f"This axle has that from {pose_words(back.nearest)}; {part} of its travel."]


def mark_place(yoke: str, surface: str | None) -> str:
    """Where a seen mark is, for a list of such."""
    return f"the {surface} of the {yoke}" if surface else f"the {yoke}"


def marks_astray(places: Sequence[str]) -> str:
    """That marks lie where these yokes do not meet, each with its place."""
    listed = " and on ".join(dict.fromkeys(places))
    one = len(places) == 1
    return (
        f"the {'mark' if one else 'marks'} on {listed} {'lies' if one else 'lie'} where these "
        "yokes do not meet"
    )


def met_title(name: str) -> str:
    """Over a yoke."""
    return f"{name[:1].upper()}{name[1:]}"


def met_headline(joint: str, marks: Marks, forced: bool) -> str:
    """Over the picture."""
    if not marks.touches:
        return f"The {joint} joint: no metal meets in this travel"
    if not marks.reached:
        return f"Where metal would meet at the {joint} joint, which this axle never bends so far"
    how = "if the axle is forced through its travel" if forced else "as it first touches"
    return f"Where metal meets at the {joint} joint, {how}"


def met_told(marks: Marks, forced: bool) -> list[str]:
    """Under the headline."""
    if not marks.touches:
        from_ = (
            f"touches from {degrees(marks.touch):.1f}° of bend"
            if isfinite(marks.touch)
            else ("touches at no bend")
        )
        return [f"It {from_}; this axle bends it {degrees(marks.axle):.1f}° at most."]
    bend = marks.most if forced else marks.stops
    said = [
        f"First touch at {degrees(marks.touch):.1f}° of bend; drawn up to {degrees(bend):.1f}°. "
        f"Clock {INTO}: {EAR_A}."
    ]
    if not marks.reached:
        said.append(
            f"This axle bends it {degrees(marks.axle):.1f}° at most: it takes more droop, a hoist, "
            "or something loose."
        )
    found = marks.forced if forced else marks.at_touch
    first = min(found, key=lambda mark: mark.bend, default=None)
    if first is not None and first.first is not None:
        said.append(f"First reached at {pose_words(first.first)}.")
    return said
