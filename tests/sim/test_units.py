"""Lengths and angles as typed and as printed."""

import math
import re
from fractions import Fraction

import pytest
import scipy.constants
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import BindpointError
from sim.units import _FACTORS, Angle, Length, UnitsError, parse_angle, parse_length
from viewer.words.units import (
    format_angle,
    format_fraction,
    format_fraction_up,
    format_length,
    format_length_under,
    format_missing,
    format_spoken,
    format_under,
)

# 36 5/16 in = 581/16 in; one inch is 25.4 mm by definition.
SAME_LENGTH = [
    "36 5/16 in",
    '36-5/16"',
    "36  5/16 inches",
    "3' 0-5/16\"",
    "3'-0 5/16\"",
    "3 ft 5/16 in",
    "3ft 0 5/16in",
    "36.3125 in",
    "36.3125 IN.",
    "+36 5/16 in",
    "581/16 in",
    "922.3375 mm",
    "92.23375 cm",
    "0.9223375 m",
    "36312.5 thou",
    # typographic forms
    "36\N{NO-BREAK SPACE}5/16\N{THIN SPACE}in",
    "36 5\N{FRACTION SLASH}16\N{DOUBLE PRIME}",
    "3\N{PRIME} 0\N{EN DASH}5/16\N{DOUBLE PRIME}",
    "3\N{RIGHT SINGLE QUOTATION MARK} 0-5/16\N{RIGHT DOUBLE QUOTATION MARK}",
    "36 5/16''",
    "36 \N{SUPERSCRIPT FIVE}\N{FRACTION SLASH}\N{SUBSCRIPT ONE}\N{SUBSCRIPT SIX} in",
    "36\N{SUPERSCRIPT FIVE}\N{FRACTION SLASH}\N{SUBSCRIPT ONE}\N{SUBSCRIPT SIX} in",
    "３６ 5/16 in",  # full-width digits
]


@pytest.mark.parametrize("text", SAME_LENGTH)
def test_one_length_in_all_its_spellings_gives_the_same_float(text: str) -> None:
    assert parse_length(text) == 922.3375


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("36\N{VULGAR FRACTION ONE HALF} in", 36.5 * 25.4),
        ("36 \N{VULGAR FRACTION ONE HALF}\N{DOUBLE PRIME}", 36.5 * 25.4),
        ("\N{VULGAR FRACTION SEVEN EIGHTHS} in", 0.875 * 25.4),
        ("-2 1/2 in", -63.5),
        ("\N{MINUS SIGN}2-1/2 in", -63.5),
        (".5 in", 12.7),
        ("36. in", 914.4),
        ("1 yd", 914.4),
        ("0 mm", 0.0),
        ("50 \N{GREEK SMALL LETTER MU}m", 0.05),
    ],
)
def test_further_lengths(text: str, mm: float) -> None:
    assert parse_length(text) == pytest.approx(mm, rel=1e-15, abs=0.0)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("3 1/4 deg", 3.25),
        ("3-1/4 degrees", 3.25),
        ("3\N{VULGAR FRACTION ONE QUARTER}\N{DEGREE SIGN}", 3.25),
        ("3.25\N{MASCULINE ORDINAL INDICATOR}", 3.25),
        ("3\N{DEGREE SIGN} 15'", 3.25),
        ("3\N{DEGREE SIGN}15\N{PRIME}0\N{DOUBLE PRIME}", 3.25),
        ("3 deg 15 arcmin", 3.25),
        ("0.05 rad", math.degrees(0.05)),
        ("50 mrad", math.degrees(0.05)),
        ("0.05 Radians", math.degrees(0.05)),
        ("1/4 turn", 90.0),
        ("-3 deg", -3.0),
    ],
)
def test_angles(text: str, degrees: float) -> None:
    assert math.degrees(parse_angle(text)) == pytest.approx(degrees, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("36 5/16", "no unit after 36 5/16"),
        ("36", "no unit"),
        ("0", "no unit"),
        ("3' 6", "no unit after 6"),
        ("3 deg", "deg measures an angle"),
        ("5 s", "unknown unit s"),
        ("5 bananas", "unknown unit bananas"),
        ("5 inchez", "did you mean inches?"),
        ("1 mil", "two meanings"),
        ("92,2 cm", "a comma can be read two ways"),
        ("1,250 mm", "a comma can be read two ways"),
        ("36 17/16 in", "17/16 is a whole or more"),
        ("36 5/5 in", "5/5 is a whole or more"),
        ("36 16/16 in", "16/16 is a whole or more"),
        ("36-9/8 in", "9/8 is a whole or more"),
        ("3 ft 5/5 in", "5/5 is a whole or more"),
        ("3 ft 9/8 in", "9/8 is a whole or more"),
        ("3' 11 16/16\"", "16/16 is a whole or more"),
        ("5/5 in", "5/5 is a whole or more"),
        ("3/0 in", "divides by zero"),
        ("3' 14\"", "12 in or more after ft"),
        ("3.5 ft 2 in", "3.5 ft is not whole"),
        ("2 in 3 ft", '"3 ft" left over'),
        ("3 ft 2 ft", "ft cannot follow ft"),
        ("36 - 5/16 in", "no unit after 36"),
        ("36 5/16 5/16 in", "no unit after 36 5/16"),
        ("36.5 5/16 in", "no unit after 36.5"),
        ("9 in down", 'the direction "down" is said by the key'),
        ("", "empty"),
        ("   ", "empty"),
        ("-", "not a number"),
        ("--3 in", "not a number"),
        ("in", "not a number"),
        ("nan mm", "not a number"),
        ("inf in", "not a number"),
        ("-inf mm", "not a number"),
        ("1e3 mm", "unknown unit e"),
        ("3'-", "left over"),
        ("9" * 5000 + " mm", "longer than 80 characters"),
        ("\N{ARABIC-INDIC DIGIT THREE} in", "not a number"),
        ("36\x00 in", "no unit after 36"),
    ],
)
def test_a_text_that_is_no_length_says_what_came_and_what_is_wrong(text: str, why: str) -> None:
    with pytest.raises(UnitsError) as caught:
        parse_length(text)
    message = str(caught.value)
    assert why in message
    assert 'expected a length with its unit, such as "36 5/16 in" or "922 mm"' in message
    assert caught.value.came == text
    assert "\n" not in message
    assert "\x00" not in message
    assert len(message) < 300
    assert isinstance(caught.value, BindpointError)
    assert isinstance(caught.value, ValueError)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("3", "no unit"),
        ("3 in", "in measures a length"),
        ('3 1/2"', "measures a length"),
        ("3'", "measures a length"),
        ("5 percent", "unknown unit percent"),
        ("5 count", "unknown unit count"),
        ("2 mils", "two meanings"),
        ("3 deg 60 arcmin", "60 arcmin or more"),
        ("3 deg up", 'the direction "up" is said by the key'),
        ("nan deg", "not a number"),
    ],
)
def test_a_text_that_is_no_angle(text: str, why: str) -> None:
    with pytest.raises(UnitsError, match=why):
        parse_angle(text)


def test_units_are_those_of_scipy() -> None:
    """Another library's table of the same definitions."""
    lengths = {"in": "inch", "ft": "foot", "yd": "yard", "thou": "mil", "um": "micron"}
    for unit, name in (lengths | {"mile": "mile"}).items():
        mm = 1000.0 * getattr(scipy.constants, name)
        assert float(_FACTORS["length"][unit]) == pytest.approx(mm, rel=1e-14)
    for unit, name in {"deg": "degree", "arcmin": "arcmin", "arcsec": "arcsec"}.items():
        rad = float(getattr(scipy.constants, name))
        assert math.radians(_FACTORS["angle"][unit]) == pytest.approx(rad, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("1 yd", 914.4),
        ("2 yards", 1828.8),
        ("250 thou", 6.35),
        ("50 micron", 0.05),
        ("50 \N{MICRO SIGN}m", 0.05),
        ("9 dm", 900.0),
        ("0.001 km", 1000.0),
        ("0.001 mile", 1609.344),
    ],
)
def test_rare_lengths(text: str, mm: float) -> None:
    """By definition: a yard is 0.9144 m, a mile 1760 of them [SP811]."""
    assert parse_length(text) == pytest.approx(mm, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("100 gon", 90.0),
        ("1/4 turn", 90.0),
        ("0.5 rev", 180.0),
        ("30 arcminutes", 0.5),
        ("1000 mrad", math.degrees(1.0)),
    ],
)
def test_rare_angles(text: str, degrees: float) -> None:
    """By definition: 400 gon to a turn [SP811]."""
    assert parse_angle(text) == pytest.approx(math.radians(degrees), rel=1e-14)


@pytest.mark.parametrize("unit", ["furlong", "kg", "hand", "xyz"])
def test_a_unit_that_nobody_measures_a_shaft_in_is_named(unit: str) -> None:
    with pytest.raises(UnitsError, match=f"unknown unit {unit}"):
        parse_length(f"1 {unit}")


def test_a_quantity_keeps_what_was_typed() -> None:
    length = Length.parse("3' 0-5/16\"")
    assert (length.mm, length.typed, str(length)) == (922.3375, "3' 0-5/16\"", "3' 0-5/16\"")
    angle = Angle.parse("3 1/4 deg")
    assert angle.typed == "3 1/4 deg"
    assert angle.deg == pytest.approx(3.25, rel=1e-15)


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (922.3375, "36 5/16 in (922.3 mm)"),
        (922.0, "36 5/16 in (922.0 mm)"),
        (914.4, "36 in (914.4 mm)"),
        (12.7, "1/2 in (12.7 mm)"),
        (-63.5, "-2 1/2 in (-63.5 mm)"),
        (0.0, "0 in (0.0 mm)"),
        (0.6, "0.024 in (0.6 mm)"),  # nothing on a tape
        (-0.001, "0 in (0.0 mm)"),
        (25.4 * 31.99, "32 in (812.5 mm)"),  # the fraction carries into the whole
    ],
)
def test_format_length(mm: float, text: str) -> None:
    assert format_length(mm) == text


@given(st.floats(0.0, 5000.0))
def test_a_fraction_rounded_up_is_never_less_nor_a_step_more(mm: float) -> None:
    up = parse_length(format_fraction_up(mm))
    assert -1e-3 <= up - mm < 25.4 / 16.0


def test_a_length_that_is_missing() -> None:
    assert format_missing(31.1) == "1 1/4 in (31.1 mm)"
    assert format_missing(25.4) == "1 in (25.4 mm)"
    assert format_missing(0.0) == "0 in (0.0 mm)"
    with pytest.raises(UnitsError, match="not a finite number"):
        format_missing(float("nan"))


@given(wanted=st.floats(1.0, 50.0), short=st.floats(1e-3, 20.0))
def test_what_is_less_than_wanted_reads_as_less(wanted: float, short: float) -> None:
    mm = max(wanted - short, 0.0)
    shown = format_length_under(mm, wanted)
    if format_fraction(mm) == format_fraction(wanted):
        assert shown.startswith(f"just under {format_fraction(wanted)}")
        for millimetres in re.findall(r"\(([\d.]+) mm", shown):
            assert float(millimetres) < wanted
            assert float(millimetres) == pytest.approx(mm, abs=0.051)
    else:
        assert shown == format_length(mm)


def test_a_length_just_under() -> None:
    assert format_length_under(19.01, 19.05) == "just under 3/4 in (19.0 mm)"
    assert format_length_under(12.7 - 1e-9, 12.7) == "just under 1/2 in"
    assert format_length_under(12.0, 19.05) == "1/2 in (12.0 mm)"
    assert format_under(1.97, 2.0, 1) == "1.97"
    assert format_under(1.9, 2.0, 1) == "1.9"
    assert format_under(2.0 - 1e-9, 2.0, 1) == "2.000000"


def test_format_fraction_in_other_steps() -> None:
    assert format_fraction(25.4 * 1.28125, denominator=32) == "1 9/32 in"
    assert format_fraction(25.4 * 1.28125, denominator=8) == "1 1/4 in"


def test_format_angles() -> None:
    assert format_angle(math.radians(13.42)) == "13.4 deg"
    assert format_angle(-1e-9) == "0.0 deg"
    assert format_spoken(math.radians(-3.0), "up", "down") == "3.0 deg down"
    assert format_spoken(math.radians(3.0), "up", "down") == "3.0 deg up"
    assert format_spoken(math.radians(-0.01), "up", "down") == "0.0 deg"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_not_printed(value: float) -> None:
    for function in (format_length, format_angle, Length.exactly, Angle.exactly):
        with pytest.raises(UnitsError, match="not a finite number"):
            function(value)


@given(st.integers(0, 400), st.sampled_from([2, 4, 8, 16, 32, 64]), st.data())
def test_every_tape_fraction_reads_exactly(whole: int, bottom: int, data: st.DataObject) -> None:
    top = data.draw(st.integers(1, bottom - 1))
    exact = float((whole + Fraction(top, bottom)) * Fraction(254, 10))
    assert parse_length(f"{whole} {top}/{bottom} in") == exact
    assert parse_length(f'{whole}-{top}/{bottom}"') == exact
    assert parse_length(f"{whole // 12}' {whole % 12} {top}/{bottom}\"") == exact


@given(st.floats(-5000.0, 5000.0))
def test_the_printed_fraction_is_the_nearest_sixteenth(mm: float) -> None:
    printed = parse_length(format_fraction(mm))
    assert abs(printed - mm) <= 25.4 / 32 + 1e-9
    assert (printed / 25.4 * 16) == pytest.approx(round(printed / 25.4 * 16), abs=1e-9)


@given(st.floats(-1e4, 1e4))
def test_a_computed_length_survives_being_written(mm: float) -> None:
    assert Length.exactly(mm).mm == pytest.approx(mm, rel=0.0, abs=1e-11)


@given(st.floats(-3.2, 3.2))
def test_a_computed_angle_survives_being_written(rad: float) -> None:
    assert Angle.exactly(rad).rad == pytest.approx(rad, rel=0.0, abs=1e-13)


@given(
    st.text() | st.text(alphabet="0123456789 -+/.,'\"\N{DEGREE SIGN}inmftdegra\N{FRACTION SLASH}")
)
def test_no_text_whatever_raises_anything_else(text: str) -> None:
    for parse in (parse_length, parse_angle):
        try:
            value = parse(text)
        except UnitsError:
            continue
        assert math.isfinite(value)
