"""A shop's settled joints: the file, what is wrong with one, and how it shifts the odds."""

import re
import tomllib
from pathlib import Path

import jsonschema
import pytest

from sim.causes import Beta, infer, load_graph
from sim.causes.confirmed import (
    Confirmed,
    SettledJoint,
    Shift,
    confirmed_from_data,
    confirmed_schema,
    load_confirmed,
    none_confirmed,
    save_confirmed,
)
from sim.table.problems import RigError

DATA = {
    "schema": 1,
    "kind": "confirmed causes",
    "joints": [
        {"causes": ["bound"], "job": "blue truck", "proved": "straps, a year"},
        {"causes": ["bound", "bad-yoke"]},
        {"causes": ["dry-cap"]},
        {"causes": ["bound"]},
        {"causes": ["water"]},
    ],
}


def told(data):
    with pytest.raises(RigError) as caught:
        confirmed_from_data(data)
    return [(p.key, p.came, str(p.expected)) for p in caught.value.problems]


def test_three_of_five_cases():
    # Beta(2, 8), 3 of 5: mean 5/15 [derivation].
    assert Beta(2.0, 8.0).after(3, 5).mean == pytest.approx(1.0 / 3.0, abs=1e-15)
    shift = Shift("bound", Beta(2.0, 8.0), 3, 5)
    assert shift.after == Beta(5.0, 10.0)


def test_every_joint_counts_once_for_each_of_its_causes():
    confirmed = confirmed_from_data(DATA)
    shifts = {shift.cause: shift for shift in confirmed.shifts(load_graph())}
    assert (shifts["bound"].found, shifts["bound"].of) == (3, 5)
    assert (shifts["bad-yoke"].found, shifts["bad-yoke"].of) == (1, 5)
    assert (shifts["hop"].found, shifts["hop"].of) == (0, 5)
    before = shifts["bound"].before
    assert shifts["bound"].after.mean == pytest.approx((before.yes + 3.0) / 15.0, abs=1e-15)
    assert shifts["hop"].after.mean < shifts["hop"].before.mean


def test_nothing_settled_changes_nothing():
    graph = load_graph()
    evidence = {"came-apart": True, "half-moons": True}
    plain = infer(graph, evidence).odds
    shifted = infer(graph, evidence, none_confirmed().priors(graph)).odds
    assert {**shifted} == pytest.approx({**plain}, abs=1e-14)


def test_what_a_shop_often_finds_gets_likelier_there():
    graph = load_graph()
    evidence = {"came-apart": True, "corners-worn": True}
    plain = infer(graph, evidence).odds
    shifted = infer(graph, evidence, confirmed_from_data(DATA).priors(graph)).odds
    assert shifted["bound"] > plain["bound"]
    assert shifted["hop"] < plain["hop"]


def test_there_and_back(tmp_path):
    path = tmp_path / "confirmed.toml"
    confirmed = confirmed_from_data(DATA)
    save_confirmed(confirmed, path)
    assert load_confirmed(path) == confirmed
    more = confirmed_from_data({**DATA, "joints": [*DATA["joints"], {"causes": ["hop"]}]})
    save_confirmed(more, path)
    assert load_confirmed(path).found("hop") == 1
    save_confirmed(none_confirmed(), path)
    assert load_confirmed(path).joints == ()


def test_its_schema_takes_what_is_taken_and_refuses_what_is_refused():
    schema = confirmed_schema()
    jsonschema.validate(DATA, schema)
    for bad in ({**DATA, "kind": "rig"}, {**DATA, "joints": [{"causes": []}]}):
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate(bad, schema)


def test_what_is_wrong_is_said_at_its_key():
    def joint(**keys):
        return {**DATA, "joints": [{"causes": ["bound"]}, keys]}

    assert told(joint(causes=["bond"])) == [
        (
            "joints[2].causes[1]",
            '"bond"',
            "bound, the nearest of " + ", ".join(load_graph().codes),
        )
    ]
    ((key, _, expected),) = told(joint(causes=[]))
    assert key == "joints[2].causes"
    assert "at least one cause" in expected
    ((key, came, _),) = told(joint(causes=["hop", "hop"]))
    assert (key, came) == ("joints[2].causes", '["hop", "hop"]')
    ((key, _, expected),) = told(joint(cause=["hop"]))
    assert key == "joints[2].cause"
    assert "causes" in expected
    ((key, _, expected),) = told({**DATA, "kind": "inspection"})
    assert (key, expected) == ("kind", 'kind = "confirmed causes"')
    assert told({**DATA, "schema": 2})[0][0] == "schema"
    assert told({**DATA, "joints": {"causes": ["hop"]}})[0][0] == "joints"


def test_a_rig_file_is_no_such_file(tmp_path):
    path = tmp_path / "rig.toml"
    path.write_text('schema = 1\n[output]\npoints_down = "3 deg"\n', encoding="utf-8")
    with pytest.raises(RigError, match="kind"):
        load_confirmed(path)
    with pytest.raises(RigError, match="no such file"):
        load_confirmed(tmp_path / "none.toml")


def test_it_cannot_be_changed():
    confirmed = confirmed_from_data(DATA)
    assert isinstance(confirmed, Confirmed)
    with pytest.raises(ValueError, match="frozen"):
        confirmed.joints = ()


def test_the_page_tells_of_every_key_and_its_example_is_sound():
    page = (Path(__file__).parents[3] / "docs/confirmed-causes.md").read_text("utf-8")
    (example,) = re.findall(r"```toml\n(.*?)```", page, re.DOTALL)
    confirmed = confirmed_from_data(tomllib.loads(example))
    assert [joint.causes for joint in confirmed.joints] == [("bound",), ("bad-yoke", "dry-cap")]
    assert set(re.findall(r"^\| `(\w+)` \|", page, re.MULTILINE)) == set(SettledJoint.model_fields)
