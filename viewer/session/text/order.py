"""What a worker is given: a rig, so that it can be computed elsewhere."""

from dataclasses import dataclass
from pathlib import Path

from sim.vehicle import Joint
from viewer.vibration.asked import Asked


@dataclass(frozen=True)
class Order:
    """A rig to work on: the text of its file, what that is called, the folder of its own files.

    without : codes of remedies that are not to be tried, where cures are asked for.
    shake : what is said of a shake, where its cause is asked for.
    seen : the text of an inspection, where it is asked why a joint failed.
    joint : the joint whose bench readings are asked about. reading : the way of one and the yoke
        that is clamped, where its drawing is asked for.
    """

    text: str
    name: str
    folder: Path
    without: tuple[str, ...] = ()
    shake: Asked | None = None
    seen: str = ""
    joint: Joint = "pinion"
    reading: tuple[str, str] = ("", "")
