"""Where the live view is seen from: free, or going along with a joint."""

from dataclasses import replace

import numpy as np

from sim.frames import unit
from viewer.draw.camera import UP, Camera, Floats

STEEPEST = np.radians(89.0)
"""The eye goes no further over the top, where up has no meaning."""

NEAREST, FARTHEST = 5.0, 30_000.0
"""mm shown from edge to edge, at least and at most."""


def orbited(camera: Camera, right: float, up: float) -> Camera:
    """Go round the focus by so many rad; the vehicle's up stays up."""
    toward = unit(camera.toward)
    height = float(np.arcsin(np.clip(toward @ UP, -1.0, 1.0)))
    flat = toward - (toward @ UP) * UP
    if np.linalg.norm(flat) < 1e-6:
        flat = -np.sign(toward[2]) * (camera.up - (camera.up @ UP) * UP)
    flat = unit(flat)
    c, s = np.cos(right), np.sin(right)
    flat = np.array([c * flat[0] - s * flat[1], s * flat[0] + c * flat[1], 0.0])
    height = float(np.clip(height + up, -STEEPEST, STEEPEST))
    return replace(camera, toward=np.cos(height) * flat + np.sin(height) * UP, up=UP)


def panned(camera: Camera, right: float, up: float) -> Camera:
    """Move what is seen by shares of the view's height."""
    R = camera.R_VC
    return replace(camera, focus=camera.focus - camera.span * (right * R[0] + up * R[1]))


def zoomed(camera: Camera, factor: float, about: Floats | None = None) -> Camera:
    """Go nearer by a factor above 1; the point `about` (3,) mm in C stays where it is seen."""
    span = float(np.clip(camera.span / factor, NEAREST, FARTHEST))
    focus = camera.focus
    if about is not None:
        aside = about - focus
        R = camera.R_VC
        aside = aside - (aside @ R[2]) * R[2]
        focus = focus + (1.0 - span / camera.span) * aside
    return replace(camera, span=span, focus=focus)


def carried(camera: Camera, before: Floats, after: Floats, turning: bool) -> Camera:
    """Go along with a frame, (4, 4) before and after; `turning` with it too."""
    shift = after[:3, 3] - before[:3, 3]
    if not turning:
        return replace(camera, focus=camera.focus + shift)
    R = after[:3, :3] @ before[:3, :3].T
    focus = after[:3, 3] + R @ (camera.focus - before[:3, 3])
    return replace(camera, focus=focus, toward=R @ camera.toward, up=R @ camera.up)
