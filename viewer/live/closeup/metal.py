"""How cut metal looks in the close-up: each body its own colour, slant and pitch of hatching."""

from dataclasses import dataclass
from math import radians

import numpy as np

from viewer.draw.base import BLACK, WHITE, Colour, Pen
from viewer.draw.camera import Camera, Floats, Region
from viewer.draw.stage import Page
from viewer.draw.verdict_mark import RED
from viewer.live.closeup.meeting import Meeting
from viewer.scene.closeup import clip_strips, skin_on_page
from viewer.scene.parts import PosedPart
from viewer.scene.section import clipped, filled_common, hatch_common, kept_within


@dataclass(frozen=True)
class Dress:
    """The look of cut metal: its colour, and slant (rad) and pitch (px) of its hatching."""

    colour: Colour
    slant: float
    pitch: float


YOKES = (
    Dress((0.72, 0.83, 0.94), radians(45.0), 13.0),
    Dress((1.0, 0.90, 0.82), radians(-45.0), 8.0),
    Dress((0.86, 0.82, 0.93), radians(20.0), 11.0),
    Dress((0.80, 0.92, 0.86), radians(-20.0), 9.0),
)
"""Of the yokes, as they come from the engine on."""

CENTRE = Dress((0.83, 0.91, 0.78), radians(90.0), 7.0)
"""Of a cross."""

PIECES = {
    "bolts": Dress((0.90, 0.77, 0.38), radians(0.0), 4.0),
    "nut": Dress((0.90, 0.77, 0.38), radians(0.0), 4.0),
    "straps": Dress((0.99, 0.96, 0.78), radians(-60.0), 5.0),
    "caps": Dress((0.93, 0.93, 0.90), radians(60.0), 6.0),
    "seals": Dress((0.40, 0.40, 0.42), radians(90.0), 3.0),
    "snap rings": Dress((0.45, 0.45, 0.47), radians(0.0), 3.0),
    "seal guard": Dress((0.80, 0.80, 0.80), radians(70.0), 8.0),
    "seal housing": Dress((0.70, 0.70, 0.72), radians(-70.0), 8.0),
    "mating flange": Dress((0.75, 0.77, 0.79), radians(-30.0), 10.0),
    "grease fitting": Dress((0.93, 0.80, 0.50), radians(0.0), 5.0),
}
"""Of what is bolted on or pressed in: bolts and straps plated yellow, as in the shaft's picture."""

_LINE: Colour = (0.30, 0.30, 0.32)

NOTHING = np.empty((0, 2, 2))
"""No segments."""

FINE = 2.0
"""px. Height of the strips that metal is filled with; its edge is broader and hides their ends."""


@dataclass(frozen=True, eq=False)
class Cut:
    """Where the plane of the picture cuts bodies, segments (n, 2, 2) px of the page.

    bodies : what can touch, by name, with its dress. pieces : what of it is another piece, by the
    names of both. both : the two that meet; None where one of them is not cut.
    """

    bodies: dict[str, tuple[Floats, Dress]]
    pieces: dict[tuple[str, str], tuple[Floats, Dress]]
    both: tuple[Floats, Floats] | None

    def of(self, body: str, surface: str) -> tuple[Floats, Dress]:
        """The metal that has a surface: a piece of that name, else the whole body."""
        for piece in (surface, f"{surface}s"):
            skin, dress = self.pieces.get((body, piece), (NOTHING, CENTRE))
            if len(skin):
                return skin, dress
        return self.bodies[body]


def cut_open(meeting: Meeting, camera: Camera, region: Region) -> Cut:
    """Cut all bodies by the plane through the focus that is square to the eye."""
    bodies: dict[str, tuple[Floats, Dress]] = {}
    pieces: dict[tuple[str, str], tuple[Floats, Dress]] = {}
    yokes = iter(YOKES)
    for key, body in meeting.bodies.items():
        dress = CENTRE if key.endswith("cross") else next(yokes)
        skin = _in_sight(skin_on_page(body.solid, camera, region), region)
        bodies[key] = skin, dress
        for name, mesh in body.part.parts.items():
            if name in PIECES:
                part = PosedPart(key, "grey steel", mesh, body.X_CP)
                skin = _in_sight(skin_on_page(part, camera, region), region)
                pieces[key, name] = skin, PIECES[name]
    first, second = (bodies[key][0] for key in meeting.pair)
    return Cut(bodies, pieces, (first, second) if len(first) and len(second) else None)


def _in_sight(skin: Floats, region: Region) -> Floats:
    """Segments without those of bodies that lie altogether beside the picture."""
    return skin if len(clipped(skin, *region.corners)) else NOTHING


def lay_metal(page: Page, cut: Cut) -> None:
    """Draw all that is cut."""
    for skin, dress in (*cut.bodies.values(), *cut.pieces.values()):
        metal(page, skin, page.region, dress)


def metal(page: Page, skin: Floats, box: Region, dress: Dress) -> None:
    """Fill, hatch and edge what closed segments (n, 2, 2) px go around, within a box."""
    if not len(skin):
        return
    near = box.corners
    strips = filled_common((skin,), FINE, near)
    page.area(clip_strips(strips, box), dress.colour)
    lines = clipped(hatch_common((skin,), dress.slant, dress.pitch, near), *near)
    page.stroke(lines, Pen(_LINE, 1.3))
    page.stroke(clipped(skin, *box.corners), Pen(BLACK, 2.6))


def overlap_of(cut: Cut) -> Floats:
    """Rim, (n, 2, 2) px, of what the two that meet have in common; none where nothing is."""
    if cut.both is None:
        return NOTHING
    one, other = cut.both
    return np.concatenate([kept_within(one, other), kept_within(other, one)])


def lay_overlap(page: Page, cut: Cut, rim: Floats) -> None:
    """Draw the metal in metal: red, hatched both ways, its edge white in black.

    The edge lies outside of it, so that also a thin one is seen.
    """
    if cut.both is None or not len(rim):
        return
    box = page.region
    low, high = box.corners
    rim = clipped(rim, low, high)
    page.stroke(rim, Pen(BLACK, 13.0))
    page.stroke(rim, Pen(WHITE, 8.0))
    page.area(clip_strips(filled_common(cut.both, 1.0, box.corners), box), RED)
    page.stroke(rim, Pen(RED, 1.6))
    for slant in (radians(45.0), radians(-45.0)):
        page.stroke(
            clipped(hatch_common(cut.both, slant, 7.0, box.corners), low, high), Pen(WHITE, 1.5)
        )
