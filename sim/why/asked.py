"""What the rig says of what was seen: where marks must be, what it gets, how its caps sit.

These follow from the inspection as well, and are asked again when it changes; the marks themselves
are the rig's and are found once.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from sim.bearing.needles import STATIC_PRESSURE
from sim.cocked import Cocked
from sim.cocked import cocked as caps_of
from sim.marks import Marks, Overlap, SeenMark, overlap
from sim.overload import Overload, how_failed
from sim.overload import overload as overload_of
from sim.remark import Remark
from sim.seen import Inspection, clock_angle, signs_of
from sim.seen.words import YOKES, YokeName
from sim.why.case import Case
from sim.why.evidence import Computed

TELLS: Final = 2.0
"""Times likelier, or less likely, that marks lie as they do for metal met where it is computed,
from which that says something (judgement)."""

_MET: Final = frozenset({"half-moon", "dent", "burr"})
"""What metal that met leaves on a yoke."""


@dataclass(frozen=True, eq=False)
class Asked:
    """What the rig says of what was seen on one of its joints.

    Attributes
    ----------
    marks : where metal meets; None where the yokes never do, at any bend.
    reached : whether the axle bends the joint so far that it meets.
    lie : how the marks that were seen lie to those; None where none was seen.
    overload : what it gets against what it takes.
    cocked : how its caps sit, and what that does.
    both : whether marks were seen on ear tips and in a throat: of two yokes that met, each has its
        own.
    """

    marks: Marks | None
    reached: bool
    lie: Overlap | None
    overload: Overload
    cocked: Cocked
    both: bool = False

    @property
    def signs(self) -> tuple[Computed, ...]:
        """What comes out yes or no."""
        return (*self._marks(), *self._overload(), *self._cocked())

    def _marks(self) -> Iterator[Computed]:
        """Marks that lie where metal meets, or elsewhere; in between they say nothing."""
        if self.marks is None or self.lie is None:
            return
        times, there = self.lie.ratio, self.lie.ratio > 1.0
        if 1.0 / TELLS < times < TELLS:
            return
        why = (
            Remark("why-marks-there", times=times, bend=self.marks.touch, reached=self.reached)
            if there
            else Remark("why-marks-elsewhere", times=1.0 / times)
        )
        # That it met where it never bends to asks for a second witness.
        if self.reached or self.both or not there:
            yield Computed("marks-where-computed", there, why)
        yield Computed("marks-elsewhere", not there, why)

    def _overload(self) -> Iterator[Computed]:
        for code, (says, why) in self.overload.signs.items():
            yield Computed(code, says, why)

    def _cocked(self) -> Iterator[Computed]:
        evidence = self.cocked.evidence
        name = self.cocked.worst
        worst = self.cocked.caps[name]
        tilt = max(cap.seat.tipped for cap in self.cocked.caps.values())
        axis = next(each for each in self.cocked.axes.values() if worst in each.caps)
        if "cap-cocked" in evidence:
            crooked = evidence["cap-cocked"]
            why = (
                Remark(
                    "why-cocked",
                    cap=name,
                    tilt=worst.seat.tipped,
                    times=worst.corner_ratio / worst.straight_ratio,
                    life=worst.life_ratio,
                    both=axis.in_the_yoke,
                    alone=self.cocked.worn_axis == axis.yoke,
                )
                if crooked
                else Remark("why-caps-straight", tilt=tilt)
            )
            yield Computed("cap-cocked", crooked, why)
        if "corner-dents" in evidence:
            hard = max(cap.hard_mpa for cap in self.cocked.caps.values())
            why = Remark("why-corner-pressure", gets=hard, most=STATIC_PRESSURE)
            yield Computed("corner-dents", evidence["corner-dents"], why)
        if "slip-thrust-dents" in evidence:
            pushed = self.cocked.thrust
            why = Remark(
                "why-thrust", force=pushed.force, gets=pushed.faces_mpa, most=STATIC_PRESSURE
            )
            yield Computed("slip-thrust-dents", evidence["slip-thrust-dents"], why)


def ask(case: Case, inspection: Inspection) -> Asked:
    """Ask the rig everything that follows from what was seen.

    Raises SeatError for readings that no cap can have.
    """
    seen, signs = tuple(marks_seen(inspection)), signs_of(inspection, case.rig)
    marks = case.marks
    return Asked(
        marks=marks,
        reached=not case.at_joint.margin > 0.0,
        lie=overlap(seen, marks) if marks is not None and seen else None,
        overload=overload_of(case.found, case.joint, how_failed(inspection)),
        cocked=caps_of(case.rig, case.joint, inspection),
        both=bool(signs.get("half-moons") and signs.get("throat-dents")),
    )


def marks_seen(inspection: Inspection) -> Iterator[SeenMark]:
    """Every mark with its place; of a yoke without any, the surfaces with something on them."""
    placed: set[YokeName] = set()
    for mark in inspection.marks or ():
        placed.add(mark.yoke)
        yield SeenMark(
            mark.yoke,
            mark.surface,
            clock_angle(mark.clock),
            None if mark.depth is None else mark.depth.mm,
            mark.pair,
        )
    for name in YOKES:
        yoke = inspection.yoke(name)
        for surface, words in (("ear tip", yoke.tips), ("throat", yoke.throat)):
            if name not in placed and not _MET.isdisjoint(words or ()):
                yield SeenMark(name, surface)
