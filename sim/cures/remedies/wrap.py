"""Less wrap: a bar that keeps the housing from turning."""

from collections.abc import Sequence
from math import radians
from typing import Any

from sim.cures.effects import TRAVEL
from sim.cures.remedy import Case, Dose, Remedy
from sim.derive import vehicle_of
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.change import changed
from sim.rig.drive import DriveTable
from sim.table.typed import typed_angle

LEFT = radians(1.0)
"""Wrap that is left with a bar and sound bushes; 0.5 to 2 deg, common practice, no source."""


class AntiWrapBar(Remedy):
    """A bar from the housing to a shackle or swivel on the frame."""

    code = "anti-wrap-bar"
    effect = TRAVEL
    builds = frozenset({"travel.nose_up", "travel.nose_down"})

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """One bar, where there is wrap to hold and no links that hold it."""
        if rig.suspension.has_links:
            return ()
        box = vehicle_of(rig).travel
        wrap = max(box.nose_up, box.nose_down)
        return ((Dose(1.0),),) if wrap > LEFT + 1e-9 else ()

    def applied(self, rig: Rig, dose: Dose) -> Rig:  # noqa: ARG002  a bar is a bar
        """At most a degree of wrap either way."""
        box = vehicle_of(rig).travel
        values = {
            f"travel.{way}": typed_angle(min(LEFT, getattr(box, way)))
            for way in ("nose_up", "nose_down")
        }
        return changed(rig, values | _drive_kept(rig))

    def says(self, case: Case) -> Remark:  # noqa: ARG002  the same bar everywhere
        """What the bar holds."""
        return Remark("anti-wrap-bar", leaves=LEFT)

    def costs(self, case: Case) -> tuple[Remark, ...]:  # noqa: ARG002  the same bar everywhere
        """What a bar can do that nobody wants."""
        return (Remark("bar-can-jack"),)


def _drive_kept(rig: Rig) -> dict[str, Any]:
    """What a [wrap] table says of the drive, for [drive]: the table gives way to degrees."""
    if rig.wrap is None:
        return {}
    typed = rig.typed()
    had = typed.get("drive", {})
    return {
        f"drive.{key}": value
        for key, value in typed["wrap"].get("drive", {}).items()
        if key in DriveTable.model_fields and key not in had
    }
