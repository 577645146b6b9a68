"""A length taped between other places than the joint centres."""

from collections.abc import Iterator, Mapping
from typing import Any, Final, Literal, get_args

from sim.remark import Remark
from sim.table.fields import Distance, Size
from sim.table.form import field, maybe
from sim.table.part import Needless, Part
from sim.table.problems import NOTHING, Problem

OutputDatum = Literal[
    "joint centre", "flange face", "outer cross", "inner cross", "output seal", "shaft end",
    "bearing",
]  # fmt: skip
"""Where the tape starts at the output."""

PinionDatum = Literal["joint centre", "flange face", "outer cross", "inner cross", "yoke flat"]
"""Where it ends at the pinion."""

FROM_THE_SEAL: Final = ("output seal", "shaft end")
"""Datums that a sliding yoke's joint stands out from."""

_HELD: Final = (
    "Not where it should have been held, but where it was. Another flange or yoke has other "
    "places: go back and name it."
)


def _but(*some: str) -> tuple[str, ...]:
    """Every datum at the output but some."""
    return tuple(each for each in get_args(OutputDatum) if each not in some)


class Tape(Part):
    """A straight tape at ride height, and the two places it was held to."""

    of_a_shaft_end = Needless(
        ("stick_out",), "at_output", _but("shaft end"), 'only with at_output = "shaft end"'
    )
    of_a_seal = Needless(
        ("seal_to_joint",),
        "at_output",
        _but(*FROM_THE_SEAL),
        'only with at_output = "output seal" or "shaft end"',
    )

    reads: Size = field(
        "What the tape reads.",
        "38 3/4 in",
        asks="What does the tape read?",
        datum="Straight between the two places, at ride height: such as 38 3/4 in.",
        beware="Not the level distance, and not hanging. A tape started at its 1 in mark reads 1 "
        "in too much. With the slip on the output, in its running position.",
    )
    at_output: OutputDatum = field(
        "Where it was held at the output: joint center; flange face, its middle; "
        "outer cross or inner cross of a double-Cardan head, the outer one at the output; output "
        "seal, its face; shaft end, of the output shaft; bearing, the middle of a carrier bearing.",
        asks="Where was the tape held at the output?",
        datum="{choices}. These are the places that the parts named before have.",
        beware=_HELD,
    )
    at_pinion: PinionDatum = field(
        "Where it was held at the pinion: joint center; flange face, its middle; outer "
        "cross or inner cross of a double-Cardan head, the outer one at the pinion; yoke flat, "
        "the ends of a strap yoke's ears.",
        asks="Where was the tape held at the pinion?",
        datum="{choices}. These are the places that the parts named before have.",
        beware=_HELD,
    )
    stick_out: Distance | None = maybe(
        "With shaft end: how far the output shaft stands out of its seal.",
        "1 3/8 in",
        asks="How far does the output shaft stand out of its seal?",
        datum="From the face of the seal to the end of the shaft: such as 1 3/8 in.",
    )
    seal_to_joint: Size | None = maybe(
        "From the seal's face to the joint center of a sliding yoke at ride height; "
        "worked out from the yoke and what the slip still closes where left out.",
        "3 1/4 in",
        asks="How far from the seal's face is the center of the slip yoke's joint?",
        datum="At ride height, in its running position: such as 3 1/4 in.",
        otherwise="worked out from the yoke and what the slip still closes",
    )

    @classmethod
    def key_problems(cls, table: Mapping[str, Any], path: str) -> Iterator[Problem]:
        """Tell of a shaft end whose place is not said, besides what every table tells."""
        yield from super().key_problems(table, path)
        if table.get("at_output") == "shaft end" and table.get("stick_out") is None:
            yield Problem(
                f"{path}.stick_out" if path else "stick_out",
                NOTHING,
                Remark("how-far-out"),
                Remark("taped-to-end"),
            )
