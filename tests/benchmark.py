"""Measured speed, as values against the targets and as ratios within one run.

Run `python -m tests.benchmark`; `--write FILE` also writes the table as Markdown with machine and
date. Not a test: nothing fails on a slow machine.
"""

import argparse
import os
import platform
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from math import degrees, pi
from pathlib import Path
from time import perf_counter
from unittest.mock import patch

import numpy as np
import trimesh

from geometry.contact.distance import MeshPair
from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.touch import touch_curve
from geometry.joint import driven_in_driving
from geometry.mesh import Mesh
from sim.bench.both_cores import AllCores
from sim.bench.curves import library
from sim.bench.first import first_shape
from sim.bench.forecast import learnt
from sim.bench.free import doubt_of
from sim.check import check
from sim.cures import find_cures
from sim.derive import vehicle_of
from sim.kept import answers as kept
from sim.line import line, margins
from sim.parts.catalogue import cross_shape, yoke_shape
from sim.rig import Rig
from viewer.rigs import demo_names, named_rig
from viewer.state_folder import FOLDER_VARIABLE

SIZE = "27 x 82"


@dataclass(frozen=True)
class Row:
    """One measured thing."""

    what: str
    measured: str
    target: str


def timed(work: Callable[[], object], repeats: int = 3) -> float:
    """Best of several runs, seconds."""
    best = np.inf
    for _ in range(repeats):
        start = perf_counter()
        work()
        best = min(best, perf_counter() - start)
    return float(best)


def new_pair() -> Iterator[Row]:
    """Build a pair, find its curve and certificate."""

    def work() -> None:
        parts = built("weld yoke", "strap yoke")
        touch_curve(ClosingJoint(parts))

    parts = built("weld yoke", "strap yoke")
    counts = f"{len(parts.driving.faces)} and {len(parts.driven.faces)} triangles"
    yield Row(f"new pair of yokes, {counts}", f"{timed(work):.2f} s", "0.3 s")


def built(one: str, other: str) -> JointParts:
    """Contact meshes of a joint of two catalogue yokes."""
    a, b = (yoke_shape(kind, SIZE).build().contact for kind in (one, other))
    return JointParts(a, b, cross_shape(SIZE).build().contact)


def library_of_a_pair() -> Iterator[Row]:
    """All that a pair of generic yokes may touch at: made, and asked for many draws."""
    doubt = doubt_of(named_rig("demo:long-legged-trail-wagon"), "pinion")
    assert doubt is not None
    with (
        tempfile.TemporaryDirectory() as folder,
        patch.dict(os.environ, {kept.FOLDER_VARIABLE: folder}),
    ):
        first = timed(lambda: first_shape(doubt, 1.5, AllCores(1)), 1)
        made = timed(lambda: library(doubt), 1)
        again = timed(lambda: learnt(library(doubt)))
        forecast = learnt(library(doubt))
    z = np.random.default_rng(0).standard_normal((10_000, len(doubt.free)))
    seconds = timed(lambda: forecast.lowest(z))
    yield Row("first slopes of a joint whose shape is in doubt", f"{first:.1f} s", "1 s")
    yield Row(f"its library, {os.cpu_count()} cores", f"{made:.0f} s; kept {again:.2f} s", "10 s")
    yield Row("lowest touch of 10,000 draws by it", f"{1e3 * seconds:.0f} ms", "200 ms")


def scan() -> Iterator[Row]:
    """A yoke with as many triangles as a scan has."""
    parts = built("weld yoke", "weld yoke")
    edge, faces = 8.0, parts.driving.faces
    while len(faces) < 250_000:
        edge *= 0.9
        vertices, faces = trimesh.remesh.subdivide_to_size(
            parts.driving.vertices, parts.driving.faces, edge, 30
        )
    fine = Mesh.uniform(vertices, faces, "scan", parts.driving.chord)
    seconds = timed(lambda: touch_curve(ClosingJoint(JointParts(fine, fine))), repeats=1)
    yield Row(f"touch of two {len(faces):,}-triangle meshes", f"{seconds:.1f} s", "3 s")


def poses() -> Iterator[Row]:
    """Poses a second through suspension, line and limits."""
    rng = np.random.default_rng(0)
    count = 1_000_000
    seen = set()
    for name in demo_names():
        rig = named_rig(f"demo:{name}")
        kind = rig.suspension.kind
        if kind in seen:
            continue
        seen.add(kind)
        vehicle = vehicle_of(rig)
        low, high = vehicle.travel.low, vehicle.travel.high
        asked = [rng.uniform(a, b, count) for a, b in zip(low, high, strict=True)]
        seconds = timed(lambda v=vehicle, a=asked: margins(v, *a, dict.fromkeys(v.joints, 0.4)))
        target = "100,000 /s" if kind == "links" else "1,000,000 /s"
        yield Row(f"poses, {kind}", f"{count / seconds:,.0f} /s", target)


def whole_travel() -> Iterator[Row]:
    """The check of a travel, against asking FCL at every pose and spin."""
    rig: Rig = named_rig("demo:" + demo_names()[0])
    with (
        tempfile.TemporaryDirectory() as folder,
        patch.dict(os.environ, {kept.FOLDER_VARIABLE: folder}),
    ):
        new = timed(lambda: check(rig), 1)
        result = check(rig)
        seconds = timed(lambda: check(rig))
    vehicle = result.derivation.vehicle
    spins = np.arange(0.0, 2.0 * pi, np.radians(2.5))
    grid = (129, 33, 33)
    rng = np.random.default_rng(1)
    subset, asking = 300, 0.0
    for joint, found in result.joints.items():
        pair = MeshPair(found.hardware.parts.driving, found.hardware.parts.driven)
        low, high = vehicle.travel.low, vehicle.travel.high
        at = [rng.uniform(a, b, subset) for a, b in zip(low, high, strict=True)]
        state = line(vehicle, *at)
        bends = state.bends[joint]
        asked = list(zip(bends, rng.choice(spins, subset), strict=True))

        def every(pair: MeshPair = pair, asked: list[tuple[float, float]] = asked) -> None:
            for bend, spin in asked:
                pair.cut(driven_in_driving(bend, spin))

        each = timed(every) / subset
        total = each * len(spins) * np.prod(grid)
        asking += total
        cuts = [
            next(
                (b for b in np.arange(0.0, 1.0, np.radians(0.02)) if pair.cut(motion(b, spin))),
                np.inf,
            )
            for spin in spins[: len(spins) // 4 + 1]
            for motion in (driven_in_driving,)
        ]
        here = found.curve.touch[: len(spins) // 4 + 1]
        away = degrees(min(cuts) - float(np.nanmin(here)))
        yield Row(
            f"{joint} joint: FCL at every pose ({'x'.join(map(str, grid))}) and spin "
            f"({len(spins)}); {subset} timed, scaled",
            f"{total:,.0f} s; touch differs by {away:+.3f} deg",
            "0.05 deg",
        )
    yield Row(
        "both joints so, against the whole check of both",
        f"{asking:,.0f} s against {seconds:.2f} s for yokes met before, "
        f"{asking / seconds:,.0f} times, and {new:.2f} s for yokes that are new, "
        f"{asking / new:,.0f} times",
        "2,000 times met, 400 times new",
    )


def cures() -> Iterator[Row]:
    """Every remedy on the demo rigs that take longest, against one check of the same rig."""
    for name in ("long-legged-trail-wagon", "heather-moor-scout"):
        rig = named_rig(f"demo:{name}")
        check(rig)  # its touch curves are known, as after `bindpoint check`
        once = timed(lambda rig=rig: check(rig), 1)
        found = find_cures(rig)
        seconds = timed(lambda rig=rig: find_cures(rig), 1)
        yield Row(
            f"cures of {name}, touch curves cached",
            f"{seconds:.1f} s for {len(found.tried)} remedies and their pairs, "
            f"{seconds / once:.1f} times one check",
            "20 s",
        )


def start_up() -> Iterator[Row]:
    """Wall time and memory of the command line."""
    demo, bound = "demo:" + demo_names()[0], "demo:long-legged-trail-wagon"
    with tempfile.TemporaryDirectory() as folder:
        # As installed: the modules are compiled once, and not at each start.
        env = os.environ | {"BINDPOINT_CACHE": folder, "PYTHONPYCACHEPREFIX": f"{folder}/compiled"}
        env.pop("PYTHONDONTWRITEBYTECODE", None)
        subprocess.run([sys.executable, "-c", "import viewer.commands.check"], env=env, check=True)
        cases = (
            ("bindpoint --help", ["--help"], "0.3 s", 3),
            ("first check", ["check", demo], "2 s", 1),
            ("check with cached touch", ["check", demo], "0.8 s", 3),
            ("first why, of a rig that is new", ["why", bound, "--seen", bound], "15 s", 1),
            ("why of a rig that is known", ["why", bound, "--seen", bound], "5 s", 3),
        )
        for what, words, target, repeats in cases:
            run = [sys.executable, "-c", _MEASURED, *words]
            peaks = []

            def work(run: list[str] = run, peaks: list[str] = peaks) -> None:
                done = subprocess.run(run, env=env, capture_output=True, text=True, check=False)
                peaks.append(done.stderr.strip().splitlines()[-1])

            seconds = timed(work, repeats)
            yield Row(what, f"{seconds:.2f} s, {peaks[-1]}", f"{target}, under 500 MB")


def slider_step() -> Iterator[Row]:
    """One step of a slider through session and panels, without the drawing of the view."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from PyQt6.QtWidgets import QApplication, QWidget

    from tests.viewer.session.at_once import AtOnce
    from viewer.session.session import Session
    from viewer.session.text.document import Document
    from viewer.window.main.panels import real_panels
    from viewer.window.main.window import MainWindow

    program = QApplication.instance() or QApplication([])
    with tempfile.TemporaryDirectory() as folder:
        os.environ[FOLDER_VARIABLE] = folder
        session = Session(Document.demo(demo_names()[0]), AtOnce())
        panels = replace(real_panels(), view=lambda _: QWidget())
        window = MainWindow(session, panels)
        window.show()
        session.tick()
        while session.idle():
            program.processEvents()
        steps = 50
        low = session.motion.bounds("travel")[0]

        def work() -> None:
            for step in range(steps):
                session.motion.go(travel=low * (step + 1) / steps, roll=0.01)

        def alone() -> None:
            for step in range(steps):
                bare.motion.go(travel=low * (step + 1) / steps, roll=0.01)

        bare = Session(Document.demo(demo_names()[0]), AtOnce())
        bare.tick()
        seconds, without = timed(work) / steps, timed(alone) / steps
        window.close()
        bare.close()
    yield Row(
        "slider step, session and panels, nothing drawn",
        f"{1e3 * seconds:.1f} ms, of it the session {1e3 * without:.1f} ms",
        "5 ms",
    )


def customer_view() -> Iterator[Row]:
    """From when the customer view is asked for until all of it is seen, over the whole window."""
    from tests.viewer.window.screen import has_screen

    if not has_screen():
        return
    from tests.viewer.window.gl_program import seen_by

    seconds = min(seen_by("gl_opening_child")["seconds"])
    yield Row("customer view, asked for to seen", f"{seconds:.2f} s", "1 s")


def step_seen() -> Iterator[Row]:
    """One step of a slider in a whole window of 1600 x 1000, until shaft and close-up are seen."""
    from tests.viewer.window.screen import has_screen

    if not has_screen():
        return
    from tests.viewer.window.gl_program import seen_by

    seconds = sorted(seen_by("gl_step_child")["seconds"])
    half, worst = seconds[len(seconds) // 2], seconds[-1]
    yield Row("slider step, asked for to seen", f"{half:.2f} s, at worst {worst:.2f} s", "0.2 s")


_MEASURED = """
import sys
from pathlib import Path
from viewer.start import main
try:
    main()
finally:
    try:
        # What getrusage tells counts the program that started this one, too.
        lines = Path("/proc/self/status").read_text().splitlines()
        peak = next(int(line.split()[1]) for line in lines if line.startswith("VmHWM")) / 1024
        sys.stderr.write(f"\\n{peak:.0f} MB\\n")
    except (OSError, StopIteration):
        sys.stderr.write("\\nmemory not measured here\\n")
"""


def table(rows: list[Row]) -> str:
    """The rows as Markdown."""
    lines = ["| what | measured | target |", "|---|---|---|"]
    lines += [f"| {row.what} | {row.measured} | {row.target} |" for row in rows]
    return "\n".join(lines)


def machine() -> str:
    """What it ran on, without a name."""
    system, python = platform.system(), platform.python_version()
    return f"{system} {platform.machine()}, {os.cpu_count()} cores, Python {python}"


def main() -> None:
    """Print the table, and write it where asked."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--write", type=Path)
    arguments = parser.parse_args()
    rows = []
    for part in (
        new_pair,
        library_of_a_pair,
        scan,
        poses,
        whole_travel,
        slider_step,
        step_seen,
        customer_view,
        cures,
        start_up,
    ):
        for row in part():
            rows.append(row)
            print(f"{row.what}: {row.measured} (target {row.target})", flush=True)
    if arguments.write:
        text = f"# Benchmark\n\n{machine()}, {date.today().isoformat()}.\n\n{table(rows)}\n"
        arguments.write.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
