from xml.etree import ElementTree

import numpy as np
import pytest

from geometry.yoke.reading import Arrow
from sim.parts.caliper import caliper_form
from sim.parts.catalogue import cross_sizes, yoke_kinds, yoke_shape
from viewer.caliper.drawing import drawing
from viewer.draw.plan import ARROW, SCALE

SVG = "{http://www.w3.org/2000/svg}"
CASES = [
    (kind, size.name, reading.name)
    for kind in yoke_kinds()
    for size in cross_sizes()[::4]
    for reading in caliper_form(kind, size.name)
]


@pytest.mark.parametrize(("kind", "cross", "reading"), CASES)
def test_the_arrow_is_as_long_as_what_is_read(kind: str, cross: str, reading: str) -> None:
    read = {item.name: item.generic for item in caliper_form(kind, cross)}
    shape = yoke_shape(kind, cross)
    arrow = next(each.cut(shape) for each in shape.readings() if each.name == reading).arrow
    np.testing.assert_allclose(length_of(arrow), read[reading], rtol=1e-9, atol=1e-9)


def length_of(arrow: Arrow) -> float:
    """The length that an arrow measures, mm: square to its shift, if it has one."""
    along = np.subtract(arrow.end, arrow.start)
    size = np.hypot(*arrow.aside)
    if size == 0.0:
        return float(np.hypot(*along))
    return float(abs(along[0] * arrow.aside[1] - along[1] * arrow.aside[0]) / size)


def test_length_of_a_shifted_arrow() -> None:
    assert length_of(Arrow((0.0, 0.0), (3.0, 4.0))) == 5.0
    assert length_of(Arrow((0.0, 0.0), (3.0, 4.0), (0.0, 7.0))) == 3.0
    assert length_of(Arrow((0.0, 0.0), (3.0, 4.0), (-2.0, 0.0))) == 4.0


@pytest.mark.slow
@pytest.mark.parametrize("kind", yoke_kinds()[:4])
def test_drawings_are_sound_and_all_of_the_arrow_is_in_them(kind: str) -> None:
    shape = yoke_shape(kind, "27 x 82")
    pictures = set()
    for reading in caliper_form(kind, "27 x 82"):
        text = drawing(shape, reading.name)
        root = ElementTree.fromstring(text)
        x, y, wide, tall = (float(v) for v in root.attrib["viewBox"].split())
        assert float(root.attrib["width"]) == pytest.approx(SCALE * wide, abs=1.0)
        assert 20.0 < wide < 220.0
        assert 20.0 < tall < 220.0
        title = root.find(f"{SVG}title")
        assert title is not None
        assert title.text == f"where to measure the {reading.name}"
        red = [path for path in root.iter(f"{SVG}path") if ARROW in path.attrib.values()]
        assert len(red) >= 2
        points = np.array(
            [
                [float(number) for number in point.split()]
                for path in red
                for point in path.attrib["d"].strip("MZ").replace("M", "L").split("L")
            ]
        )
        assert (points >= [x, y]).all()
        assert (points <= [x + wide, y + tall]).all()
        pictures.add(text)
    assert len(pictures) == len(caliper_form(kind, "27 x 82"))


def test_metal_is_hatched_and_the_bore_is_not() -> None:
    """The drawing of an ear's wall: no line of the hatching crosses the bore."""
    shape = yoke_shape("weld yoke", "27 x 82")
    root = ElementTree.fromstring(drawing(shape, "ear wall"))
    hatching = next(root.iter(f"{SVG}path")).attrib["d"]
    lines = [
        [[float(n) for n in point.split()] for point in line.split("L")]
        for line in hatching.strip("M").split("M")
    ]
    assert len(lines) > 20
    middles = np.array(lines).mean(axis=1)
    assert np.linalg.norm(middles, axis=1).min() > 0.5 * shape.bore - 0.1
