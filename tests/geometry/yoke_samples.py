"""Every kind of yoke for the tests they share: sizes, random legal ones, clashes, true surfaces."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from hypothesis import strategies as st

from geometry.contact.symmetry import is_symmetric
from geometry.head import CentreYoke
from geometry.yoke import FlangeYoke, SlidingYoke, StrapYoke, WeldYoke, Yoke, YokeShape
from tests.geometry.metal import (
    assert_holds_true_surface,
    assert_round_ears,
    common,
    ring,
    round_ears,
    throat,
)

Dims = dict[str, Any]
Clash = tuple[Dims, tuple[str, ...]]
"""Dimensions changed, and what the refusal has to name."""


@dataclass(frozen=True)
class YokeSample:
    """One kind of yoke, ready for the tests that all share.

    ordinary : dimensions of a plain one
    legal : draws dimensions of any legal one
    holds : checks one of those dimensions against its true surfaces
    clashes : changes of the ordinary one that are refused
    surfaces : names on what can touch, all of them
    """

    shape: type[YokeShape]
    ordinary: Dims
    legal: Callable[[], st.SearchStrategy[Dims]]
    holds: Callable[[Yoke, Dims], None]
    clashes: tuple[Clash, ...]
    surfaces: frozenset[str]


ROUND_EARS: Dims = {
    "name": "plain",
    "bore": 27.0,
    "cap_span": 82.0,
    "cap_length": 17.0,
    "inside_span": 54.0,
    "ear_thickness": 16.5,
    "ear_edge": 3.5,
    "throat_depth": 30.0,
    "throat_radius": 20.0,
    "saddle_radius": 70.0,
    "ear_radius": 20.0,
    "ear_root_width": 46.0,
}

WELD: Dims = {
    **ROUND_EARS,
    "tube_diameter": 76.2,
    "weld_land": 54.0,
    "shoulder": 7.0,
    "weld_bead": 6.0,
    "pilot_diameter": 72.0,
    "pilot_length": 14.0,
}


@st.composite
def weld_yokes(draw: st.DrawFn) -> Dims:
    ears = draw(round_ears())
    tube = draw(st.floats(50.0, 115.0))
    shoulder = draw(st.floats(4.0, 12.0))
    return ears | {
        "tube_diameter": tube,
        "shoulder": shoulder,
        "weld_land": ears["throat_depth"] + shoulder + draw(st.floats(2.5, 30.0)),
        "weld_bead": shoulder * draw(st.floats(0.3, 0.95)),
        "pilot_diameter": tube - draw(st.floats(3.0, 8.0)),
        "pilot_length": draw(st.floats(5.0, 25.0)),
    }


def _weld_holds(yoke: Yoke, dims: Dims) -> None:
    assert_round_ears(yoke.contact, dims)
    land, half = dims["weld_land"], 0.5 * dims["weld_bead"]
    turn = np.linspace(-np.pi, np.pi, 32)
    tube = [land + half + 0.01, land + 59.0]
    assert_holds_true_surface(yoke.contact, *ring(0.5 * dims["tube_diameter"], tube, turn, "x"))


_WELD_CLASHES: tuple[Clash, ...] = (
    ({"ear_radius": 15.0}, ("ear_radius", "bore")),
    ({"ear_root_width": 39.0}, ("ear_root_width", "ear_radius")),
    ({"ear_root_width": 90.0}, ("ear_root_width", "throat_depth")),
    ({"ear_thickness": 12.0}, ("ear_thickness", "cap_span")),
    ({"cap_length": 13.0}, ("cap_length", "inside_span")),
    ({"inside_span": 68.0}, ("inside_span", "cap_span")),
    ({"inside_span": 95.0}, ("inside_span", "only 0 mm")),
    ({"cap_length": 36.0}, ("cap_length", "cap_span")),
    ({"throat_radius": 28.0}, ("throat_radius", "inside_span")),
    ({"throat_depth": 15.0}, ("throat_depth", "bore")),
    ({"throat_depth": 46.0}, ("throat_depth", "weld_land")),
    ({"ear_edge": 8.0}, ("ear_edge", "ear_thickness")),
    ({"pilot_diameter": 80.0}, ("pilot_diameter", "tube_diameter")),
    ({"weld_bead": 9.0}, ("weld_bead", "shoulder")),
    ({"bore": -27.0}, ("bore", "more than 0")),
    ({"bore": float("nan")}, ("bore", "more than 0")),
)


FLANGE: Dims = {
    **ROUND_EARS,
    "flange_face": 46.0,
    "flange_diameter": 108.0,
    "flange_thickness": 10.0,
    "pilot_diameter": 57.0,
    "pilot_height": 3.0,
    "bolt_circle": 85.0,
    "bolts": 4,
    "bolt_head": 14.3,
    "bolt_head_height": 6.5,
    "mate_thickness": 11.0,
}


@st.composite
def flange_yokes(draw: st.DrawFn) -> Dims:
    ears = draw(round_ears())
    head = draw(st.floats(10.0, 20.0))
    corner = head / np.sqrt(3.0)
    circle = 2.0 * np.sqrt(2.0) * (ears["ear_radius"] + corner + draw(st.floats(0.6, 8.0)))
    rim = max(circle + 2.0 * corner, ears["ear_root_width"]) + draw(st.floats(0.5, 10.0))
    thick = draw(st.floats(6.0, 15.0))
    return ears | {
        "flange_face": ears["throat_depth"] + thick + draw(st.floats(0.5, 12.0)),
        "flange_diameter": rim,
        "flange_thickness": thick,
        "pilot_diameter": circle * draw(st.floats(0.4, 0.8)),
        "pilot_height": draw(st.floats(1.0, 4.0)),
        "bolt_circle": circle,
        "bolts": 4,
        "bolt_head": head,
        "bolt_head_height": head * draw(st.floats(0.3, 0.8)),
        "mate_thickness": draw(st.floats(5.0, 15.0)),
    }


def _fall(dims: Dims, beside: float) -> float:
    """How far the floor of the throat has fallen away `beside` the middle: it cuts what is there.

    No further than the saddle's radius, where the groove ends.
    """
    radius = dims["saddle_radius"]
    return float(radius - np.sqrt(max(radius**2 - beside**2, 0.0)))


def _flange_holds(yoke: Yoke, dims: Dims) -> None:
    assert_round_ears(yoke.contact, dims)
    end = dims["flange_face"] + dims["mate_thickness"]
    np.testing.assert_allclose(yoke.contact.bounds[1, 0], end, rtol=0.0, atol=1e-9)
    turn = np.linspace(-np.pi, np.pi, 32)
    # Ears wider than the flange is round stand over its rim, half a millimetre into the plate.
    rim = [dims["flange_face"] - dims["flange_thickness"] + 0.6, dims["flange_face"]]
    assert_holds_true_surface(yoke.contact, *ring(0.5 * dims["flange_diameter"], rim, turn, "x"))


_FLANGE_CLASHES: tuple[Clash, ...] = (
    ({"throat_depth": 37.0}, ("throat_depth", "flange_face", "flange_thickness")),
    ({"flange_diameter": 95.0}, ("flange_diameter", "bolt_circle")),
    ({"bolt_circle": 80.0}, ("bolt_circle", "ear_radius")),
    ({"bolts": 4.5}, ("bolts", "whole number")),
    ({"bolts": 1}, ("bolts", "2 or more")),
    ({"pilot_diameter": 90.0}, ("pilot_diameter", "bolt_circle")),
)


SLIDING: Dims = {
    **ROUND_EARS,
    "web": 15.0,
    "barrel_diameter": 46.0,
    "barrel_end": 150.0,
    "spline_diameter": 35.0,
    "spline_teeth": 28,
}


@st.composite
def sliding_yokes(draw: st.DrawFn) -> Dims:
    ears = draw(round_ears())
    web, barrel = draw(st.floats(8.0, 25.0)), draw(st.floats(35.0, 70.0))
    return ears | {
        "web": web,
        "barrel_diameter": barrel,
        "barrel_end": ears["throat_depth"] + web + draw(st.floats(20.0, 200.0)),
        "spline_diameter": barrel - draw(st.floats(5.0, 15.0)),
        "spline_teeth": draw(st.integers(6, 36)),
    }


def _sliding_holds(yoke: Yoke, dims: Dims) -> None:
    assert_round_ears(yoke.contact, dims)
    np.testing.assert_allclose(yoke.contact.bounds[1, 0], dims["barrel_end"], rtol=0.0, atol=1e-9)
    turn = np.linspace(-np.pi, np.pi, 32)
    radius, end = 0.5 * dims["barrel_diameter"], dims["barrel_end"] - 2.0
    start = dims["throat_depth"] + max(dims["web"], _fall(dims, radius)) + 1.0
    sleeve = [x for x in (start, end) if start <= x <= end]
    assert_holds_true_surface(yoke.contact, *ring(radius, sleeve, turn, "x"))


_SLIDING_CLASHES: tuple[Clash, ...] = (
    ({"barrel_end": 47.0}, ("barrel_end", "throat_depth", "web")),
    (
        {"web": 4.0, "throat_radius": 2.0},
        ("throat_radius", "throat_depth", "metal in the arms"),
    ),
    ({"spline_diameter": 43.0}, ("spline_diameter", "barrel_diameter")),
    ({"spline_teeth": 5}, ("spline_teeth", "6 or more")),
    ({"spline_teeth": 20.5}, ("spline_teeth", "whole number")),
)


STRAP: Dims = {
    "name": "plain",
    "bore": 27.0,
    "cap_span": 82.0,
    "cap_length": 17.0,
    "inside_span": 54.0,
    "ear_thickness": 16.0,
    "ear_edge": 2.5,
    "throat_depth": 30.0,
    "throat_radius": 20.0,
    "saddle_radius": 70.0,
    "saddle_width": 54.5,
    "ear_root_width": 46.5,
    "web": 20.0,
    "hub_diameter": 46.0,
    "nut_well": 38.0,
    "nut": 30.0,
    "strap_width": 11.0,
    "strap_thickness": 2.3,
    "strap_bolt_spacing": 42.0,
    "bolt_head": 11.1,
    "bolt_head_height": 5.0,
    "seal_guard_diameter": 70.0,
    "seal_guard_at": 60.0,
    "housing_diameter": 78.0,
    "housing_at": 72.0,
}


@st.composite
def strap_yokes(draw: st.DrawFn) -> Dims:
    ears = draw(common())
    bore = ears["bore"]
    thick, head = draw(st.floats(1.5, 3.0)), draw(st.floats(8.0, 14.0))
    spacing = bore + 2.0 * thick + head + draw(st.floats(-0.9, 4.0))
    width = spacing + 2.0 * head / np.sqrt(3.0) + draw(st.floats(-0.9, 6.0))
    hub = draw(st.floats(42.0, 60.0))
    web, guard_at = draw(st.floats(15.0, 25.0)), draw(st.floats(3.0, 15.0))
    guard_at += ears["throat_depth"] + web
    return ears | {
        "ear_edge": min(ears["ear_edge"], 3.0),
        "saddle_width": width,
        "ear_root_width": width * draw(st.floats(0.7, 1.0)),
        "web": web,
        "hub_diameter": hub,
        "nut_well": hub - draw(st.floats(4.5, 8.0)),
        "nut": (hub - 13.0) * draw(st.floats(0.6, 0.9)),
        "strap_width": min(ears["cap_length"], ears["ear_thickness"]) * draw(st.floats(0.3, 0.9)),
        "strap_thickness": thick,
        "strap_bolt_spacing": spacing,
        "bolt_head": head,
        "bolt_head_height": head * draw(st.floats(0.3, 0.7)),
        "seal_guard_diameter": hub + draw(st.floats(2.0, 30.0)),
        "seal_guard_at": guard_at,
        "housing_diameter": hub + draw(st.floats(2.0, 40.0)),
        "housing_at": guard_at + draw(st.floats(3.5, 20.0)),
    }


def _strap_holds(yoke: Yoke, dims: Dims) -> None:
    mesh = yoke.contact
    crown = 0.5 * dims["bore"] + dims["strap_thickness"]
    high = 0.8 - dims["strap_thickness"] - dims["bolt_head_height"]
    np.testing.assert_allclose(mesh.bounds[0, 0], min(-crown, high), rtol=0.0, atol=1e-9)
    # The crown of the strap, and of the cap beside it, over the quarter turn on top.
    over = np.pi + np.linspace(-0.25, 0.25, 15) * np.pi
    outer = 0.5 * dims["cap_span"]
    middle = outer - 0.7 - 0.5 * dims["strap_width"]
    straps = np.array([middle - 0.4 * dims["strap_width"], middle + 0.4 * dims["strap_width"]])
    assert_holds_true_surface(mesh, *ring(crown, [*straps, *-straps], over, "y"))
    end = np.array([outer - 0.3])
    assert_holds_true_surface(mesh, *ring(0.5 * dims["bore"], [*end, *-end], over, "y"))
    assert_holds_true_surface(mesh, *throat(dims))
    turn = np.linspace(-np.pi, np.pi, 32)
    radius, end = 0.5 * dims["hub_diameter"], dims["seal_guard_at"] - 0.1
    start = dims["throat_depth"] + max(dims["web"] + 0.1, _fall(dims, radius) + 1.0)
    hub = [x for x in (start, end) if start <= x <= end]
    assert_holds_true_surface(mesh, *ring(radius, hub, turn, "x"))


_STRAP_CLASHES: tuple[Clash, ...] = (
    ({"saddle_width": 50.0}, ("saddle_width", "bolt_head", "strap_bolt_spacing")),
    ({"strap_bolt_spacing": 38.0}, ("strap_bolt_spacing", "bore")),
    ({"strap_width": 17.5}, ("strap_width", "cap_length")),
    ({"ear_root_width": 60.0}, ("ear_root_width", "saddle_width")),
    ({"nut_well": 34.0}, ("nut_well", "nut")),
    ({"nut_well": 44.0}, ("nut_well", "hub_diameter")),
    ({"seal_guard_at": 49.0}, ("seal_guard_at", "throat_depth", "web")),
    ({"housing_at": 62.0}, ("housing_at", "seal_guard_at")),
    ({"housing_diameter": 40.0}, ("housing_diameter", "hub_diameter")),
)


CENTRE: Dims = {
    "name": "plain",
    "bore": 27.0,
    "cap_span": 82.0,
    "cap_length": 17.0,
    "inside_span": 54.0,
    "ear_thickness": 16.5,
    "ear_edge": 3.5,
    "throat_depth": 27.0,
    "throat_radius": 12.0,
    "saddle_radius": 150.0,
    "ear_radius": 20.0,
    "ear_root_width": 44.0,
    "span": 72.0,
    "ring_width": 75.0,
    "window_diameter": 50.0,
}


@st.composite
def centre_yokes(draw: st.DrawFn) -> Dims:
    ears = draw(round_ears())
    ears["saddle_radius"] = ears["bore"] * draw(st.floats(3.0, 12.0))
    window = ears["inside_span"] * draw(st.floats(0.6, 1.0))
    fall = ears["saddle_radius"] - np.sqrt(ears["saddle_radius"] ** 2 - (0.5 * window) ** 2)
    return ears | {
        "span": 2.0 * (ears["throat_depth"] + fall) + draw(st.floats(3.0, 25.0)),
        "ring_width": window + draw(st.floats(6.0, 40.0)),
        "window_diameter": window,
    }


def _centre_holds(yoke: Yoke, dims: Dims) -> None:
    about_middle = yoke.contact.moved(np.eye(3), [-0.5 * dims["span"], 0.0, 0.0])
    assert is_symmetric(about_middle, np.array([-1.0, 1.0, 1.0]))
    bounds = yoke.contact.bounds
    np.testing.assert_allclose(bounds[0, 0], -dims["ear_radius"], rtol=0.0, atol=1e-9)
    np.testing.assert_allclose(bounds[1, 0], dims["span"] + dims["ear_radius"], atol=1e-9)


_CENTRE_CLASHES: tuple[Clash, ...] = (
    ({"window_diameter": 55.0}, ("window_diameter", "inside_span")),
    ({"ring_width": 52.0}, ("window_diameter", "ring_width")),
    ({"saddle_radius": 24.0}, ("window_diameter", "saddle_radius")),
    ({"span": 58.0}, ("throat_depth", "span")),
    ({"ear_radius": 15.0}, ("ear_radius", "bore")),
    ({"span": float("nan")}, ("span", "more than 0")),
)


_EARS = frozenset(
    {"ear tip", "ear flank", "ear root", "ear outside face", "ear inside face", "cap"}
)

SAMPLES = {
    "weld yoke": YokeSample(
        WeldYoke,
        WELD,
        weld_yokes,
        _weld_holds,
        _WELD_CLASHES,
        _EARS | {"throat", "weld shoulder", "tube end"},
    ),
    "flange yoke": YokeSample(
        FlangeYoke,
        FLANGE,
        flange_yokes,
        _flange_holds,
        _FLANGE_CLASHES,
        _EARS | {"throat", "bolt", "flange"},
    ),
    "sliding yoke": YokeSample(
        SlidingYoke,
        SLIDING,
        sliding_yokes,
        _sliding_holds,
        _SLIDING_CLASHES,
        _EARS | {"throat", "sleeve"},
    ),
    "strap yoke": YokeSample(
        StrapYoke,
        STRAP,
        strap_yokes,
        _strap_holds,
        _STRAP_CLASHES,
        _EARS | {"throat", "strap", "bolt", "hub", "seal guard", "seal housing"},
    ),
    "center yoke": YokeSample(
        CentreYoke,
        CENTRE,
        centre_yokes,
        _centre_holds,
        _CENTRE_CLASHES,
        _EARS | {"ring", "window"},
    ),
}
