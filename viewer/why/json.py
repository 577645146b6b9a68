"""Why a joint broke or wore, as one JSON object, with the keys of docs/json.md."""

from typing import Any

from sim.causes.bands import band
from sim.why.why import Speaks, Weighed, Why
from viewer.encoder import keyed
from viewer.why.confirmed import confirmed_lines
from viewer.why.overload_json import overload_data
from viewer.why.parts import caps_data, marks_data, overlap_data
from viewer.why.to_do import to_do_data
from viewer.why.told import CONSISTENT
from viewer.words.causes import CAUSES
from viewer.words.remarks import said
from viewer.words.signs import SIGN_WORDS, sign_words
from viewer.words.verdicts import CAUTION

MOST_TO_SETTLE = 3
"""Signs that would settle a cause, that are told."""


def why_data(why: Why, rig_name: str) -> dict[str, Any]:
    """Everything that was seen, computed and weighed."""
    return {
        "rig": rig_name,
        "joint": why.joint,
        "story": why.story,
        "story_odds": dict(why.posterior.story),
        "too_little": why.too_little,
        "causes": [_cause(why, each) for each in why.causes],
        "none_of_them": why.posterior.none_of_them,
        "together": [
            {"codes": [one, other], "odds": odds}
            for one, other, odds in why.posterior.together[:MOST_TO_SETTLE]
        ],
        "seen": [
            {"sign": sign, "there": there, "says": sign_words(sign, there, why.inspection)}
            for sign, there in why.seen.items()
        ],
        "computed": [
            {"sign": each.code, "there": each.says, "says": said(each.why)} for each in why.computed
        ],
        "next": [
            keyed(each, "sign bits")
            | {"what": SIGN_WORDS[each.sign].asks, "tool": SIGN_WORDS[each.sign].tool}
            for each in why.next[:MOST_TO_SETTLE]
        ],
        "marks": marks_data(why),
        "seen_marks": overlap_data(why),
        "caps": caps_data(why),
        "do": to_do_data(why, rig_name),
        "overload": overload_data(why.asked.overload),
        "doubts": [said(each) for each in why.doubts],
        "confirmed": list(confirmed_lines(why.confirmed)),
        "caution": f"{CONSISTENT} {CAUTION}",
        "unexplained": [
            {"sign": sign, "says": sign_words(sign, True, why.inspection)}
            for sign in why.unexplained
        ],
    }


def _cause(why: Why, each: Weighed) -> dict[str, Any]:
    words = CAUSES[each.code]
    low, high = why.within[each.code]
    return {
        "code": each.code,
        "odds": each.chance,
        "odds_low": low,
        "odds_high": high,
        "band": band(each.chance),
        "says": f"{words.it}. {words.how}",
        "speaks_for": [_speaks(why, sign) for sign in each.speaks_for],
        "speaks_against": [_speaks(why, sign) for sign in each.against],
        "not_looked_at": [sign for sign, _ in each.unseen],
        "settle": [
            {"sign": sign, "what": SIGN_WORDS[sign].asks, "tool": SIGN_WORDS[sign].tool}
            for sign, _ in each.unseen[:MOST_TO_SETTLE]
        ],
    }


def _speaks(why: Why, each: Speaks) -> dict[str, Any]:
    says = sign_words(each.sign, each.there, why.inspection)
    return keyed(each, "sign there alone here") | {"says": says}
