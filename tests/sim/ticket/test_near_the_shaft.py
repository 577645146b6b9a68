"""What lives around the shaft is judged on the ticket as a check judges it."""

import pytest

from sim.check import check
from sim.ticket.ticket import build_ticket
from tests.sim.ticket.rigs import with_crossmember
from viewer.words.remarks import said


@pytest.mark.slow
@pytest.mark.parametrize(
    ("height", "wanted", "code", "verdict"),
    [
        ("4 in", "1/2 in", ["hits-surroundings"], "touches"),
        ("10 1/4 in", "4 in", ["near-surroundings"], "close"),
        ("10 1/4 in", "1/2 in", [], "clear"),
    ],
)
def test_a_crossmember_is_judged_as_by_check(
    height: str, wanted: str, code: list[str], verdict: str
) -> None:
    rig = with_crossmember(height, wanted)
    made, checked = build_ticket(rig), check(rig)
    assert [flag.code for flag in made.flags if "crossmember" in said(flag)] == code
    found = [each.verdict for each in checked.findings if each.code == "surroundings"]
    assert found == [verdict]
    assert made.stops == (verdict == "touches")
    assert made.found.near[0].gap_mm == checked.found.near[0].gap_mm
