"""The state in words: that of the pose, that of the whole travel, and how old the answer is."""

from collections.abc import Callable
from dataclasses import replace
from math import degrees

import pytest
from PyQt6.QtCore import QPoint, Qt
from PyQt6.QtWidgets import QPushButton, QWidget
from pytestqt.qtbot import QtBot

from sim.accuracy.sources import sources_of
from sim.bars.doubts import Doubts
from sim.findings import Finding
from sim.turning_over import Turn, TurningOver
from sim.vehicle import Pose
from tests.viewer.session.conftest import RIGS, Scripted, checked, out_of_reach
from tests.viewer.whole_text import check_text
from tests.viewer.window.whole import shown
from viewer.bars.asked import Sure
from viewer.pose.off import posed_off
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.session.told.state_words import UNKNOWN, answer_words
from viewer.session.work import first_said
from viewer.window.kit.theme import DARK, LIGHT, colours, palette_of
from viewer.window.state.head import StateHead
from viewer.window.state.panel import StatePanel
from viewer.words.assumed import assumed_short, assumed_words
from viewer.words.bars import SURE
from viewer.words.finding_facts import LONGEST
from viewer.words.findings import finding_lines, says
from viewer.words.first_page import MEASURE, below_verdict
from viewer.words.now import gap_words, now_limit, now_says, slip_words
from viewer.words.posed import off_said
from viewer.words.problems import problem_words
from viewer.words.turning import turn_line
from viewer.words.units import format_length
from viewer.words.verdicts import CAUTION, first_contact_words

Opening = Callable[..., Session]

RIG = "long-legged-trail-wagon"


@pytest.fixture
def panel(qtbot: QtBot, open_rig: Opening) -> StatePanel:
    made = StatePanel(open_rig(RIG))
    qtbot.addWidget(made)
    made.resize(380, 800)
    made.show()
    return made


@pytest.fixture
def head(qtbot: QtBot, panel: StatePanel) -> StateHead:
    """What stands above the panel, of the same session."""
    return shown(qtbot, StateHead(panel.session), 380, 100)


def measure(session: Session) -> None:
    """Work until the gaps of the pose are known."""
    while len(session.gaps) < 2:
        session.idle()


def findings(panel: StatePanel) -> tuple[Finding, ...]:
    check = panel.session.check
    assert check is not None
    return check.findings


def test_the_words_are_those_of_the_check(panel: StatePanel, head: StateHead) -> None:
    """Every sentence in the panel is one of the report of `check`, and none is left out."""
    result = checked(RIG)
    report = " ".join(check_text(result).split())
    listed = panel.findings
    assert listed.count() == len(result.findings)
    for i, finding in enumerate(result.findings):
        item = listed.item(i)
        assert item is not None
        lines = [*finding_lines(finding), assumed_short(finding.rests_on)]
        assert item.text() == "\n".join(filter(None, lines))
        assert assumed_words(finding) in report
        assert item.toolTip() == f"{i + 1}. {says(finding)}"
        assert says(finding) in report
    page = panel.session.first.page
    assert page is not None
    assert head.verdict_says.text() == f"TOUCHES: {page.says}"
    assert page.says in report
    assert panel.first.says.text() == "\n".join(below_verdict(page))
    assert all(line in report for line in (*page.meets, page.slip))
    assert head.verdict_says.toolTip() == first_contact_words(result)
    assert head.verdict_says.toolTip() in report
    assert panel.caution.text() == CAUTION


def test_the_pose_is_told(panel: StatePanel) -> None:
    session = panel.session
    session.motion.go_to(Pose(-200.0, 0.1, -0.05))
    assert session.now is not None
    assert panel.says.text() == f"TOUCHES: {now_limit(session.now)}"
    assert panel.says.toolTip() == panel.says.accessibleDescription() == now_says(session.now)
    assert panel.mark.verdict == session.now.verdict == "touches"
    assert panel.slip_says.text() == slip_words(session.now)
    assert format_length(float(session.now.state.line.length)) in panel.length.text()
    for name, joint in session.now.joints.items():
        block = panel.joints[name]
        assert block.mark.verdict == joint.verdict
        assert f"bends {degrees(joint.bend):.1f} deg" in block.bend.text()


def test_gaps_come_later(panel: StatePanel) -> None:
    session, block = panel.session, panel.joints["pinion"]
    session.motion.go(travel=-30.0)
    assert UNKNOWN in block.room.text()
    assert UNKNOWN in block.nearest.text()
    measure(session)
    gap = session.gaps["pinion"]
    assert block.room.text() == f"at this turn: gap {gap_words(gap.distance)}"
    one, other = gap.surfaces
    assert block.nearest.text().startswith("nearest: ")
    assert one in block.nearest.text()
    assert other in block.nearest.text()


def test_metal_in_metal_is_said(panel: StatePanel) -> None:
    session = panel.session
    finding = next(f for f in findings(panel) if f.subject == "pinion")
    session.go_to(finding)
    measure(session)
    assert session.gaps["pinion"].overlaps
    assert panel.joints["pinion"].room.text() == "at this turn: metal in metal"
    assert panel.joints["pinion"].nearest.text().startswith("in each other: ")


def test_a_click_on_a_finding_goes_to_its_worst_pose(panel: StatePanel, qtbot: QtBot) -> None:
    listed, session = panel.findings, panel.session
    for row in (1, 0):
        item = listed.item(row)
        viewport = listed.viewport()
        assert item is not None
        assert viewport is not None
        listed.scrollToItem(item)
        middle = listed.visualItemRect(item).center()
        qtbot.mouseClick(viewport, Qt.MouseButton.LeftButton, pos=middle)
        assert session.motion.at == findings(panel)[row].at


@pytest.mark.parametrize("strays", [0, 40], ids=["still", "strays"])
def test_a_click_means_the_row_that_was_pressed_wherever_the_rows_are_at_its_end(
    panel: StatePanel, qtbot: QtBot, strays: int
) -> None:
    """The list unfolds and may scroll under a finger; a finger that moves away means nothing."""
    listed = panel.findings
    port, place = listed.viewport(), listed.visualItemRect(listed.item(1)).center()
    assert port is not None
    qtbot.mousePress(port, Qt.MouseButton.LeftButton, pos=place)
    up = listed.visualItemRect(listed.item(1)).height()
    listed.move(listed.x(), listed.y() - up)
    end = place + QPoint(strays, up)  # the same place of the screen, or one beside it
    qtbot.mouseRelease(port, Qt.MouseButton.LeftButton, pos=end)
    at = findings(panel)[1].at
    assert at is not None
    assert (panel.session.motion.at == at) == (strays == 0)


def test_enter_on_a_finding_goes_to_its_worst_pose(panel: StatePanel, qtbot: QtBot) -> None:
    panel.findings.setCurrentRow(3)
    panel.session.motion.go(travel=1.0)
    qtbot.keyClick(panel.findings, Qt.Key.Key_Return)
    assert panel.session.motion.at == findings(panel)[3].at


def test_what_is_chosen_stands_unfolded_and_the_list_is_as_high_as_its_rows(
    panel: StatePanel,
) -> None:
    listed = panel.findings

    def rows() -> list[int]:
        return [listed.visualItemRect(listed.item(i)).height() for i in range(listed.count())]

    folded = rows()
    assert listed.height() == sum(folded)
    line = listed.fontMetrics().lineSpacing()
    panel.resize(700, 800)
    for high, finding in zip(rows(), findings(panel), strict=True):
        lines = 3 if finding.rests_on else 2
        assert lines * line <= high < (lines + 0.8) * line, "as many lines where it is wide"
    panel.resize(380, 800)
    listed.setCurrentRow(1)
    item = listed.item(1)
    assert item is not None
    chosen = findings(panel)[1]
    assert item.text().endswith(f"\n{says(chosen)}\n{assumed_words(chosen)}".rstrip())
    assert listed.height() == sum(rows()) > sum(folded)
    bar = listed.verticalScrollBar()
    assert bar is not None
    assert bar.maximum() == 0, "the panel is the only one that scrolls"
    shown = panel.area.viewport()
    assert shown is not None
    top = listed.mapTo(shown, listed.visualItemRect(item).topLeft())
    assert shown.rect().contains(top), "what was chosen is scrolled to"
    listed.clearSelection()
    assert rows() == folded


def test_the_choice_goes_when_the_axle_moves_on(panel: StatePanel) -> None:
    listed, session = panel.findings, panel.session
    listed.setCurrentRow(1)
    session.go_to(findings(panel)[1])
    assert listed.chosen == 1, "this is its pose"
    session.motion.go(spin=2.0)
    assert listed.chosen == 1, "whatever the turn"
    session.motion.go(travel=-33.0)
    assert listed.chosen is None
    listed.setCurrentRow(2)
    assert listed.chosen == 2, "a look at another one is no move"


def test_the_choice_keeps_to_its_finding_when_the_list_is_sorted_anew(
    panel: StatePanel, worker: Scripted
) -> None:
    listed, session = panel.findings, panel.session
    listed.setCurrentRow(1)
    session.go_to(findings(panel)[1])
    chosen = findings(panel)[1]
    session.document.set({"travel.bump": "5 in"})
    old = checked(RIG)
    turned = replace(old, findings=(chosen, *(f for f in old.findings if f is not chosen)))
    worker.say(answer=turned)
    session.tick()
    assert listed.chosen == 0
    moved = replace(chosen, at=Pose(-10.0))
    session.document.set({"travel.bump": "4 in"})
    worker.say(answer=replace(old, findings=(old.findings[0], moved, *old.findings[2:])))
    session.tick()
    assert listed.chosen is None, "its worst pose is another one now"


def test_the_first_page_stands_above_the_pose_and_the_findings(panel: StatePanel) -> None:
    """In the order of the printed page: what meets, slip; then the pose; then the list."""

    def top(widget: QWidget) -> int:
        return widget.mapTo(panel, widget.rect().topLeft()).y()

    order = (panel.first, panel.says, panel.findings)
    assert [top(each) for each in order] == sorted(top(each) for each in order)
    assert panel.first.isVisible()


def test_what_was_tried_joins_the_page_when_it_is_known(
    panel: StatePanel, monkeypatch: pytest.MonkeyPatch, worker: Scripted
) -> None:
    """A process is asked only for an answer that stands for a while, and never twice."""
    first = panel.session.first
    monkeypatch.setattr(first_said, "kept_turning", lambda _: None)
    clock = [0.0]
    monkeypatch.setattr(first_said, "monotonic", lambda: clock[0])
    first.look()
    panel.session.tick()
    assert not first.trying.is_computing
    clock[0] = first_said.PATIENCE
    panel.session.tick()
    assert first.trying.is_computing
    first.look()  # as when cures were found meanwhile
    clock[0] = 3.0 * first_said.PATIENCE
    panel.session.tick()
    assert len(worker.others["turning"].jobs) == 1
    turn = Turn(
        "travel.wrap_at_droop", "100 %", {"travel.wrap_at_droop": "0 %"}, "close", True, 1.0
    )
    worker.others["turning"].say(answer=TurningOver((turn,), None))
    panel.session.tick()
    assert f"{MEASURE} {turn_line(turn)}." in panel.first.says.text()
    first.look()
    clock[0] = 9.0
    panel.session.tick()
    assert not first.trying.is_computing


def test_how_far_off_the_pose_may_be_follows_it(panel: StatePanel) -> None:
    """By the tape's and the angle finder's usual error; nothing once nothing is known of it."""
    session, off = panel.session, panel.off
    assert not off.isVisible()
    check = session.check
    assert check is not None
    session.sure.sure = Sure(doubts=Doubts(tuple(sources_of(check.found.rig))))
    session.sure.changed.emit()
    told = []
    for travel in (0.0, -220.0):
        session.motion.go(travel=travel)
        while session.idle():
            pass
        assert session.now is not None
        known = posed_off(session.now, session.sure.sure.doubts)
        assert known is not None
        assert off.isVisible()
        assert off.text() == f"{SURE} {off_said(known)}."
        told.append(off.text())
    assert "clear here" in told[0]
    assert "touches here" in told[1]
    assert "give or take: output bend" in told[1]
    session.sure.forget()
    while session.idle():
        pass
    assert not off.isVisible()


def test_another_rig_shows_nothing_of_how_far_off_the_last_one_was(panel: StatePanel) -> None:
    session = panel.session
    assert session.check is not None
    session.sure.sure = Sure(doubts=Doubts(tuple(sources_of(session.check.found.rig))))
    session.sure.changed.emit()
    while session.idle():
        pass
    assert panel.off.isVisible()
    session.open(Document.open(RIGS / f"{RIG}.toml"))
    assert session.off is None
    assert not panel.off.isVisible()


@pytest.mark.parametrize("scrolled", [False, True], ids=["by keys", "scrolled to"])
def test_what_comes_later_above_the_findings_moves_none_from_under_a_hand(
    panel: StatePanel, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, scrolled: bool
) -> None:
    """Otherwise a click that is on its way meets something else, or nothing."""
    bar, found, sure = panel.area.verticalScrollBar(), panel.findings, panel.session.sure
    assert bar is not None
    panel.resize(380, 400)
    qtbot.waitUntil(lambda: bar.maximum() > 100)
    if scrolled:
        bar.setValue(bar.maximum())
    else:
        monkeypatch.setattr(found, "hasFocus", lambda: True)

    def stands() -> tuple[int, int]:
        return found.mapTo(panel, found.rect().topLeft()).y(), found.y()

    for why in ("Line upon line of why nobody can tell. " * 9, ""):
        before = stands()
        sure.sure = Sure(why=why)
        sure.changed.emit()
        after = stands()
        assert after[0] == before[0], "its place on the screen"
        assert abs(after[1] - before[1]) > 20, "its place below what was written"


def test_nothing_is_tried_for_an_answer_that_is_old(
    panel: StatePanel, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = panel.session.first
    monkeypatch.setattr(first_said, "kept_turning", lambda _: None)
    monkeypatch.setattr(first_said, "PATIENCE", 0.0)
    first.look()
    panel.session.document.set({"travel.droop": "lots"})
    panel.session.tick()
    assert not first.trying.is_computing


def test_an_old_answer_is_grey_and_says_that_it_is_old(panel: StatePanel, head: StateHead) -> None:
    session = panel.session
    marks = [panel.mark, head.verdict, *(block.mark for block in panel.joints.values())]
    icon = panel.findings.item(0).icon().pixmap(40, 40).toImage()
    assert not any(mark.is_old for mark in marks)
    session.document.set({"travel.droop": "lots"})
    assert all(mark.is_old for mark in marks)
    assert all(mark.accessibleName().startswith("Old answer: ") for mark in marks)
    for label in (panel.says, head.verdict_says):
        assert label.text().startswith("OLD ANSWER: ")
    lively = marks[0].grab().toImage()
    look = colours(panel)
    shades = {lively.pixelColor(x, lively.height() // 2).name() for x in range(lively.width())}
    assert look.verdicts[marks[0].verdict or "clear"] not in shades
    assert look.line in shades
    assert panel.findings.item(0).icon().pixmap(40, 40).toImage() != icon
    session.document.undo()
    session.motion.go(travel=-20.0)
    assert panel.mark.is_old, "until there is a new one"


def test_the_marks_of_the_findings_take_on_a_dark_palette(panel: StatePanel) -> None:
    """The palette reaches the list after the panel around it has been told."""

    def shades() -> set[str]:
        picture = panel.findings.item(0).icon().pixmap(panel.findings.iconSize()).toImage()
        return {
            picture.pixelColor(x, y).name()
            for x in range(picture.width())
            for y in range(picture.height())
        }

    assert LIGHT.verdicts["touches"] in shades()
    panel.setPalette(palette_of(DARK))
    assert DARK.verdicts["touches"] in shades()
    assert LIGHT.verdicts["touches"] not in shades()


@pytest.mark.slow
@pytest.mark.parametrize("rig", sorted(path.stem for path in RIGS.glob("*.toml")))
def test_every_finding_of_every_rig_has_two_short_lines(rig: str) -> None:
    for finding in checked(rig).findings:
        head, rest = finding_lines(finding)
        assert 0 < len(head) <= LONGEST, head
        assert 0 < len(rest) <= LONGEST, rest


def test_a_fresh_answer_shows_no_bar(panel: StatePanel) -> None:
    assert not panel.answer.isVisible()
    assert answer_words(panel.session) == ""


def test_computing_shows_how_far_it_is_and_can_be_stopped(
    panel: StatePanel, head: StateHead, qtbot: QtBot, worker: Scripted
) -> None:
    bar, session = panel.answer, panel.session
    session.document.set({"travel.droop": "6 in"})
    worker.say(what="sweeping the travel", share=0.8)
    session.tick()
    assert bar.isVisible()
    assert bar.progress.isVisible()
    assert bar.progress.value() == 800
    assert bar.words.text() == "Old answer; computing: sweeping the travel."
    assert head.verdict_says.text().startswith("OLD ANSWER: touches; ")
    qtbot.mouseClick(bar.button, Qt.MouseButton.LeftButton)
    assert session.answers.state == "stopped"
    assert bar.words.text() == "Old answer: computing was stopped."
    assert not bar.progress.isVisible()
    qtbot.mouseClick(bar.button, Qt.MouseButton.LeftButton)
    assert session.answers.is_computing
    assert worker.jobs[-1][1] == session.document.text
    worker.say(answer=checked(RIG))
    session.tick()
    assert not bar.isVisible()
    assert head.verdict_says.text().startswith("TOUCHES: ")


def test_a_rig_that_is_not_right_says_what_is_wrong(panel: StatePanel) -> None:
    session, bar = panel.session, panel.answer
    session.document.set({"travel.droop": "lots"})
    assert bar.isVisible()
    assert bar.words.text().startswith("Old answer: the rig is not right just now. travel.droop")
    assert problem_words(session.document.problems[0]) in bar.words.text()
    assert not bar.button.isVisible()
    session.document.set({"travel.bump": "lots"})
    assert "And 1 more." in bar.words.text()
    assert panel.findings.count() == len(findings(panel))


@pytest.mark.parametrize("bug", [False, True])
def test_a_failure_gives_its_reason(panel: StatePanel, worker: Scripted, bug: bool) -> None:
    session = panel.session
    session.document.set({"travel.droop": "6 in"})
    worker.say(fault="the ears overlap", bug=bug)
    session.tick()
    words = panel.answer.words.text()
    assert words.startswith("Old answer: the ears overlap.")
    assert ("fault of the program" in words) == bug
    assert panel.answer.button.isVisible()


def test_out_of_reach_is_said(panel: StatePanel, monkeypatch: pytest.MonkeyPatch) -> None:
    session = panel.session
    assert session.now is not None
    far = out_of_reach(session.now)
    monkeypatch.setattr("viewer.session.session.pose_of", lambda *_: far)
    session.motion.go(travel=-7.0)
    assert panel.says.text() == "OUT OF REACH: suspension and shaft cannot get here"
    assert panel.says.toolTip().startswith("Out of reach: ")
    assert panel.slip_says.text() == ""
    assert panel.joints["pinion"].bend.text() == ""
    assert panel.slip.slip_now() is None
    assert not panel.grab().isNull()


def test_the_slip_bar_holds_everything(panel: StatePanel) -> None:
    bar, result = panel.slip, checked(RIG)
    has = result.found.swept.slip.has
    inside = (-has.closes, 0.0, has.opens, has.comes_apart or 0.0)
    places = [bar.x_of(slip) for slip in inside]
    assert places == sorted(places)
    assert places[0] > 0.0
    assert places[-1] < bar.width()
    panel.session.motion.go(travel=-100.0)
    now = panel.session.now
    assert now is not None
    assert bar.slip_now() == pytest.approx(now.closes_left - has.closes, abs=1e-9)


def test_before_any_answer(qtbot: QtBot, worker: Scripted) -> None:
    session = Session(Document.open(RIGS / f"{RIG}.toml"), worker)
    panel = StatePanel(session)
    qtbot.addWidget(panel)
    panel.show()
    assert panel.says.text() == "No answer yet."
    assert panel.answer.words.text() == "No answer yet; computing: starting."
    assert panel.findings.count() == 0
    assert not panel.grab().isNull()
    worker.say(answer=checked(RIG))
    session.tick()
    assert panel.findings.count() == len(checked(RIG).findings)
    assert list(panel.joints) == ["output", "pinion"]
    session.open(Document.open(RIGS / "marsh-runner.toml"))
    assert panel.findings.count() == 0
    assert panel.says.text() == "No answer yet."
    session.close()


def test_names_for_those_who_do_not_see(panel: StatePanel) -> None:
    item = panel.findings.item(0)
    assert item is not None
    assert item.data(Qt.ItemDataRole.AccessibleTextRole).startswith("TOUCHES: 1. ")
    assert panel.mark.accessibleName() in ("CLEAR", "CLOSE", "TOUCHES")
    assert panel.joints["pinion"].accessibleDescription()
    assert all(button.text() for button in panel.findChildren(QPushButton))


@pytest.mark.parametrize(("width", "height"), [(260, 300), (380, 1100), (900, 500)])
def test_it_draws_at_any_size(panel: StatePanel, width: int, height: int) -> None:
    panel.resize(width, height)
    panel.findings.setCurrentRow(0)
    assert not panel.grab().isNull()


def test_one_press_drives_to_the_worst_and_a_second_pushes_on(
    panel: StatePanel, head: StateHead, qtbot: QtBot
) -> None:
    """What met is said where it is seen, whatever is scrolled or open below."""
    motion, press = panel.session.motion, head.show_me
    assert press.text() == "Show me where it binds"
    assert not head.told.isVisible()
    low = head.height()
    qtbot.mouseClick(press, Qt.MouseButton.LeftButton)
    assert press.text() == "Pause"
    while motion.playing:
        motion.advance(0.1)
    assert press.text() == "Push on"
    assert head.told.isVisible()
    assert head.told.text() == motion.said
    assert motion.said.startswith("Stopped: ")
    assert head.told.font().bold()
    assert head.height() > low
    assert head.rect().contains(head.told.geometry())
    qtbot.mouseClick(press, Qt.MouseButton.LeftButton)
    while motion.playing:
        motion.advance(0.1)
    assert press.text() == "Show me where it binds"
    panel.session.document.set({"shaft.slip.closes": "2 in"})
    assert not head.told.isVisible(), "another rig"
    assert not press.isEnabled()


@pytest.mark.parametrize(
    ("rig", "offer"),
    [
        ("quarry-hauler", "Show me the tightest spot"),
        ("goat-path-buggy", "Show me where it runs out"),
    ],
)
def test_what_is_offered_is_what_the_worst_is(
    qtbot: QtBot, open_rig: Opening, rig: str, offer: str
) -> None:
    head = shown(qtbot, StateHead(open_rig(rig)), 380, 100)
    assert head.show_me.text() == offer
    clear = head.session.check is not None and head.session.check.verdict == "clear"
    assert head.cure.isVisible() == (not clear)
