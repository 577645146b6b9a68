"""docs/guide.md explains every key, code, column and exit code that programs may read."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args

from sim.check import check
from sim.findings import Code, Verdict
from sim.pose import check_pose
from sim.vehicle import RIDE
from viewer.check_json import check_data
from viewer.check_table import COLUMNS
from viewer.command_line import BAD_INPUT, CLEAR, TOUCHES
from viewer.commands.joint import joint_data
from viewer.commands.pose import posed_data
from viewer.rigs import DEMO, demo_names, named_rig

PAGE = (Path(__file__).parents[1] / "docs" / "guide.md").read_text("utf-8")
NAMES = re.findall(r"`([^`]+)`", re.sub(r"```.*?```", "", PAGE, flags=re.DOTALL))
WORDS = set(re.findall(r"[a-z_]+(?:-[a-z]+)*", " ".join(NAMES)))


def keys(data: Any) -> Iterator[str]:
    if isinstance(data, dict):
        yield from data
        for value in data.values():
            yield from keys(value)
    elif isinstance(data, list):
        for value in data:
            yield from keys(value)


def test_every_key_of_the_json_is_explained() -> None:
    rig = named_rig("demo:long-legged-trail-wagon")
    result = check(rig)
    found = result.joints["pinion"]
    answers = [
        check_data(result, rig.name),
        joint_data(found.hardware, found.curve),
        posed_data(check_pose(rig, RIDE, 0.0), rig.name),
    ]
    assert answers[0]["first_contact"] is not None
    for answer in answers:
        assert set(keys(answer)) <= WORDS


def test_every_code_verdict_and_column_is_explained() -> None:
    assert {*get_args(Code), *get_args(Verdict), *COLUMNS} <= WORDS


def test_exit_codes_are_those_of_the_page() -> None:
    said = f"Exit codes: {CLEAR} clear or close, {TOUCHES} touches or runs out, {BAD_INPUT} bad"
    assert said in PAGE


def test_every_demo_rig_is_named() -> None:
    assert [DEMO + name for name in demo_names() if f"`{DEMO}{name}`" not in PAGE] == []
