"""Every kind of suspension is asked for, typed, told and drawn."""

import json
from pathlib import Path
from typing import get_args

import pytest

from sim.check import check
from sim.derive import vehicle_of
from sim.rig import Rig, demo_names, load_demo
from sim.rig.json_schema import json_schema
from sim.suspension import KINDS, Kind, SuspensionTable
from sim.table.structure import kinds_of
from tests.sim import vehicles
from tests.viewer.recording_stage import RecordingStage
from tests.viewer.whole_text import check_text
from viewer.check.json import check_data
from viewer.check.picture import check_picture
from viewer.interview.script import suspension
from viewer.scene.parts import MATERIALS
from viewer.scene.suspension import LOOK, suspension_parts
from viewer.session.sheet.sheet import sheet
from viewer.session.text.document import Document

every_kind = pytest.mark.parametrize("kind", KINDS)


def rig_of(kind: str) -> Rig:
    """A demo rig of the kind."""
    rigs = [rig for rig in map(load_demo, demo_names()) if rig.suspension.kind == kind]
    assert rigs, f"no demo rig in models/rigs has a suspension of the kind {kind}"
    return rigs[0]


def test_schema_and_registry_know_the_same_kinds() -> None:
    assert tuple(KINDS) == get_args(Kind)
    tables = get_args(get_args(SuspensionTable)[0])
    assert {kinds_of(table): table for table in tables} == {(k,): t for k, t in KINDS.items()}


def test_the_general_tests_of_motion_take_every_kind() -> None:
    """Sets of links have so many shapes that they have tests of their own."""
    assert {*vehicles.KINDS, "links"} == set(KINDS)


@every_kind
def test_the_page_of_rig_files_tells_it(kind: Kind) -> None:
    page = Path(__file__).parents[3].joinpath("docs", "rig-file.md").read_text("utf-8")
    assert f'"{kind}"' in page


@every_kind
def test_it_starts_from_a_table_that_the_schema_takes(kind: Kind) -> None:
    """Chosen on a rig whose axle moves otherwise."""
    rig = load_demo("quarry-hauler")
    for start in KINDS[kind].starts(vehicle_of(rig), rig.travel):
        assert KINDS[kind].model_validate({"kind": kind, **start}).kind == kind


@every_kind
def test_it_is_asked_for(kind: str) -> None:
    question = next(each for each in suspension({}) if each.name == "suspension.kind")
    assert f"{kind}:" in question.means
    assert question.read(kind) == {"suspension.kind": kind}


@every_kind
def test_it_is_typed_on_the_sheet_and_known_to_editors(kind: str) -> None:
    rows = {
        field.key: field for group in sheet(Document.of(rig_of(kind))) for field in group.fields
    }
    assert kind in rows["suspension.kind"].choices
    assert f'"{kind}"' in json.dumps(json_schema())


@pytest.mark.slow
@every_kind
def test_it_is_told_and_drawn(kind: str) -> None:
    result = check(rig_of(kind))
    assert check_text(result)
    assert json.dumps(check_data(result, result.rig.name), allow_nan=False)
    picture = check_picture(result)
    stage = RecordingStage(picture.size)
    picture.draw(stage, stage.region)
    assert stage.calls
    vehicle = result.derivation.vehicle
    drawn = {call.told["paint"] for call in stage.of("solid", "shaft")}
    assert bool(list(suspension_parts(vehicle))) == (MATERIALS[LOOK] in drawn)
