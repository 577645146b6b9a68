"""What is odd about a rig but possible."""

import pytest

from sim.rig import notes, parse_rig
from tests.sim.rigs import COORDINATES, MEASURED, PHONE_CALL, spoilt
from viewer.words.remarks import said


def codes(text: str) -> dict[str, str]:
    return {note.code: note.key for note in notes(parse_rig(text))}


@pytest.mark.parametrize("text", [COORDINATES, PHONE_CALL, PHONE_CALL + MEASURED])
def test_nothing_is_odd_about_an_ordinary_rig(text: str) -> None:
    assert codes(text) == {}


@pytest.mark.parametrize(
    ("old", "new", "code", "key"),
    [
        ('"36 5/16 in"', '"80 in"', "long_shaft", "ride_height.length"),
        ('"36 5/16 in"', '"10 in"', "short_shaft", "ride_height.length"),
        ('"14 deg"', '"35 deg"', "steep_at_ride", "axle"),
        ('droop = "8 in"', 'droop = "0 in"', "no_droop", "travel.droop"),
        ('droop = "8 in"', 'droop = "24 in"', "much_travel", "travel"),
        ('droop = "8 in"', 'droop = "7/8 in"', "hanging", "travel.droop"),
        ("shaft_points_down", "shaft_points_up", "points_up", "ride_height"),
        ('droop = "8 in"', 'droop = "8 in"\nroll = "35 deg"', "much_roll", "travel.roll"),
        (
            'droop = "8 in"',
            'droop = "8 in"\nroll = "12 deg"\nstops_apart = "70 in"',
            "roll_past_stops",
            "travel.roll",
        ),
        ('droop = "8 in"', 'droop = "8 in"\nnose_up = "20 deg"', "much_wrap", "travel.nose_up"),
    ],
)
def test_each_odd_value_has_a_code_and_a_key(old: str, new: str, code: str, key: str) -> None:
    assert codes(spoilt(PHONE_CALL, (old, new)))[code] == key


def test_roll_that_the_stops_just_allow_is_not_odd() -> None:
    """12 in of travel over 60 in is a sine of 0.2, 11.54 deg, with stops at both sides.

    With one strap in the middle a side has those 12 in below the bump stop on half the way.
    """
    for stops, odd in (
        ('roll = "11 1/2 deg"\nstops_apart = "60 in"', False),
        ('roll = "13 deg"\nstops_apart = "60 in"', True),
        ('roll = "13 deg"\nstops_apart = "60 in"\ndroop_strap = "middle"', False),
    ):
        found = codes(spoilt(PHONE_CALL, ('droop = "8 in"', f'droop = "8 in"\n{stops}')))
        assert ("roll_past_stops" in found) == odd


def test_the_doubts_are_plain_questions() -> None:
    text = spoilt(PHONE_CALL, ('bump = "4 in"', 'bump = "12 in"'), ('"8 in"', '"1/4 in"'))
    (hanging,) = (said(each) for each in notes(parse_rig(text)) if each.code == "hanging")
    assert hanging == (
        "12 in of bump but only 1/4 in of droop: was the truck measured hanging, not on its "
        "wheels, or are the two swapped?"
    )
    up = spoilt(PHONE_CALL, ("shaft_points_down", "shaft_points_up"))
    (swapped,) = (said(each) for each in notes(parse_rig(up)) if each.code == "points_up")
    assert swapped.startswith("the shaft points up toward the axle, 14.0 deg: the output would ")
    assert swapped.endswith("are up and down, or the two ends, swapped?")


def test_a_droop_of_a_quarter_of_the_bump_is_not_doubted() -> None:
    assert "hanging" not in codes(spoilt(PHONE_CALL, ('"8 in"', '"1 in"')))


def straight(text: str) -> list[tuple[str, str]]:
    return [(n.key, said(n)) for n in notes(parse_rig(text)) if n.code == "straight_at_ride"]


@pytest.mark.parametrize(("down", "odd"), [("0.41 deg", True), ("0.59 deg", False)])
def test_needles_of_a_joint_that_is_nearly_straight_do_not_roll(down: str, odd: bool) -> None:
    """The shaft points 14 deg down: the bend is what the output is off from that."""
    bend = float(down.split(maxsplit=1)[0])
    found = straight(spoilt(PHONE_CALL, ('"3 deg"', f'"{14.0 - bend:.2f} deg"')))
    assert [key for key, _ in found] == ["output"] * odd
    assert all(f"the output joint is bent only {bend:.1f} deg" in says for _, says in found)
    assert all("under 0.5 deg its needles do not roll" in says for _, says in found)


def test_each_cross_of_a_head_bends_about_half() -> None:
    head = '\n[shaft.pinion_end]\njoint = "double"\n'
    text = spoilt(PHONE_CALL, ('points_up = "1 deg"', 'points_up = "13.2 deg"'))
    assert straight(text) == []
    ((key, says),) = straight(text + head)
    assert key == "axle"
    assert "bent only 0.8 deg at ride height, about half of it at each cross of its head" in says


def test_the_front_section_has_a_joint_of_its_own() -> None:
    """The bearing on the line that the output points along; the middle joint bends enough."""
    text = spoilt(
        COORDINATES,
        ('joint = ["47 in", "1 1/2 in", "9 in"]', 'joint = ["90 in", "0 in", "12 in"]'),
        ('points_down = "3 deg"', 'points_down = "0 deg"'),
        ('points_right = "1 deg"', 'points_right = "0 deg"'),
    )
    carrier = '\n[carrier]\nbearing = ["50 in", "{left}", "12 in"]\n'
    assert [key for key, _ in straight(text + carrier.format(left="0 in"))] == ["output"]
    assert straight(text + carrier.format(left="1/2 in")) == []


def test_a_steep_middle_joint_is_called_that() -> None:
    text = spoilt(
        COORDINATES,
        ('joint = ["47 in", "1 1/2 in", "9 in"]', 'joint = ["80 in", "0 in", "30 in"]'),
        ('points_right = "1 deg"', 'points_right = "0 deg"'),
    )
    carrier = '\n[carrier]\nbearing = ["40 in", "0 in", "28 in"]\n'
    steep = [n for n in notes(parse_rig(text + carrier)) if n.code == "steep_at_ride"]
    assert [note.key for note in steep] == ["carrier", "axle"]
    assert said(steep[0]).startswith("the middle joint is already bent 4")


def test_no_travel() -> None:
    text = spoilt(PHONE_CALL, ('bump = "4 in"\ndroop = "8 in"', 'bump = "0 in"\ndroop = "0 in"'))
    assert codes(text) == {"no_travel": "travel"}


def test_an_up_that_should_be_a_down() -> None:
    """Shaft 10 deg down: output 4 deg down and pinion 4 deg up bend 6 and 6 deg."""
    text = spoilt(
        PHONE_CALL, ('"3 deg"', '"4 deg"'), ('"14 deg"', '"10 deg"'), ('"1 deg"', '"4 deg"')
    )
    assert codes(text) == {}
    mixed = spoilt(text, ('points_up = "4 deg"', 'points_down = "4 deg"'))
    (note,) = notes(parse_rig(mixed))
    assert (note.code, note.key) == ("direction_word", "axle.points_up")
    assert "bent 6.0 deg and 14.0 deg" in said(note)
    assert "6.0 deg and 6.0 deg" in said(note)
    mixed = spoilt(text, ('points_down = "4 deg"', 'points_up = "4 deg"'))
    assert codes(mixed) == {"direction_word": "output.points_down"}


def test_travel_beyond_the_readings() -> None:
    text = PHONE_CALL + spoilt(
        MEASURED, ('"8 in droop"', '"5 in droop"'), ('"39 1/8 in"', '"37 7/8 in"')
    )
    (note,) = notes(parse_rig(text))
    assert (note.code, note.key) == ("beyond_readings", "travel.droop")
    assert "goes to 8 in (203.2 mm) but was measured to 5 in" in said(note)


def test_a_length_that_changes_the_other_way_than_the_height() -> None:
    text = PHONE_CALL + spoilt(
        MEASURED, ('"35 1/2 in"', '"36 1/2 in"'), ('points_up = "1/2 deg"', 'points_up = "1 deg"')
    )
    (note,) = notes(parse_rig(text))
    assert (note.code, note.key) == ("wrong_way", "suspension.readings[1].length")
    assert "gets longer" in said(note)


def test_a_spring_seat_far_from_the_axle() -> None:
    text = spoilt(COORDINATES, ('seat = ["0 in"', 'seat = ["13 in"'), ('["24 in"', '["40 in"'))
    assert codes(text) == {"seat_away": "suspension.seat"}


SLIDES = """
[shaft]
slip = {{ at = "output", closes = "1 1/2 in", opens = "1 3/4 in", comes_apart = "{apart}" }}
output_end = {{ cross = "27 x 82", output_yoke = {yoke} }}
"""


@pytest.mark.parametrize(
    ("yoke", "apart", "odd"),
    [
        ('"sliding yoke"', "2 5/8 in", False),  # 4.125 in of a barrel of 105 mm, 4.134 in
        ('"sliding yoke"', "3 1/4 in", True),
        ('{ kind = "sliding yoke", barrel_end = "170 mm" }', "3 1/4 in", False),
        ('{ kind = "sliding yoke", barrel_end = "150 mm" }', "5 1/4 in", True),
    ],
)
def test_no_yoke_slides_farther_than_its_barrel_is_long(yoke: str, apart: str, odd: bool) -> None:
    found = [
        note
        for note in notes(parse_rig(PHONE_CALL + SLIDES.format(yoke=yoke, apart=apart)))
        if note.code == "beyond_barrel"
    ]
    assert bool(found) == odd
    for note in found:
        assert note.key == "shaft.slip"
        assert "4 1/8 in (105.0 mm) long" in said(note)
        assert ("generic" in said(note)) == ("barrel_end" not in yoke)


def test_more_things_than_are_soon_looked_at_are_told_with_the_time_they_take() -> None:
    box = '[[surroundings]]\nname = "box {0}"\nbox = {{ at = ["1 in", "{0} in", "9 in"], ' \
        'size = ["1 in", "1 in", "1 in"] }}\n'  # fmt: skip
    many = PHONE_CALL + "\n" + "".join(box.format(i) for i in range(100))
    (note,) = [note for note in notes(parse_rig(many)) if note.code == "many_things"]
    assert note.key == "surroundings"
    assert "100 things near the shaft" in said(note)
    assert "about 25 s" in said(note)
    few = PHONE_CALL + "\n" + "".join(box.format(i) for i in range(20))
    assert "many_things" not in codes(few)
