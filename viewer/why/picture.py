"""The picture of why a joint broke or wore, to print and to lay beside the parts."""

from datetime import date

from sim.seen.words import CAPS
from sim.why.asked import marks_seen
from sim.why.why import Why
from viewer.scene.met import MetPicture, met_picture
from viewer.scene.odds import MOST_BARS, Bar
from viewer.scene.why_sheet import PressedPart, WhySheet
from viewer.why.told import told_of
from viewer.words.causes import CAUSES, bar_length, chance_words
from viewer.words.sentence import capital
from viewer.words.why import ODDS_HEADLINE, pressed_headline, pressed_lines


def why_picture(why: Why, rig: str) -> WhySheet:
    """The sheet. rig : its file name, or demo:NAME, for the command on it."""
    told = told_of(why, rig)
    return WhySheet(
        title=told.title,
        day=date.today().isoformat(),
        counter=told.counter,
        odds_headline=ODDS_HEADLINE,
        bars=tuple(
            Bar(
                capital(CAUSES[each.code].name),
                bar_length(each.chance),
                chance_words(each.chance),
            )
            for each in why.causes[:MOST_BARS]
            if each in why.not_ruled_out or each is why.causes[0]
        ),
        met=_met(why),
        pressed=_pressed(why),
        caution=told.caution,
    )


def _met(why: Why) -> MetPicture | None:
    """The yokes, where metal meets in the travel or somebody saw marks."""
    marks, seen = why.asked.marks, tuple(marks_seen(why.inspection))
    if marks is None or not (why.asked.reached or seen):
        return None
    return met_picture(why.case.rig.name, marks, seen)


def _pressed(why: Why) -> PressedPart | None:
    """The trunnion that is pressed hardest, where something was measured that tells how it sits."""
    found = why.asked.cocked
    if not any(found.caps[cap].seat.measured for cap in CAPS):
        return None
    cap = found.caps[found.worst]
    return PressedPart(pressed_headline(found.worst), pressed_lines(found, cap), cap)
