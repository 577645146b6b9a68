"""What a finding says: a whole sentence, and two short lines for where there is little room."""

from dataclasses import dataclass

from sim.findings import Finding
from sim.travel.what_it_takes import Takes, WhatItTakes
from sim.vehicle import Pose
from viewer.words.poses import LEVEL, pose_words, travel_words, ways
from viewer.words.units import format_fraction


@dataclass(frozen=True)
class Told:
    """One finding in words; every kind of finding has all of them.

    Attributes
    ----------
    long : the sentence.
    short : what is found and where.
    rest : by how much, and how the axle stands there.
    """

    long: str
    short: str
    rest: str


def takes(finding: Finding, does: str, first: Pose | None = None) -> str:
    """What the axle has to do for it, as a sentence with a space before it; may be empty.

    first : the first pose at which it does it, where that was told already.
    """
    found: WhatItTakes | None = finding.detail.get("takes")
    if found is None or found.takes == "ride height":
        return ""
    never = _NEVER.get(found.takes)
    if never is not None or found.level is None:
        return f" {never} {does}."
    enough = f" Both wheels {'hanging' if found.takes == 'both hanging' else 'up'} is enough"
    if first is not None and abs(first.roll) <= LEVEL and abs(first.wrap) <= LEVEL:
        return f"{enough}."
    return f"{enough}: level and without wrap it {does} at {travel_words(found.level.travel)}."


_NEVER: dict[Takes, str] = {
    "crossed up": "It takes crossing up: level, it never",
    "wrap": "It takes axle wrap: without wrap it never",
    "crossed up or wrap": "It takes crossing up or axle wrap: level and without wrap it never",
    "crossed up and wrap": "It takes crossing up and axle wrap together: either alone it never",
}


def row(finding: Finding, *parts: str) -> str:
    """A short line, with how the axle stands besides its height."""
    return ", ".join([*parts, *ways(pose_of(finding))])


def pose_of(finding: Finding) -> Pose:
    """The pose that a finding is of; ride height where it names none."""
    return finding.at or Pose()


def whole_pose(finding: Finding) -> str:
    """That pose in words."""
    return pose_words(pose_of(finding))


def height(finding: Finding) -> str:
    """The height of the axle in that pose."""
    return travel_words(pose_of(finding).travel)


def small(mm: float) -> str:
    """A room as a tape shows it, or in decimals where a tape shows nothing."""
    shown = format_fraction(mm)
    return f"{mm / 25.4:.3f} in" if shown == "0 in" else shown
