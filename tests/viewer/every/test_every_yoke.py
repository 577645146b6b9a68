"""Every kind of yoke is known to all who ask for yokes, draw them or write them down."""

import tomllib
from html import escape
from pathlib import Path

import numpy as np
import pytest

from geometry.head import CentreYoke
from geometry.yoke import YOKES
from sim.parts.caliper import caliper_form, doubts
from sim.parts.catalogue import yoke_kinds, yoke_shape
from tests.geometry.yoke_samples import SAMPLES
from tests.viewer.recording_stage import RecordingStage
from viewer.caliper.drawing import drawing, plan_of
from viewer.caliper.form import form_page, generic_words, yoke_table
from viewer.interview.script import parts
from viewer.scene.parts import LOOKS, MATERIALS, body_parts
from viewer.scene.yoke_shelf import YokeShelf, shown_parts
from viewer.session.sheet.yoke_pick import YokePick
from viewer.session.text.document import Document
from viewer.yoke.lines import caliper_lines

CROSS = "27 x 82"

PLACES = tuple(
    f"shaft.{end}_end.{place}"
    for end, own in (("output", "output_yoke"), ("pinion", "pinion_yoke"))
    for place in (own, "shaft_yoke")
)

every_yoke = pytest.mark.parametrize("kind", yoke_kinds())


@every_yoke
def test_the_page_of_rig_files_tells_it(kind: str) -> None:
    page = Path(__file__).parents[3].joinpath("docs", "rig-file.md").read_text("utf-8")
    assert kind.removeprefix("deep-throat ") in page


def test_every_kind_has_its_sample_for_the_tests_they_share() -> None:
    """And no kind is made without being in the catalogue, but the middle yoke of a head."""
    assert {sample.shape.kind for sample in SAMPLES.values()} - {CentreYoke.kind} == set(YOKES)


@every_yoke
def test_it_has_a_place_on_what_carries_it(kind: str) -> None:
    """On the shaft a tube butts against it; on output and pinion it has a seat of its own."""
    shape = yoke_shape(kind, CROSS)
    assert (shape.tube_from is not None) == (shape.sits == "shaft")
    assert (shape.seat is None) == (shape.sits == "shaft")
    assert (shape.barrel is not None) == shape.slides


@pytest.mark.slow
@every_yoke
def test_its_caliper_form(kind: str) -> None:
    shape, page, form = yoke_shape(kind, CROSS), form_page(kind, CROSS), caliper_form(kind, CROSS)
    assert form
    for reading in form:
        assert generic_words(reading)
        assert drawing(shape, reading.name).startswith("<svg")
        assert escape(reading.asks) in page
    generic = {reading.name: reading.generic for reading in form}
    assert doubts(kind, CROSS, generic) == ()
    lines = caliper_lines(CROSS, yoke_table(kind, CROSS, generic), len(form), len(form))
    assert kind in str(tomllib.loads(lines))


@every_yoke
def test_it_is_asked_for(kind: str) -> None:
    asked = [each for each in parts({}) if each.asks.startswith("Which kind of yoke")]
    assert asked
    for question in asked:
        assert kind in question.means
        assert kind in question.read(kind).values()


@every_yoke
def test_it_fits_somewhere_and_can_be_chosen_there(kind: str) -> None:
    picks = [YokePick(Document.demo("long-legged-trail-wagon"), place) for place in PLACES]
    assert any(kind in pick.kinds for pick in picks)


@pytest.mark.slow
@every_yoke
def test_every_reading_has_a_cut(kind: str) -> None:
    shape = yoke_shape(kind, CROSS)
    read = [each.name for each in shape.readings()]
    assert len(read) == len(set(read))
    for each in shape.readings():
        assert each.dimension in shape.dimensions()
        plan = plan_of(shape, each.name)
        assert (plan.high > plan.low).all()


@every_yoke
def test_it_is_drawn_every_piece_with_a_look_of_its_own(kind: str) -> None:
    """What has no look is drawn in the steel of the forging, as the body and what it meets."""
    yoke = yoke_shape(kind, CROSS).build()
    assert set(yoke.parts) - {"body", "mating flange"} <= set(LOOKS)
    for part in body_parts("yoke", yoke, np.eye(4), "light steel"):
        assert part.material in MATERIALS
    stage = RecordingStage()
    YokeShelf((shown_parts(yoke),)).draw(stage, stage.region)
    assert stage.calls
