import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.frames import spoken_direction, unit
from sim.front_section import FrontSection, FrontSectionError


@st.composite
def sections(draw: st.DrawFn) -> FrontSection:
    number = lambda low, high: draw(st.floats(low, high))  # noqa: E731
    return FrontSection(
        np.array([1500.0, number(-50, 50), number(100, 250)]),
        -spoken_direction(forward=False, down=number(-0.1, 0.1), left=number(-0.05, 0.05)),
        np.array([number(700, 1000), number(-50, 50), number(50, 250)]),
        number(50, 150),
        number(-0.5, 0.5),
    )


@given(sections())
def test_bearing_and_joints_lie_on_one_line(section: FrontSection) -> None:
    along = section.p_C_middle - section.p_C_output
    off = np.cross(unit(along), section.p_C_bearing - section.p_C_output)
    np.testing.assert_allclose(off, 0.0, atol=1e-9)
    assert np.linalg.norm(along) == pytest.approx(section.to_bearing + section.beyond)


def test_a_straight_front_section_has_no_bend() -> None:
    section = FrontSection(
        np.array([1000.0, 0, 0]), np.array([1.0, 0, 0]), np.array([500.0, 0, 0]), 80.0
    )
    assert section.bend == pytest.approx(0.0, abs=1e-12)


def test_impossible_sections_are_refused() -> None:
    at = np.array([1000.0, 0.0, 0.0])
    with pytest.raises(FrontSectionError, match="on the output joint"):
        FrontSection(at, np.array([1.0, 0, 0]), at, 80.0)
    with pytest.raises(FrontSectionError, match="beyond"):
        FrontSection(at, np.array([1.0, 0, 0]), np.array([500.0, 0, 0]), 0.0)
