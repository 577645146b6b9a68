"""Verbs that agree with what they are said of."""

from sim.around.outline import EARS, TUBES


def agreeing(part: str, one: str, several: str) -> str:
    """The verb that goes with a part: ears and axle tubes are several, all else is one."""
    return several if part.lower().removeprefix("shaft's ").startswith((EARS, TUBES)) else one
