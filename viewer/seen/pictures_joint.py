"""Cross, trunnion, cap and needles as the pictures of an inspection's words show them.

Each view is a function that builds its parts as the word needs them (a cap askew, an ear bent);
amounts are far larger than in a shop, so that they are seen in a small picture.
"""

from math import pi, sqrt

import numpy as np

from geometry.mesh import Floats, Mesh
from geometry.solids import cylinder, turned
from viewer.scene.parts import LOOKS, PosedPart
from viewer.seen import pictures_parts as make
from viewer.seen.pictures_parts import CAP, CROSS, END, HUB, MOUTH, SPAN, TRUNNION
from viewer.seen.pictures_places import View, about, eye, flat


def trunnion(gone: bool = False, end: bool = False) -> View:
    """One arm of the cross to the right; its flank on top takes the torque, its front is below.

    gone : it is broken off. end : seen from its end.
    """
    body = make.cross().parts["cross"]
    parts = [PosedPart("cross", "grey steel", body)]
    if gone:
        parts = _broken(body, HUB + 3.0, make.moved((3, 9, -4), "z", 0.14))
    return View(
        tuple(parts),
        eye((0, 31, 0), (-0.4, 1.1, 0.55) if end else (-0.55, 0.4, 0.75), (-1, 0, 0), 36.0),
        {
            "side": about("y", (HUB + 1.5, END - 1), TRUNNION, (-45, 125)),
            "flank": about("y", (HUB + 1.5, END - 1), TRUNNION, (62, 122)),
            "front": about("y", (HUB + 1.5, END - 1), TRUNNION, (-38, 20)),
            "end": flat((0, END, 0), (0, 0, TRUNNION), (-TRUNNION, 0, 0)),
            "stump": flat((0, HUB + 3, 0), (0, 0, TRUNNION), (-TRUNNION, 0, 0)),
        },
    )


def mouth(missing: tuple[int, ...] = (), short: tuple[int, ...] = (), size: float = 1.0) -> View:
    """A cap from inside: its needles round the wall, some missing or broken short; `size` thick."""
    whole = [k for k in range(make.NEEDLES) if k not in (*missing, *short)]
    parts = [
        PosedPart("cap", "light steel", make.cap().mesh()),
        PosedPart("needles", "bright steel", make.needles(whole, size=size * make.NEEDLE)),
    ]
    if short:
        parts.append(PosedPart("short", "chips", make.needles(short, low=9.0)))
    return View(
        tuple(parts),
        eye((4, MOUTH + 3, 0), (0.1, -0.9, 0.5), (0, 0.3, 1), 42.0),
        {"mouth": flat((0, MOUTH, 0), (-CAP, 0, 0), (0, 0, CAP))},
    )


def capped(seal: bool = True) -> View:
    """One arm of the cross to the right with its cap on."""
    parts = [
        PosedPart("cross", "grey steel", make.cross().parts["cross"]),
        PosedPart("cap", "bright steel", make.cap().mesh()),
    ]
    if seal:
        parts.append(PosedPart("seal", "rubber", make.cross().parts["seals"]))
    return View(
        tuple(parts),
        eye((0, 31, 0), (-0.55, 0.55, 0.62), (-1, 0, 0), 44.0),
        {
            "side": about("y", (MOUTH + 0.5, SPAN - 1), CAP, (-45, 125)),
            "bottom": flat((0, SPAN, 0), (0, 0, 13), (-13, 0, 0)),
            "seal": about("y", (HUB - 0.5, MOUTH + 2.5), CAP, (-45, 125)),
        },
    )


def four() -> View:
    """The whole cross with four caps, square from the front."""
    cap = make.cap().mesh()
    caps = [
        PosedPart(f"cap {k}", "bright steel", cap, make.moved((0, 0, 0), "z", k * pi / 2))
        for k in range(4)
    ]
    body = make.cross().parts
    cross = [PosedPart(name, LOOKS[name], mesh) for name, mesh in body.items()]
    return View((*cross, *caps), eye((0, 0, 0), (0.1, -0.1, 1), (1, 1, 0), 92.0), {})


def section(tilt: float = 0.0, out: float = 0.0, clip: float | None = 0.0) -> View:
    """A cap in its ear, cut open along the bore; the outside of the yoke is to the right.

    tilt : rad. out : mm. clip : mm from the cap's bottom to its clip; None without one.
    """
    body = make.without(
        make.yoke("weld yoke").parts["body"],
        make.box((-90, -90, 0), (90, 90, 90)), make.box((20, -90, -90), (90, 90, 90)),
        make.box((-90, -90, -90), (90, 20, 90)),
    )  # fmt: skip
    upper = make.box((-90, -90, 0), (90, 90, 90))
    middle = np.array([0.0, SPAN - 0.5 * CROSS.cap_length, 0.0])
    pose = make.moved((0, 0, 0.6), "z", tilt)
    pose[:3, 3] += middle - pose[:3, :3] @ middle
    pose[1, 3] += out
    cut = range(make.NEEDLES // 4, 3 * make.NEEDLES // 4 + 2)
    parts = [
        PosedPart("ear", "dark steel", body),
        PosedPart("cap", "bright steel", make.cap().cut(upper).mesh(), pose),
        PosedPart("needles", "light steel", make.needles(cut), pose),
        PosedPart("cross", "grey steel", make.cross().parts["cross"], make.moved((0, 0, 1.6))),
    ]
    if clip is not None:
        start = SPAN + clip + max(out, 0.0)
        rim = [[start, 8.0], [start + 1.8, 8.0], [start + 1.8, CAP + 1.2], [start, CAP + 1.2]]
        ring = turned(rim, "y", "clip", hole=True).cut(upper)
        parts.append(PosedPart("clip", "black steel", ring.mesh(), make.moved((0, 0, 1))))
    return View(
        tuple(parts),
        eye((0, 38, 0), (0, 0, 1), (-1, 0, 0), 50.0),
        {"cut": flat((0, 38, 12), (0, 33.3, 0), (-25, 0, 0))},
    )


def whole(split: str = "", fitting: bool = True, bent: float = 0.0) -> View:
    """The cross from the front; split at the root or through the middle, or with an arm bent."""

    def lean(vertices: Floats) -> Floats:
        far = np.maximum(vertices[:, 1] - 8.0, 0.0)
        return np.asarray(
            vertices + np.stack([-bent * far, np.zeros_like(far), np.zeros_like(far)], 1)
        )

    shown = make.cross().parts
    body = shown["cross"]
    parts = [PosedPart("cross", "grey steel", make.warped(body, lean) if bent else body)]
    if split == "root":
        parts = _broken(body, HUB + 2.0, make.moved((2, 9, 0), "z", 0.2))
    elif split == "middle":
        c = s = sqrt(0.5)
        turn = np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])
        for name, low, high, by in (("near", 0.0, 90.0, -4.0), ("far", -90.0, 0.0, 4.0)):
            away = make.box((-90, low, -30), (90, high, 30)).turned_to(turn)
            pose = make.moved((-s * by, c * by, 0), "z", 0.012 * by)
            parts += [PosedPart(name, "grey steel", make.without(body, away), pose)]
        parts = parts[1:]
    if fitting:
        parts.append(PosedPart("fitting", "brass", shown["grease fitting"]))
    return View(
        tuple(parts),
        eye((0, 0, 0), (0.2, -0.12, 1), (-1, 0, 0), 96.0),
        {"front": flat((0, 0, 13), (0, 64, 0), (-48, 0, 0))},
    )


def face() -> View:
    """What is left of an arm where it broke off, its face toward the eye."""
    body = cylinder("y", 15.0, 0.0, 30.0, "broken")
    return View(
        (PosedPart("cross", "grey steel", body.mesh()),),
        eye((0, 26, 0), (-0.3, 1, 0.35), (-1, 0, 0), 36.0),
        {"face": flat((0, 30, 0), (0, 0, 15), (-15, 0, 0))},
    )


def _broken(body: Mesh, at: float, pose: Floats) -> list[PosedPart]:
    """A cross whose arm along y is off where y is `at`, mm; the piece stands in its own pose."""
    near = make.without(body, make.box((-30, at, -30), (30, 90, 30)))
    far = make.without(body, make.box((-60, -60, -30), (60, at, 30)))
    return [PosedPart("cross", "grey steel", near), PosedPart("arm", "grey steel", far, pose)]
