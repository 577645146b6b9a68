"""A built head: its three yokes, its crosses, and the joints they make."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from geometry.built import Built
from geometry.contact.joint_parts import JointParts
from geometry.cross import Cross
from geometry.yoke import Yoke


@dataclass(frozen=True, eq=False)
class HeadParts(Built):
    """The parts of a head, each in its own frame.

    carrying : the outer yoke with the ball. Its contact solid has the bridge and the stalk, but
        not the ball: that stays within the socket, which is larger.
    centre : the center yoke, in its yoke frame at either cross: its ends are alike.
    sliding : the outer yoke with the socket, which is solid in its contact mesh.
    cross : either of the two crosses.
    span : mm, between the crosses.
    ball : mm, from the carrying cross to the ball's centre.
    limit : rad, bend at which ball and socket run out of travel.
    dimensions : what the head was built from, mm; the yokes and the cross tell theirs.
    """

    name: str
    carrying: Yoke
    centre: Yoke
    sliding: Yoke
    cross: Cross
    span: float
    ball: float
    limit: float
    dimensions: Mapping[str, float]

    def joints(self, carrying_drives: bool) -> tuple[JointParts, JointParts]:
        """Return the joint at the driving outer yoke, then the one at the driven outer yoke.

        carrying_drives : whether the yoke with the ball is the one nearer the engine
        """
        outer = (self.carrying, self.sliding) if carrying_drives else (self.sliding, self.carrying)
        driving, driven = outer
        cross, centre = self.cross.contact, self.centre.contact
        return (
            JointParts(driving.contact, centre, cross),
            JointParts(centre, driven.contact, cross),
        )
