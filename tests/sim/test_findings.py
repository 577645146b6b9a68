"""The order findings are told in."""

from math import inf

from hypothesis import given
from hypothesis import strategies as st

from sim.findings import ORDER, Finding, Measure, by_gravity
from sim.vehicle import Pose


def finding(verdict, margin, unit="deg", reserve=2.0, first=None, subject=""):
    name = "reserve_deg" if unit == "deg" else "reserve_mm"
    number = Measure(margin, unit)
    detail = {name: reserve} | ({} if first is None else {"first": Pose(travel=first)})
    return Finding("joint-bend", verdict, subject, number, number, number, None, detail)


def test_what_stops_the_axle_soonest_is_told_first_up_or_down() -> None:
    late = finding("touches", -9.0, first=-190.0)
    soon = finding("touches", -1.0, first=40.0)
    slip = finding("touches", -30.0, "mm", 19.0)
    assert by_gravity([slip, late, soon]) == (soon, late, slip)


def test_degrees_and_lengths_compare_by_their_reserves() -> None:
    bend = finding("clear", 6.0, "deg", 2.0)
    slip = finding("clear", 40.0, "mm", 20.0)
    none = finding("clear", 0.1, "mm", 0.0)
    assert by_gravity([none, bend, slip]) == (slip, bend, none)


@given(
    st.lists(
        st.builds(
            finding,
            st.sampled_from(ORDER),
            st.floats(-50, 50),
            st.sampled_from(["deg", "mm"]),
            st.sampled_from([0.0, 2.0, 19.0]),
            st.none() | st.floats(-300, 300),
        )
    )
)
def test_verdicts_fall_and_nothing_is_lost(findings: list[Finding]) -> None:
    told = by_gravity(findings)
    ranks = [ORDER.index(each.verdict) for each in told]
    assert ranks == sorted(ranks, reverse=True)
    assert sorted(map(id, told)) == sorted(map(id, findings))
    assert by_gravity(list(told)) == told
    assert all(abs(each.margin.value) < inf for each in told)
