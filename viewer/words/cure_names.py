"""What a cure is called in a few words: "6 deg shims + limit straps at 6 1/2 in droop"."""

from collections.abc import Mapping
from typing import Any, Final

from sim.cures import Cure
from sim.remark import Remark
from viewer.words.remedies import DOES
from viewer.words.sentence import Sentence, filled
from viewer.words.units import format_angle, format_fraction


def cure_name(cure: Cure) -> str:
    """All its remedies, to be read in one breath."""
    return " + ".join(map(remedy_called, cure.says))


def cure_title(cure: Cure) -> str:
    """The same with a capital letter, to head what is said of it."""
    name = cure_name(cure)
    return name[:1].upper() + name[1:]


def remedy_called(says: Remark) -> str:
    """One remedy with its size, small at its start."""
    return filled(NAMES[says.code], dict(says.values))


def _pinion(way: str, turn: float, how: Remark, up: float) -> str:  # noqa: ARG001  as in `DOES`
    if how.code == "by-shims":
        return filled(f"{{size:nominal}} shims (pinion nose {way})", dict(how.values))
    return f"pinion nose {way} {format_angle(turn)}"


def _straps(in_middle: bool, apart: float, droop: float, earlier: float) -> str:  # noqa: ARG001
    return (
        f"{'center limit strap' if in_middle else 'limit straps'} at {format_fraction(droop)} droop"
    )


def _slip(sliding: bool, more: float, **_: Any) -> str:
    return f"{'sliding yoke' if sliding else 'slip'} with {format_fraction(more)} more stroke"


NAMES: Final[Mapping[str, Sentence]] = {
    "straps-end-droop": _straps,
    "stops-end-bump": "bump stops at {bump:fraction} bump",
    "tube-cut-anew": "tube {by:fraction} {way}",
    "pinion-turned": _pinion,
    "output-dropped": "output dropped {by:fraction}",
    "output-raised": "output raised {by:fraction}",
    "bearing-lowered": "carrier bearing lowered {by:fraction}",
    "bearing-raised": "carrier bearing raised {by:fraction}",
    "output-and-bearing-dropped": "output and carrier bearing dropped {by:fraction}",
    "output-and-bearing-raised": "output and carrier bearing raised {by:fraction}",
    "anti-wrap-bar": "anti-wrap bar",
    "shaft-longer": "shaft {by:fraction} longer",
    "rear-section-longer": "rear section {by:fraction} longer",
    "head-at-output": lambda head, **_: f"double-Cardan at the output ({head})",
    "deep-throats": lambda **values: filled(DOES["deep-throats"], values).lower(),
    "joints-of-size": lambda size, **_: f"{size} joints",
    "slip-longer": _slip,
    "slip-into-shaft": "fixed output yoke, {slip} in the shaft",
    "two-pieces": "two-piece shaft with a carrier bearing",
}
"""By the code of what a remedy says of itself (`DOES` in `viewer.words.remedies`)."""
