"""The view with Qt and OpenGL together, in a process of its own: few tests, on a real screen.

On Linux the screen is a virtual one; what a driver does to its process stays in there.
"""

import pytest

from tests.viewer.window.gl_program import seen_by

pytestmark = [pytest.mark.needs_gl, pytest.mark.slow]


@pytest.mark.parametrize("scale", ["1", "2"])
def test_open_look_click_close(scale) -> None:
    told = seen_by("gl_child", QT_SCALE_FACTOR=scale)
    for seen in told["seen"]:
        assert seen["ratio"] == float(scale)
        # Sizes of stage and picture are those of the screen, at any density.
        width, height = seen["widget"]
        assert seen["stage"] == pytest.approx([width * float(scale), height * float(scale)], abs=1)
        assert seen["picture"] == pytest.approx([seen["stage"][1], seen["stage"][0], 3], abs=1)
        # Metal has many shades; a driver that draws nothing leaves a few.
        assert min(seen["colours"]) > 500
        assert seen["changed"]
        assert seen["picked"] == ["tube"]
        # No number is seen beside a shaft in another pose.
        assert len(seen["seen together"]) > 3
        assert [number for number, _ in seen["seen together"]] == [
            drawn for _, drawn in seen["seen together"]
        ]
    first, second = told["held"]
    assert second <= first
