import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import MeshError
from geometry.imported import UnitQuestion, guess_unit
from geometry.imported.units import LEAST_BORE, LEAST_SIZE, MM_IN, MOST_BORE, MOST_SIZE, unit_named


@pytest.mark.parametrize(
    ("size", "stated", "bore", "cap", "unit"),
    [
        (104.0, None, None, None, "mm"),
        (0.104, None, None, None, "m"),
        (10.4, None, 2.7, None, "cm"),
        (4.09, None, 1.063, None, "in"),
        # Inch and centimetre both make a yoke; the caps settle it.
        (5.1, None, 1.1, 27.94, "in"),
        # The format says metres, the program wrote millimetres.
        (104.0, "m", 27.0, None, "mm"),
        (104.0, "mm", None, None, "mm"),
        (8.0, "in", None, None, "in"),
        (0.34, "ft", 0.09, None, "ft"),
    ],
)
def test_what_can_be_told(
    size: float, stated: str | None, bore: float | None, cap: float | None, unit: str
) -> None:
    guess = guess_unit(size, stated, bore, cap)
    assert guess.unit == unit
    assert guess.mm == MM_IN[unit]
    assert guess.why
    assert not guess.question


def test_what_cannot_be_told_is_asked_with_sizes() -> None:
    guess = guess_unit(10.4)
    assert guess.unit is None
    assert "as cm 104 mm, as in 264 mm" in guess.question
    assert guess.question.endswith("(cm, in)")
    with pytest.raises(UnitQuestion) as asked:
        _ = guess.mm
    assert asked.value.guess is guess


def test_what_makes_no_yoke_in_any_unit_is_asked_too() -> None:
    guess = guess_unit(1e6, "m")
    assert guess.unit is None
    assert "the file says m, which makes no yoke" in guess.question
    assert "as mm 1e+03 m" in guess.question


def test_caps_that_fit_in_no_unit() -> None:
    assert guess_unit(104.0, None, 27.0, 35.0).unit is None


def test_names_of_units() -> None:
    assert [unit_named(name) for name in ("Inch", ' " ', "MM", "metre", "feet")] == [
        "in",
        "in",
        "mm",
        "m",
        "ft",
    ]
    with pytest.raises(MeshError, match="no unit 'furlong' for a mesh; there are mm, cm, in"):
        unit_named("furlong")


@given(
    st.floats(LEAST_SIZE * 1.01, MOST_SIZE * 0.99),
    st.floats(LEAST_BORE * 1.01, MOST_BORE * 0.99),
    st.sampled_from(["mm", "cm", "in", "m"]),
)
def test_never_wrong_when_the_caps_are_known(size: float, bore: float, unit: str) -> None:
    guess = guess_unit(size / MM_IN[unit], None, bore / MM_IN[unit], cap=bore)
    assert guess.unit == unit


@given(
    st.floats(LEAST_SIZE * 1.01, MOST_SIZE * 0.99),
    st.floats(LEAST_BORE * 1.01, MOST_BORE * 0.99),
    st.sampled_from(["mm", "cm", "in", "m"]),
)
def test_right_or_asked(size: float, bore: float, unit: str) -> None:
    guess = guess_unit(size / MM_IN[unit], None, bore / MM_IN[unit])
    assert guess.unit in (unit, None)
    assert unit in [candidate.unit for candidate in guess.candidates if candidate.plausible]
