"""What the ticket lists as assumed is what it used, and all of it."""

import pytest

from sim.rig import changed, load_demo
from sim.ticket.drive_said import ASSUMED, drive_said
from sim.ticket.odd_drive import PLAUSIBLE, odd_drive
from sim.ticket.ticket import Ticket, build_ticket
from tests.sim.ticket.rigs import demo_ticket, driven, plain
from viewer.words.remarks import said


def drive_lines(made: Ticket) -> set[str]:
    """Keys of [drive] that are listed as assumed."""
    lines = (said(each).split()[0] for each in made.assumed)
    return {line.removeprefix("drive.") for line in lines if line.startswith("drive.")}


@pytest.mark.slow
def test_without_a_drive_none_of_it_is_assumed() -> None:
    made = build_ticket(plain())
    assert drive_lines(made) == set()
    # What a larger cross is asked with is listed, though there is no torque.
    assert made.strength.sizes_up
    assert any(each.code == "joint-materials" for each in made.assumed)
    assert not any("weld" in said(each) for each in made.strength.assumed)
    for up in made.strength.sizes_up:
        assert up.bend == pytest.approx(made.found.joints[up.joint].most, abs=1e-12)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("left_out", "listed"),
    [
        (("converter",), {"converter"}),
        (("engine_torque", "friction", "use"), {"friction", "use"}),
        (("axle_load", "friction", "use"), set()),
        (("top_speed", "balance"), set()),
        (("balance",), {"balance"}),
        (("low_range",), {"low_range"}),
        (("low_range", "engine_torque"), {"low_range"}),
        (("cruise",), {"cruise"}),
        (("cruise", "top_gear"), set()),
        (("low_range", "engine_torque", "engine_top"), set()),
    ],
)
def test_a_value_that_was_used_is_listed_and_no_other(
    left_out: tuple[str, ...], listed: set[str]
) -> None:
    base = {"converter": 1.0, "share": 1.0, "cruise": 0.4}
    made = build_ticket(driven(**(base | dict.fromkeys(left_out))))
    assert drive_lines(made) == listed
    slips = made.torque.wheel_slip is not None
    assert any(said(each).startswith("axle efficiency 0.95") for each in made.assumed) == slips


@pytest.mark.slow
def test_the_doubt_of_a_torque_is_that_of_the_file_where_it_says_so() -> None:
    rig = load_demo("quarry-hauler")
    assert drive_said(rig).off["friction"] == (0.2, "from memory")
    told = changed(rig, {"wrap.drive.friction_off": "5 %"})
    assert drive_said(told).off["friction"] == (0.05, "wrap.drive.friction_off")
    before, after = (build_ticket(each).torque.wheel_slip for each in (rig, told))
    assert before is not None
    assert after is not None
    assert after.value == before.value
    assert after.high < before.high
    # A number of [drive] itself is not the one that was said to be so good.
    own = changed(told, {"drive.friction": 0.8})
    assert drive_said(own).off["friction"] == (0.2, "from memory")


def test_demos_and_generic_values_are_plausible() -> None:
    for name in ("timber-crew-carrier", "quarry-hauler", "goat-path-buggy"):
        assert odd_drive(demo_ticket(name).drive) == ()
    for key, (low, high, _) in PLAUSIBLE.items():
        value = ASSUMED.get(key, low)
        assert isinstance(value, float)
        assert low <= value <= high


def test_a_unit_gone_wrong_is_asked_about() -> None:
    (flag,) = odd_drive(drive_said(driven(tyre_radius="16 1/2 ft")))
    assert said(flag) == (
        "tyre_radius is 198 in (5029.2 mm); few are over 30 in (762.0 mm). Mistyped, or in another "
        "unit?"
    )
