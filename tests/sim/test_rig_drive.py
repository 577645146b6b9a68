"""The [drive] table: every key may be left out, each is read with its unit."""

from math import pi
from typing import get_args

import pytest

from sim.rig import Rig, RigError, changed, parse_rig, rig_text
from sim.rig.drive import DriveTable
from sim.table.loads import GRADE, ROAD_SPEED, TURNING
from sim.ticket.drive_said import Number, Word, drive_said
from tests.sim.rigs import COORDINATES

WRAP = """
[wrap]
kind = "angles"
before = { points_up = "3 deg" }
under_torque = { points_up = "5 1/2 deg" }
pull = "250 lb"
arm = "72 in"

[wrap.drive]
engine_torque = "340 lb-ft"
low_gear = 4.2
axle_ratio = 3.7
axle_load = "2600 lb"
tyre_radius = "15 in"
efficiency = 0.8
"""


def rig(drive: str = "") -> Rig:
    return parse_rig(COORDINATES + drive)


def with_wrap(drive: str = "") -> Rig:
    text = COORDINATES.replace('nose_up = "8 deg"\nnose_down = "4 deg"\n', "")
    return parse_rig(text + WRAP + drive)


def test_units_are_read() -> None:
    assert ROAD_SPEED.of("60 mph") == pytest.approx(26_822.4, rel=1e-12)
    assert ROAD_SPEED.of("36 km/h") == pytest.approx(10_000.0, rel=1e-12)
    assert TURNING.of("3000 rpm") == pytest.approx(100.0 * pi, rel=1e-12)
    assert GRADE.of("G 6.3") == pytest.approx(6.3, rel=1e-12)
    assert [ROAD_SPEED.of("70"), TURNING.of("fast"), GRADE.of("16")] == [None, None, None]


def test_an_empty_table_is_taken_and_written_back() -> None:
    made = rig('[drive]\nuse = "trail"\n')
    assert made.typed()["drive"] == {"use": "trail"}
    assert parse_rig(rig_text(made)) == made
    assert rig("[drive]\n").drive is not None
    assert rig().drive is None


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ('top_speed = "70"', "a road speed with its unit"),
        ("top_speed = 70", "a number without a unit"),
        ('top_speed = "0 mph"', "not above zero"),
        ('top_speed = "70000 km/h"', "is the unit right?"),
        ('engine_top = "450000 rpm"', "is the unit right?"),
        ('balance = "G900"', "is the unit right?"),
        ('balance = "sixteen"', "a balance grade"),
        ('use = "sand"', "drive.use"),
        ('comes_on = "late"', "drive.comes_on"),
        ("share = 1.5", "up to 1"),
        ('engine_torque = "300"', "a torque with its unit"),
        ("low_gear = 0", "above zero"),
        ('tyre_radius = "-1 in"', "drive.tyre_radius"),
        ("top_geer = 1.0", "top_gear, the nearest known key"),
    ],
)
def test_what_is_wrong_is_one_line(line: str, says: str) -> None:
    with pytest.raises(RigError) as refused:
        rig(f"[drive]\n{line}\n")
    assert says in str(refused.value)
    assert len(str(refused.value).splitlines()) == 1


def test_numbers_of_wrap_are_borrowed_where_drive_is_silent() -> None:
    said = drive_said(with_wrap('[drive]\nlow_gear = 3.0\ntop_speed = "70 mph"\n'))
    assert said.number("low_gear") == pytest.approx(3.0, rel=1e-12)
    assert said.number("axle_ratio") == pytest.approx(3.7, rel=1e-12)
    assert said.number("tyre_radius") == pytest.approx(381.0, rel=1e-12)
    assert set(said.borrowed) == {
        "engine_torque", "axle_ratio", "axle_load", "tyre_radius", "efficiency",
    }  # fmt: skip
    # The one efficiency of [wrap.drive] stands for both.
    product = said.number("gearbox_efficiency") * said.number("case_efficiency")
    assert product == pytest.approx(0.8, rel=1e-12)
    assert not [each for each in said.assumed if "efficiency" in str(each["name"])]


def test_what_wrap_only_assumed_is_not_called_borrowed() -> None:
    assert "friction" not in drive_said(with_wrap()).borrowed


def test_nothing_said_is_nothing_known_but_the_generic() -> None:
    said = drive_said(rig())
    assert said.lacks("engine_torque", "axle_ratio") == ("drive.engine_torque", "drive.axle_ratio")
    assert said.borrowed == ()
    assert "use" in {each["name"] for each in said.assumed}
    assert said.words["use"] == "road"
    assert len(said.assumed) == 10


def test_a_value_can_be_changed_like_any_other() -> None:
    made = changed(rig(), {"drive.top_speed": "110 km/h"})
    assert drive_said(made).number("top_speed") == pytest.approx(110e6 / 3600.0, rel=1e-12)


def test_every_key_of_the_drive_is_one_that_the_ticket_knows() -> None:
    assert {*get_args(Number), *get_args(Word)} == set(DriveTable.model_fields)
