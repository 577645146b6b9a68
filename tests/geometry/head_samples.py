"""A head of round numbers to test with; invented."""

from typing import Any

from geometry.cross import CrossShape
from geometry.head import HeadShape
from geometry.yoke import FlangeYoke, WeldYoke
from tests.geometry.test_cross import ORDINARY as CROSS
from tests.geometry.yoke_samples import FLANGE, WELD

OWN: dict[str, float] = {
    "span": 72.0,
    "ball": 36.5,
    "ball_diameter": 16.0,
    "stalk_diameter": 9.0,
    "socket_diameter": 24.0,
    "socket_mouth": 43.5,
    "bridge_at": 17.0,
    "bridge_thickness": 6.5,
    "bridge_width": 19.0,
    "inside_span": 54.0,
    "ear_thickness": 16.5,
    "ear_edge": 3.5,
    "ear_radius": 20.0,
    "ear_root_width": 44.0,
    "throat_depth": 27.0,
    "throat_radius": 12.0,
    "saddle_radius": 150.0,
    "ring_width": 75.0,
    "window_diameter": 50.0,
}


def outer(kind: type[FlangeYoke] | type[WeldYoke], **changed: float) -> FlangeYoke | WeldYoke:
    """An outer yoke for the sample cross, before head work."""
    cross = CrossShape(**CROSS)
    dims: dict[str, Any] = FLANGE if kind is FlangeYoke else WELD
    caps = {
        "bore": cross.cap_diameter,
        "cap_span": cross.span,
        "cap_length": cross.cap_length,
    }
    return kind(**(dims | caps | changed))


def sample(**changed: Any) -> HeadShape:
    """The head, some of its dimensions or parts changed."""
    parts: dict[str, Any] = {
        "name": "sample",
        "carrying": outer(FlangeYoke),
        "sliding": outer(WeldYoke),
        "cross": CrossShape(**CROSS),
    }
    return HeadShape(**(parts | OWN | changed))
