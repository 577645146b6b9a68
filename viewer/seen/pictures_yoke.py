"""Yoke, ears, seat and strap as the pictures of an inspection's words show them.

Each view is a function that builds its parts as the word needs them (a cap askew, an ear bent);
amounts are far larger than in a shop, so that they are seen in a small picture.
"""

from math import pi

import numpy as np

from geometry.mesh import Floats
from geometry.solids import cylinder
from viewer.scene.parts import PosedPart
from viewer.seen import pictures_parts as make
from viewer.seen.pictures_parts import CAP
from viewer.seen.pictures_places import View, about, eye, flat


def profile(spread: float = 0.0, bent: float = 0.0, bar: float | None = None) -> View:
    """A yoke square from the side, ears up; they lean out by `spread`, the right one by `bent`.

    spread, bent : mm a mm. bar : how far to the right a bar goes in its bores, mm; the yoke is cut
        open then. None without one.
    """

    def lean(vertices: Floats) -> Floats:
        up = np.maximum(24.0 - vertices[:, 0], 0.0)
        slope = np.where(vertices[:, 1] > 0.0, spread + bent, -spread)
        return np.asarray(
            vertices + np.stack([np.zeros_like(up), slope * up, np.zeros_like(up)], 1)
        )

    body = make.yoke("weld yoke").parts["body"]
    parts = []
    if bar is not None:
        body = make.without(body, make.box((-90, -90, 0), (90, 90, 90)))
        rod = cylinder("y", CAP - 1.0, -72.0, bar, "bar").mesh()
        parts.append(PosedPart("bar", "bolt", rod))
    return View(
        (PosedPart("yoke", "light steel", make.warped(body, lean)), *parts),
        eye((15, 0, 0), (0, 0, 1), (-1, 0, 0), 112.0),
        {"plane": flat((15, 0, 30), (0, 74.7, 0), (-56, 0, 0))},
    )


def ear(torn: bool = False) -> View:
    """An ear from outside, its bore empty; torn, it is open at its end."""
    body = make.yoke("weld yoke").parts["body"]
    if torn:
        body = make.without(body, make.box((-40, 10, -6), (-3, 70, 6)))
    return View(
        (PosedPart("yoke", "light steel", body),),
        eye((2, 40, 0), (-0.2, 1, 0.3), (-1, 0, 0), 66.0),
        {"face": flat((0, 48.5, 0), (0, 0, -22), (-22, 0, 0))},
    )


def tip() -> View:
    """The end of an ear, from outside."""
    body = make.yoke("weld yoke").parts["body"]
    return View(
        (PosedPart("yoke", "light steel", body),),
        eye((-10, 38, 2), (-0.85, 0.4, 0.45), (-1, 0, 0), 50.0),
        {"tip": about("y", (30.5, 48), 22.0, (160, 30))},
    )


def throat() -> View:
    """Into a yoke between its ears."""
    body = make.yoke("weld yoke").parts["body"]
    return View(
        (PosedPart("yoke", "light steel", body),),
        eye((14, 0, 0), (-0.8, 0.0, 0.75), (-1, 0, 0), 88.0),
        {"floor": flat((33, 0, 0), (0, 22, 0), (0, 0, -30))},
    )


def seat() -> View:
    """The half-round seat of one ear of a strap yoke, looked into from outside."""
    body = make.yoke("strap yoke").parts["body"]
    return View(
        (PosedPart("yoke", "grey steel", body),),
        eye((10, 42, 0), (-0.8, 0.62, 0.16), (-1, 0, 0), 46.0),
        {"seat": about("y", (31, 47.5), CAP, (-10, -170))},
    )


def strap(
    lift: float = 0.0, bolt: bool = True, long: float = 0.0, wave: float = 0.0, tab: bool = True
) -> View:
    """A cap under its strap on one ear of a strap yoke, from outside.

    lift, long, wave : mm by which the strap stands off with its bolts, is too long and is bent.
    bolt, tab : whether the bolt and the tab on the right are whole.
    """
    parts = make.yoke("strap yoke").parts

    def off(vertices: Floats) -> Floats:
        x, z = vertices[:, 0], vertices[:, 2]
        arch = np.cos(0.5 * pi * np.clip(z / 22.0, -1.0, 1.0))
        buckle = np.sin(pi * np.clip((z - 2.0) / 16.0, 0.0, 1.0))
        up = lift + long * arch + wave * buckle
        return vertices - np.stack([up, np.zeros_like(x), np.zeros_like(x)], 1)

    bolts = make.warped(parts["bolts"], lambda each: each - [lift, 0.0, 0.0])
    if not bolt:
        bolts = make.without(bolts, make.box((-90, 0, -90), (40, 90, 0)))
    shown = [
        PosedPart("yoke", "grey steel", parts["body"]),
        PosedPart("caps", "bright steel", parts["caps"]),
        PosedPart("straps", "strap", make.warped(parts["straps"], off)),
        PosedPart("bolts", "bolt", bolts),
    ]
    for side in (1.0, -1.0) if tab else (1.0,):
        ends = sorted((side * 9.5, side * 16.0))
        lug = make.box((-1, 46.2, ends[0]), (10, 51.5, ends[1]))
        shown.append(PosedPart(f"tab {side}", "grey steel", lug.mesh()))
    return View(
        tuple(shown),
        eye((2, 40, 0), (-0.62, 0.78, 0.1), (-1, 0, 0), 58.0),
        {
            "strap": about("y", (32, 45), CAP + 2.5, (170, 10)),
            "outer end": flat((0, 49, 0), (0, 0, -33), (-25, 0, 0)),
        },
    )
