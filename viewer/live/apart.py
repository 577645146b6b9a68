"""A joint taken apart on a stage: turned by hand, a part pointed out, marks on the metal.

What was seen and what was computed lie on the same parts. Seen is a diamond in a diamond; computed
is hatched metal that fades in over it. So they are told apart without colour.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from geometry.mesh import Mesh
from sim.frames import pose
from sim.marks import Mark
from viewer.draw.base import WHITE, Colour, Paint, Pen
from viewer.draw.camera import UP, Camera, Floats, framing
from viewer.draw.shading import sharp_edges
from viewer.draw.stage import Stage
from viewer.live.eye import orbited, panned, zoomed
from viewer.live.looks import EDGE, SIZE, Look
from viewer.live.marks import flat
from viewer.scene.apart import (
    Apart,
    Loose,
    Place,
    place_of,
    skin_told,
    spot_of,
    told_of,
    yoke_name,
)
from viewer.scene.figure import put_up
from viewer.scene.met import SEEN
from viewer.scene.met_patch import put_met
from viewer.scene.page import arrow
from viewer.scene.parts import MATERIALS
from viewer.scene.pressed_trunnion import TrunnionSkin, press_on
from viewer.why.follow import TrunnionTold
from viewer.words.apart import MET_FIRST, NOTHING_FOUND, SHAFT_WAY

TOWARD: Final = np.array([[-0.42, 0.80, 0.40], [-0.62, 0.64, 0.45]])
"""From where it is looked at first, the one that shows it larger: from either, every cap and both
throats are in sight."""

NAMED: Final = "name of "
"""Before the name of a part, the name of the words that say it."""

WAY, WAY_WORDS = "way of the shaft", "words on the way"

TINT: Final = 0.32
"""How dense the tint is over a part that is pointed out."""

ROUND: Final = 5.0
"""mm. Half of the diamond around a mark that was seen."""

_CORNERS = np.array([[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]])
DIAMOND: Final = np.stack([_CORNERS, np.roll(_CORNERS, -1, axis=0)], axis=1)
"""The shape of what was seen, as on paper, (4, 2, 2)."""

SMALL: Final = 0.1
"""What a patch on a part that came off a yoke counts, by its area, where one is named."""

MOST_CLEAR: Final = 10.0
"""mm around the middle of a patch that no words cover, at most."""

PROUD: Final = 0.6
"""mm. How far that stands off the metal."""


@dataclass(frozen=True)
class Picked:
    """What a click met: table and words of an inspection, and the place where it is on a yoke."""

    table: str
    words: str
    place: Place | None = None


Alone = Literal["shaft", "end", "cross"]
"""What can be looked at by itself: either yoke, or the cross."""


class LiveApart:
    """A joint taken apart, on a stage.

    Attributes
    ----------
    apart : what is shown; None before there is any. camera : the eye.
    chosen : table and words that are pointed out.
    alone : what is looked at with nothing else in sight; None for all that there is.
    is_moved : whether the eye is elsewhere than where it sees all.
    """

    def __init__(self, stage: Stage, look: Look) -> None:
        self._stage, self.look = stage, look
        self.apart: Apart | None = None
        self.camera = Camera(np.zeros(3), TOWARD[0], UP, 400.0)
        self.chosen = ("", "")
        self._said: dict[str, str] = {}
        self._up: list[str] = []
        self._tinted: list[str] = []
        self.alone: Alone | None = None
        self.is_moved = False
        self._marks: list[str] = []
        self._computed: list[str] = []
        self._marked: Sequence[tuple[Place, bool]] = ()
        self._met: Sequence[Mark] = ()
        self._pressed: Sequence[TrunnionTold] = ()
        self._faded = 0.0
        self.dress(look)

    def show(self, apart: Apart) -> None:
        """Show another joint, from where it is seen best."""
        self._clear()
        self.apart = apart
        for part in apart.parts:
            meshes = [(piece.in_part, MATERIALS[piece.material]) for piece in part.pieces]
            put_up(self._stage, part.name, meshes, part.X_CP, EDGE)
            self._up.append(part.name)
        self._show_way(apart)
        self._write()
        self.home()

    def home(self) -> None:
        """Look at all of it."""
        self.is_moved = False
        if self.apart is not None:
            # The tube goes on out of the picture, and the parts are the larger for it.
            own = [part.points for part in self.apart.parts if part.name != "tube"]
            points = np.concatenate([*own, self.apart.way])
            region = self._stage.region
            eyes = [framing(points, each, UP, region, 0.04, perspective=True) for each in TOWARD]
            self.camera = min(eyes, key=lambda eye: eye.span)
            self._stage.aim(self.camera)
        self._leave_alone(None)

    def dress(self, look: Look) -> None:
        """Take on another look."""
        self.look = look
        self._stage.backdrop(look.sky, look.floor)
        if self.apart is not None:
            self._show_way(self.apart)
            self._write()
            self.choose(*self.chosen)
            self.mark(self._marked)
            self._put_computed()

    # The eye

    def orbit(self, right: float, up: float) -> None:
        """Go round it, rad."""
        self._look(orbited(self.camera, right, up))

    def pan(self, right: float, up: float) -> None:
        """Move what is seen by shares of the view's height."""
        self._look(panned(self.camera, right, up))

    def zoom(self, factor: float) -> None:
        """Go nearer by a factor above 1."""
        self._look(zoomed(self.camera, factor))

    def look_into(self, what: Alone) -> None:
        """Look at one thing alone: into an open yoke, as a clock on it is read, or at the cross."""
        part = None if self.apart is None else self.apart.named(_stage_name(what))
        if part is None:
            return
        R, X = part.X_CP[:3, :3], part.X_CP
        if what == "cross":
            points = self.apart_points("cross", "trunnion")
            camera = framing(points, TOWARD[0], UP, self._stage.region, 0.12, perspective=True)
        else:
            toward = -R[:, 0] + 0.2 * R[:, 2]
            span = 2.6 * float(np.abs(part.pieces[0].in_part.bounds[:, 1]).max())
            camera = Camera(X[:3, 3], toward, R[:, 1], span)
        self._look(camera)
        self._leave_alone(what)

    def apart_points(self, *kinds: str) -> Floats:
        """Vertices of the parts of some kinds, (n, 3) mm in C."""
        parts = () if self.apart is None else self.apart.parts
        return np.concatenate([part.points for part in parts if part.name.startswith(kinds)])

    def _leave_alone(self, what: Alone | None) -> None:
        """Leave one thing in sight, or everything."""
        self.alone = what
        for name in dict.fromkeys([*self._up, *self._tinted]):
            self._stage.show(name, self._is_seen(name))
        self.mark(self._marked)
        self._put_computed()

    def _is_seen(self, name: str) -> bool:
        """Whether something of the stage is seen, be it that one thing is looked at alone.

        Its name then would only lie over its marks.
        """
        is_named = name.startswith(NAMED)
        return self.alone is None or (_is_of(name, self.alone) and not is_named)

    def _look(self, camera: Camera) -> None:
        self.camera, self.is_moved = camera, True
        self._stage.aim(camera)

    # What is under the mouse, and what is pointed out

    def pick(self, x: float, y: float) -> Picked | None:
        """What is seen at a place of the stage, px; None where no part is."""
        found, apart = self._stage.pick(x, y), self.apart
        if found is None or apart is None:
            return None
        part = apart.named(found.name)
        if part is None:
            return None
        return Picked(*told_of(part, found.point), place_of(apart, part, found.point))

    def choose(self, table: str, words: str) -> None:
        """Point out what an inspection tells of in one table, or of one kind of words there."""
        self.chosen = table, words
        for name in self._tinted:
            self._stage.remove(name)
        self._tinted = []
        for part, meshes, solid in self._meant(table, words):
            name = f"chosen {part.name}"
            self._tinted.append(name)
            for mesh in meshes:
                if solid:
                    # Over whatever lies before it: a part is pointed out wherever it is.
                    tint = Paint(self.look.accent, 0.1, TINT, glow=0.6)
                    self._stage.solid(name, mesh, tint, part.X_CP, on_top=True)
                pen = Pen(self.look.accent, 3.0)
                self._stage.lines(name, sharp_edges(mesh), pen, part.X_CP)
            self._stage.show(name, self._is_seen(name))

    def _meant(self, table: str, words: str) -> list[tuple[Loose, list[Mesh], bool]]:
        """Parts that are pointed out: of each its meshes, and whether more than their edges are.

        A whole yoke has only its edges drawn: a tint would hide the marks on it.
        """
        apart = self.apart
        if apart is None:
            return []
        skin = skin_told(apart, table, words)
        if skin is not None:
            return [(skin[0], [skin[1]], True)]
        own = [part for part in apart.parts if part.table == table]
        chosen = [part for part in own if words and part.words == words] or own
        return [(p, [piece.in_part for piece in p.pieces], bool(p.words)) for p in chosen]

    def say(self, said: Mapping[str, str]) -> None:
        """Write under the name of a part what was seen of it, by its table."""
        if dict(said) != self._said:
            self._said = dict(said)
            self._write()

    # Marks

    def mark(self, marks: Sequence[tuple[Place, bool]]) -> None:
        """Show marks that were seen; True for one that is meant just now."""
        self._marked = marks
        for name in self._marks:
            self._stage.remove(name)
        self._marks = []
        for number, (place, meant) in enumerate(marks, start=1):
            X = self._pose_of(place)
            if X is not None:
                self._put_seen(f"seen {number}", X, self.look.accent if meant else SEEN)

    def _pose_of(self, place: Place) -> Floats | None:
        """Where a mark is, (4, 4), with z the way out of the metal; None where it is not seen."""
        if self.apart is None:
            return None
        found = spot_of(self.apart.yokes[place.yoke], place.surface, place.clock)
        if found is None:
            return None
        part = self.apart.carrying(place.yoke, place.surface, found[0])
        is_seen = part is not None and self._is_seen(part.name)
        return part.X_CP @ _facing(*found) if part is not None and is_seen else None

    def _put_seen(self, name: str, X: Floats, colour: Colour) -> None:
        """Put up a mark that was seen, with its name."""
        self._marks.append(name)
        rim = np.concatenate([ROUND * flat(DIAMOND), 0.25 * ROUND * flat(DIAMOND)])
        for pen in (Pen(WHITE, 8.0), Pen(colour, 4.0)):
            self._stage.lines(name, rim, pen, X)
        # Thin over whatever lies before it: a mark may be on the far side.
        self._stage.lines(name, rim, Pen(colour, 1.5), X, on_top=True)
        letters, at = self.look.letters(SIZE, True), np.array([0.0, 1.6 * ROUND, 0.0])
        self._stage.words(name, name, at, letters, self.look.plate, ROUND)
        self._stage.move(name, X)

    def compute(self, marks: Sequence[Mark], trunnions: Sequence[TrunnionTold]) -> None:
        """Show where the metal meets and where it presses, as far as that is faded in."""
        before = [*self._met, *self._pressed]
        self._met, self._pressed = marks, trunnions
        after = [*marks, *trunnions]
        if list(map(id, before)) != list(map(id, after)):
            self._put_computed()

    def _put_computed(self) -> None:
        for name in self._computed:
            self._stage.remove(name)
        self._computed = []
        self._put_met(self._met)
        cross = None if self.apart is None else self.apart.named("cross")
        if cross is not None and self.alone in (None, "cross"):
            self._put_pressed(cross.X_CP)
        self.fade(self._faded)

    def _put_pressed(self, X_CX: Floats) -> None:
        """Put up the pressure on the trunnions, given the pose (4, 4) of their cross."""
        for each in self._pressed:
            name = f"pressed {each.cap}"
            self._computed.append(name)
            skin = TrunnionSkin(each.cap, each.at)
            press_on(self._stage, name, skin, each.map, each.corners, X_CX)

    def _put_met(self, marks: Sequence[Mark]) -> None:
        """Put up where the metal meets, on the parts that it is on; what meets first is named."""
        seen = [(mark, part) for mark in marks if (part := self._under(mark)) is not None]
        seen = [(mark, part) for mark, part in seen if self._is_seen(part.name)]
        first = max(
            (each for each in seen if each[0].comes_first),
            key=lambda each: self._shown(*each),
            default=None,
        )
        for number, (mark, part) in enumerate(seen):
            name, spot = f"met {number}", f"spot {number}"
            self._computed += [name, spot]
            put_met(self._stage, name, mark.patch, part.X_CP)
            is_named = first is not None and mark is first[0]
            text, letters = MET_FIRST if is_named else "", self.look.letters(SIZE, True)
            reach = min(_reach(mark), MOST_CLEAR)
            # Over its middle; told apart from the parts' names by a frame.
            at = np.array([0.0, 0.0, 2.0 * reach])
            plate = self.look.edged(self.look.ink)
            self._stage.words(spot, text, at, letters, plate, reach)
            at_middle = pose(np.eye(3), mark.patch.points.mean(axis=0))
            self._stage.move(spot, part.X_CP @ at_middle)

    def _shown(self, mark: Mark, part: Loose) -> float:
        """How much of a patch the eye sees, mm2; a small part that came off is made out worse."""
        facing = part.X_CP[:3, :3] @ mark.patch.facing
        toward = self.camera.toward / np.linalg.norm(self.camera.toward)
        seen = mark.patch.area * max(float(facing @ toward), 0.05)
        return seen if part.name.startswith("yoke") else SMALL * seen

    def _under(self, mark: Mark) -> Loose | None:
        """The part that a computed mark lies on."""
        if self.apart is None or mark.on == "center":
            return None
        if mark.on == "cross":
            return self.apart.named("cross")
        return self.apart.carrying(mark.on, mark.patch.surface, mark.patch.deepest)

    def fade(self, share: float) -> None:
        """Fade what was computed in over what was seen, 0 to 1."""
        self._faded = share
        for name in self._computed:
            self._stage.show(name, share > 0.02)
            self._stage.fade(name, share)

    # Inside

    def _write(self) -> None:
        """Name the parts, with what was seen of each."""
        if self.apart is None:
            return
        for part in self.apart.parts:
            if part.at is None:
                continue
            name, told = f"{NAMED}{part.name}", self._said.get(part.table, "")
            told = "" if told == NOTHING_FOUND else told  # the list beside tells that
            text = f"{part.title}\n{told}" if told else part.title
            plate = self.look.edged(self.look.accent) if told else self.look.plate
            self._stage.words(name, text, part.at, self.look.letters(SIZE, bool(told)), plate)
            self._stage.move(name, part.X_CP)
            self._up.append(name)

    def _show_way(self, apart: Apart) -> None:
        """An arrow along the shaft, away from the joint."""
        for name in (WAY, WAY_WORDS):
            self._stage.remove(name)
        start, end = apart.way
        along = end - start
        length = float(np.linalg.norm(along))
        x = along / length
        y = np.cross(UP, x)
        X = pose(np.stack([x, y, np.cross(x, y)], axis=1), 0.5 * (start + end))
        self._stage.solid(
            WAY, arrow(length, 0.5 * length, 3.0), Paint(self.look.ink, 0.0, glow=1.0), X
        )
        at = 0.5 * (start + end) - 0.4 * length * UP
        self._stage.words(WAY_WORDS, SHAFT_WAY, at, self.look.letters(SIZE), self.look.plate)
        self._up += [WAY, WAY_WORDS]

    def _clear(self) -> None:
        for name in dict.fromkeys([*self._up, *self._marks, *self._computed, *self._tinted]):
            self._stage.remove(name)
        self._up, self._marks, self._computed, self._tinted = [], [], [], []
        self._marked, self._met, self._pressed, self.chosen = (), (), (), ("", "")
        self.alone = None


def _reach(mark: Mark) -> float:
    """How far a patch goes from its middle, mm."""
    points = mark.patch.points
    return float(np.linalg.norm(points - points.mean(axis=0), axis=1).max())


def _stage_name(what: Alone) -> str:
    return "cross" if what == "cross" else yoke_name(what)


def _is_of(name: str, what: Alone) -> bool:
    """Whether something of the stage is seen where one thing is looked at alone."""
    own = name.removeprefix("chosen ")
    if what == "cross":
        return own.startswith(("cross", "trunnion", "fitting"))
    return own == yoke_name(what)


def _facing(at: Floats, out: Floats) -> Floats:
    """Pose (4, 4) at a place, a little off the metal, with z the way out of it."""
    aside = np.cross(out, [1.0, 0.0, 0.0] if abs(out[0]) < 0.9 else [0.0, 1.0, 0.0])
    aside = aside / np.linalg.norm(aside)
    R = np.stack([aside, np.cross(out, aside), out], axis=1)
    return pose(R, at + PROUD * out)
