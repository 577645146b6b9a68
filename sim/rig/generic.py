"""Which parts of a joint nobody named, so that generic ones stand in for them."""

from __future__ import annotations

from dataclasses import dataclass

from sim.front_section import Joint
from sim.rig.rig import Rig
from sim.rig.typed_joints import typed_joint


@dataclass(frozen=True)
class GenericParts:
    """Parts of a joint that stand in for what nobody named.

    Attributes
    ----------
    cross : size of the cross; None where it was named.
    head : kind of the double-Cardan head; None where it was named or there is none.
    yokes : kinds of the yokes that were not named, from the engine on.
    """

    cross: str | None = None
    head: str | None = None
    yokes: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        """Whether anything of the joint is generic in place of a named part."""
        return bool(self.cross or self.head or self.yokes)


def generic_parts(rig: Rig, joint: Joint) -> GenericParts:
    """What nobody named of a joint of a rig."""
    end, assumed = typed_joint(rig, joint), {each.key for each in rig.assumed}
    head = getattr(end.typed, "head", None)
    return GenericParts(
        cross=end.cross.name if f"{end.table}.cross" in assumed else None,
        head=head.name if head is not None and f"{end.table}.head" in assumed else None,
        yokes=tuple(yoke.name for key, yoke in end.yokes.items() if key in assumed),
    )
