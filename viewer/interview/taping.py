"""Asking for the length: joint centre to joint centre, or a tape held to other places."""

from collections.abc import Iterator
from typing import Final

from sim.rig.datum import datums_at_hand
from sim.rig.tape import FROM_THE_SEAL
from sim.rig.validation import sound_sections
from viewer.interview.answers import assemble, choice, length
from viewer.interview.parts import parts
from viewer.interview.question import Question, Said

DATUM: Final = "(datum)"

_PICTURE: Final = """\
      output                                   pinion
    ====[ O ==============================  O ]====( axle )
          |<- joint centre to joint centre ->|"""
_OTHER: Final = (
    "other places",
    "flange faces",
    "output seal",
    "end of output shaft",
    "yoke flat",
    "outer or inner cross",
)
_TAPE: Final = "ride_height.tape"
_MEANT: Final = {
    "joint centre": "the middle of the cross, or of a head's ball",
    "flange face": "where the two flanges meet, at its middle",
    "outer cross": "of a double-Cardan head, the cross away from the shaft",
    "inner cross": "of a double-Cardan head, the cross on the shaft",
    "output seal": "the face of the seal that the slip yoke goes into",
    "shaft end": "the end of the output shaft itself, not of the housing",
    "yoke flat": "the ends of a strap yoke's ears",
}


def taped_length(said: Said) -> Iterator[Question]:
    """Ask between which points the length was measured, and for the length."""
    yield Question(
        DATUM,
        "Between which points did you measure the length?",
        f"{_PICTURE}\n1 joint centres. 2 other places: a flange face, the output seal, the end of "
        "the output shaft, a yoke's flat, a cross of a double-Cardan head; the parts are then "
        "asked first, since they decide how far those are from the joint centres.",
        choice(DATUM, {"joint centres": None} | dict.fromkeys(_OTHER, "tape")),
        beware="A length from another datum than the one told makes a scrap shaft. Whichever it "
        "is: along the shaft, not the level distance.",
        default="joint centres",
    )
    yield from _by_tape(said) if said.get(DATUM) == "tape" else _by_centres()


def _by_centres() -> Iterator[Question]:
    yield Question(
        "ride_height.length",
        "How long is the shaft, joint centre to joint centre?",
        "CC, from the middle of one cross to the middle of the other, along the shaft, at ride "
        "height: such as 36 5/16 in. At a double-Cardan head, to the middle of its ball.",
        length("ride_height.length"),
        beware="Not the level distance, not from ear tips, and not hanging. A tape started at its "
        "1 in mark reads 1 in too much. With the slip on the output, in its running position.",
    )


def _by_tape(said: Said) -> Iterator[Question]:
    yield from parts(said)
    for end, names in zip(("output", "pinion"), _datums(said), strict=True):
        key = f"{_TAPE}.at_{end}"
        shown = "; ".join(f"{i} {name}, {_MEANT[name]}" for i, name in enumerate(names, start=1))
        yield Question(
            key,
            f"Where was the tape held at the {end}?",
            f"{shown[:1].upper()}{shown[1:]}. These are the places that the parts named before "
            "have.",
            choice(key, {name: name for name in names}),
            beware="Not where it should have been held, but where it was. Another flange or yoke "
            "has other places: go back and name it.",
        )
    held = said.get(f"{_TAPE}.at_output")
    if held == "shaft end":
        yield Question(
            f"{_TAPE}.stick_out",
            "How far does the output shaft stand out of its seal?",
            "From the face of the seal to the end of the shaft: such as 1 3/8 in.",
            length(f"{_TAPE}.stick_out"),
        )
    if held in FROM_THE_SEAL:
        yield Question(
            f"{_TAPE}.seal_to_joint",
            "How far from the seal's face is the centre of the slip yoke's joint?",
            "At ride height, in its running position: such as 3 1/4 in.",
            length(f"{_TAPE}.seal_to_joint"),
            default="worked out from the yoke and what the slip still closes",
        )
    yield Question(
        f"{_TAPE}.reads",
        "What does the tape read?",
        "Straight between the two places, at ride height: such as 38 3/4 in.",
        length(f"{_TAPE}.reads"),
        beware="Not the level distance, and not hanging. A tape started at its 1 in mark reads "
        "1 in too much. With the slip on the output, in its running position.",
    )


def _datums(said: Said) -> tuple[list[str], list[str]]:
    """Places at the output and at the pinion that the parts told so far have."""
    shaft = sound_sections(assemble(said))[0].get("shaft")
    if shaft is None:  # while a part is still asked for; nobody is shown this
        return ["joint centre"], ["joint centre"]
    output, pinion = datums_at_hand(shaft, None)
    at_output: list[str] = [*output]
    if "output seal" in output:
        at_output.append("shaft end")
    return at_output, [*pinion]
