"""Numbers as the program itself types them into a rig file: inches and degrees to four places."""

from math import degrees

from sim.frames import FloatArray


def typed_length(mm: float) -> str:
    """A length as the program writes it into a rig: inches to four places, 2.5 micrometres."""
    return f"{_plain(mm / 25.4)} in"


def typed_angle(rad: float) -> str:
    """An angle as the program writes it into a rig: degrees to four places."""
    return f"{_plain(degrees(rad))} deg"


def _plain(number: float) -> str:
    """Four places, without the zeros that say nothing."""
    text = f"{number:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def typed_point(point: FloatArray) -> list[str]:
    """A point as the program writes it into a rig."""
    return [typed_length(float(value)) for value in point]
