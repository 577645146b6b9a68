"""An outer yoke of a head: a plain yoke with a bridge, and what the bridge carries."""

from __future__ import annotations

from dataclasses import dataclass, replace

from geometry.built import built
from geometry.head.bridge import Bridge
from geometry.head.centring import Ball, Socket
from geometry.solids import Solid
from geometry.yoke.base import Yoke
from geometry.yoke.round_ear import RoundEarShape


@dataclass(frozen=True)
class OuterYoke:
    """What an outer yoke is built from.

    plain : the yoke as it would be without.
    bridge : the bar across its ears.
    carries : what stands on the middle of the bar.
    """

    plain: RoundEarShape
    bridge: Bridge
    carries: Ball | Socket

    @property
    def name(self) -> str:
        """Name of the plain yoke."""
        return self.plain.name

    @property
    def kind(self) -> str:
        """Kind of the plain yoke."""
        return self.plain.kind

    @property
    def tube_from(self) -> float | None:
        """From the cross centre to where a tube butts against it, mm; None without a tube."""
        return self.plain.tube_from

    def build(self) -> Yoke:
        """Return the yoke with its contact solid and its parts to show."""
        plain, bar = built(self.plain), self.bridge.bar(self.plain)
        contact = Solid.union([Solid.from_mesh(plain.contact), bar, self.carries.outside()])
        body = self.carries.hollowed(Solid.union([Solid.from_mesh(plain.parts["body"]), bar]))
        parts = {**plain.parts, "body": body.mirrored_mesh(), **self.carries.shown()}
        return replace(plain, contact=contact.mirrored_mesh(), parts=parts)
