"""What things on a stage are in VTK: triangles with normals, looks, lamps, letters."""

from collections.abc import Iterable
from typing import Any

import numpy as np
import pyvista as pv
import vtkmodules.vtkRenderingFreeType  # noqa: F401  the renderer of letters
from vtkmodules.util.numpy_support import numpy_to_vtk, vtk_to_numpy
from vtkmodules.vtkRenderingCore import (
    vtkLight,
    vtkTextProperty,
    vtkTextRenderer,
    vtkWindowToImageFilter,
)

from geometry.mesh import Mesh, once_a_mesh
from viewer.draw.base import Image, Letters, Paint
from viewer.draw.camera import Floats
from viewer.draw.shading import corner_normals

PLAIN_DPI = 72
"""Dots an inch at which VTK's letters are as large as they are asked to be."""

SAMPLES = 4
"""Samples of a pixel that make edges smooth; more than that only takes memory."""

LAMPS = (
    ((-0.6, 1.0, 0.9), 0.62),
    ((1.2, 0.25, 0.5), 0.34),
    ((-1.2, -0.2, 0.35), 0.24),
    ((0.15, -1.0, 0.3), 0.22),
    ((0.3, 1.0, -0.35), 0.42),
    ((0.05, 0.1, 1.0), 0.16),
)
"""Where each lamp stands as seen by the eye (right, up, toward it), and how strong it is."""


def lamps() -> Iterable[vtkLight]:
    """Lamps that go with the eye."""
    for place, strength in LAMPS:
        lamp = vtkLight()
        lamp.SetLightTypeToCameraLight()
        lamp.SetPosition(*place)
        lamp.SetFocalPoint(0.0, 0.0, 0.0)
        lamp.SetIntensity(strength)
        yield lamp


def headlight() -> vtkLight:
    """A lamp at the eye that shows what faces it in its own colour."""
    lamp = vtkLight()
    lamp.SetLightTypeToHeadlight()
    return lamp


@once_a_mesh
def shaded(mesh: Mesh) -> pv.PolyData:
    """Triangles with smooth round surfaces and sharp corners; one for all views that show it."""
    data = unshared(mesh.triangles.reshape(-1, 3))
    normals = corner_normals(mesh).reshape(-1, 3).astype(np.float32)
    data.GetPointData().SetNormals(numpy_to_vtk(normals, deep=True))  # type: ignore[no-untyped-call]
    return data


def unshared(corners: Floats) -> pv.PolyData:
    """Corners, (3 m, 3), of m triangles that share none."""
    count = np.arange(len(corners)).reshape(-1, 3)
    cells = np.column_stack([np.full(len(count), 3), count]).ravel()
    return pv.PolyData(np.ascontiguousarray(corners, dtype=np.float32), faces=cells)


def strokes(segments: Floats) -> pv.PolyData:
    """Segments, (n, 2, 3), as lines."""
    points = np.ascontiguousarray(segments.reshape(-1, 3), dtype=np.float32)
    cells = np.column_stack([np.full(len(segments), 2), np.arange(len(points)).reshape(-1, 2)])
    return pv.PolyData(points, lines=cells.ravel())


def painted(look: Any, paint: Paint, polished: bool = False) -> None:
    """Give a property of VTK the look of a paint.

    polished : whether highlights are small and bright, as where the eye goes round the part; on
        paper they would only hide its shape.
    """
    look.SetColor(*map(float, paint.colour))
    look.opacity = paint.opacity
    look.interpolation = "phong"
    look.ambient = 0.16 + 0.84 * paint.glow
    look.diffuse = 0.78 * (1.0 - paint.glow)
    look.specular = 0.7 * paint.shine * (1.0 - paint.glow)
    look.specular_power = 8.0 + 14.0 * paint.shine
    if polished:
        look.ambient = 0.13 + 0.87 * paint.glow
        look.specular = (0.15 + 0.95 * paint.shine) * (1.0 - paint.glow)
        look.specular_power = 12.0 + 70.0 * paint.shine


def actor_of(data: pv.PolyData) -> pv.Actor:
    """An actor that shows some data in one colour, lines in front of what they lie on."""
    mapper = pv.DataSetMapper(data)
    mapper.ScalarVisibilityOff()
    mapper.SetResolveCoincidentTopologyToPolygonOffset()
    return pv.Actor(mapper=mapper)


def lettering(letters: Letters, window: Any, scale: float) -> vtkTextProperty:
    """VTK's description of some letters, `scale` times their size in a window."""
    # VTK sizes letters by the density of the screen, which the scale has in it already.
    scale *= PLAIN_DPI / window.GetDPI()
    kind = vtkTextProperty()
    kind.SetFontFamilyToArial()
    kind.SetFontSize(max(1, round(letters.size * scale)))
    kind.SetBold(letters.bold)
    kind.SetColor(*letters.colour)
    kind.SetVerticalJustificationToBottom()
    if letters.align == "right":
        kind.SetJustificationToRight()
    if letters.align == "middle":
        kind.SetJustificationToCentered()
        kind.SetVerticalJustificationToCentered()
    return kind


def literal(text: str) -> str:
    """A text for VTK, which takes what stands between dollar signs for mathematics."""
    return text.replace("$", "\\$")


def text_box(kind: vtkTextProperty, text: str, dpi: int) -> Floats:
    """Lower left and upper right corner (2, 2) of some words, px from where they are put."""
    edges = [0, 0, 0, 0]
    vtkTextRenderer.GetInstance().GetBoundingBox(kind, literal(text), edges, dpi)
    return np.array(edges, dtype=np.float64).reshape(2, 2).T


def grabbed(window: Any) -> Image:
    """What a window has drawn, (height, width, 3), first row on top."""
    grab = vtkWindowToImageFilter()
    grab.SetInput(window)
    grab.SetInputBufferTypeToRGB()
    grab.ReadFrontBufferOff()
    grab.ShouldRerenderOff()
    grab.Update()
    raw = grab.GetOutput()
    width, height, _ = raw.GetDimensions()
    scalars = raw.GetPointData().GetScalars()
    rows = vtk_to_numpy(scalars).reshape(height, width, -1)  # type: ignore[no-untyped-call]
    return np.ascontiguousarray(rows[::-1])
