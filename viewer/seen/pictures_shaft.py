"""Slip, tube and ball as the pictures of an inspection's words show them.

Each view is a function that builds its parts as the word needs them (a cap askew, an ear bent);
amounts are far larger than in a shop, so that they are seen in a small picture.
"""

from math import pi

import numpy as np

from geometry.mesh import Floats
from geometry.solids import Solid, cylinder, turned
from viewer.scene.parts import PosedPart
from viewer.seen import pictures_parts as make
from viewer.seen.pictures_parts import TUBE
from viewer.seen.pictures_places import View, about, eye, flat


def slip(
    apart: float = 8.0, twist: float = 0.0, opened: bool = False, broken: bool = False
) -> View:  # fmt: skip
    """The stub on the left and its sleeve on the right, `apart` mm; less than nothing is in it.

    twist : of the stub's teeth, rad. opened : the sleeve is cut open. broken : the stub's neck is.
    """
    sleeve = make.sleeve()
    if opened:
        sleeve = sleeve.cut(make.box((-90, -90, 0), (90, 90, 90)))
    stub = [PosedPart("stub", "bright steel", make.stub(twist), make.moved((-apart, 0, 0)))]
    if broken:
        body, gap = make.stub(), -40.0
        near = make.without(body, make.box((gap, -90, -90), (90, 90, 90)))
        far = make.without(body, make.box((-120, -90, -90), (gap, 90, 90)))
        stub = [
            PosedPart("near", "bright steel", near, make.moved((-16, 0, 0))),
            PosedPart("far", "bright steel", far, make.moved((0, -4, 0), "z", 0.06)),
        ]
    toward = (0, -0.3, 1) if opened else (0, -0.6, 0.9)
    return View(
        (*stub, PosedPart("sleeve", "dark steel", sleeve.mesh())),
        eye((8 if opened else -14, 0, 0), toward, (0, 1, 0.5), 86.0),
        {
            "teeth": about("x", (-70 - apart, -apart), 22.0, (-85, 30)),
            "plane": flat((-14, 0, 25), (57.3, 0, 0), (0, 43, 0)),
        },
    )


def teeth() -> View:
    """Worn teeth of the stub in those of the sleeve, cut across."""
    away = make.box((15, -90, -90), (90, 90, 90))
    sleeve = make.sleeve().cut(away).mesh()
    stub = make.without(make.stub(thin=0.45), away)
    return View(
        (
            PosedPart("sleeve", "dark steel", sleeve),
            PosedPart("stub", "bright steel", stub, make.moved((14.6, 0, 0), "x", 0.06)),
        ),
        eye((15, -6, 0), (1, 0, 0), (0, 0, 1), 62.0),
        {},
    )


def pipe(warp: str = "", split: bool = False) -> View:
    """A piece of tube with the weld yoke on its left end; split, or dented, bent, wrinkled."""
    tube = make.tube(62.0, 230.0)
    if warp:
        tube = make.warped(tube, _WARPS[warp])
    bead = [[54.0, 30.0], [66.0, 30.0], [63.0, 40.5], [57.0, 40.5]]
    parts = [
        PosedPart("yoke", "grey steel", make.yoke("weld yoke").parts["body"]),
        PosedPart("weld", "cast iron", turned(bead, "x", "weld", hole=True).mesh()),
        PosedPart("tube", "light steel", tube),
    ]
    if split:
        near = make.without(tube, make.box((134, -90, -90), (300, 90, 90)))
        far = make.without(tube, make.box((0, -90, -90), (134, 90, 90)))
        parts[2:] = [
            PosedPart("tube", "light steel", near),
            PosedPart("end", "light steel", far, make.moved((14, 0, -6), "y", 0.06)),
        ]
    return View(
        tuple(parts),
        eye((118, 0, 0), (0.0, -0.5, 1), (0, 1, 0.5), 132.0),
        {
            "tube": about("x", (66, 206), TUBE, (-88, 32)),
            "weld": about("x", (54, 67), TUBE + 2.5, (-88, 32)),
            "plane": flat((118, 0, 45), (88, 0, 0), (0, 66, 0)),
        },
    )


def stud(broken: bool = False, size: float = 9.0) -> View:
    """The ball on its stalk in its socket, cut open, from the side; broken, it hangs in it.

    size : radius of the ball, mm.
    """
    stalk, base = (
        cylinder("x", 5.0, -34.0, 0.0, "stalk"),
        cylinder("x", 16.0, -42.0, -33.0, "bridge"),
    )
    ball = _ball(size)
    parts = [
        PosedPart("stalk", "grey steel", Solid.union([stalk, base]).mesh()),
        PosedPart("ball", "bright steel", ball.mesh()),
    ]
    if broken:
        far = Solid.union([cylinder("x", 5.0, -15.0, 0.0, "stalk"), ball])
        near = Solid.union([cylinder("x", 5.0, -34.0, -25.0, "stalk"), base])
        parts = [
            PosedPart("stalk", "grey steel", near.mesh()),
            PosedPart("ball", "bright steel", far.mesh(), make.moved((2, 0, 0), "z", -0.12)),
        ]
    outside = cylinder("x", 16.0, -10.0, 44.0, "socket").cut(
        cylinder("x", 9.6, -11.0, 36.0, "bore")
    )
    half = outside.cut(make.box((-90, -90, 0), (90, 90, 90)))
    return View(
        (*parts, PosedPart("socket", "dark steel", half.mesh())),
        eye((1, 0, 0), (0, -0.12, 1), (0, 1, 0), 66.0),
        {"plane": flat((1, 0, 10), (44, 0, 0), (0, 33, 0))},
    )


def _ball(radius: float) -> Solid:
    turn = np.linspace(0.0, pi, 25)
    rim = np.stack([radius * np.cos(turn), radius * np.sin(turn)], 1)
    rim[[0, -1], 1] = 0.0
    return turned(rim, "x", "ball")


def _dent(vertices: Floats) -> Floats:
    away = vertices - [140.0, -20.0, 32.0]
    deep = 24.0 * np.exp(
        -((away[:, 0] / 20.0) ** 2) - (away[:, 1] / 18.0) ** 2 - (away[:, 2] / 18.0) ** 2
    )
    return np.asarray(vertices + deep[:, None] * np.array([0.0, 0.53, -0.85]))


def _bend(vertices: Floats) -> Floats:
    far = np.maximum(vertices[:, 0] - 120.0, 0.0)
    return np.asarray(
        vertices + np.stack([np.zeros_like(far), -0.0025 * far**2, np.zeros_like(far)], 1)
    )


def _wrinkle(vertices: Floats) -> Floats:
    turn = np.arctan2(vertices[:, 2], vertices[:, 1])
    x = vertices[:, 0]
    wave = 5.0 * np.sin((x - 140.0) / 6.0 + 2.0 * turn) * np.exp(-(((x - 145.0) / 24.0) ** 2))
    size = 1.0 + (wave - 6.0 * np.exp(-(((x - 145.0) / 20.0) ** 2))) / TUBE
    return vertices * np.stack([np.ones_like(x), size, size], 1)


_WARPS = {"dent": _dent, "bend": _bend, "wrinkle": _wrinkle}
