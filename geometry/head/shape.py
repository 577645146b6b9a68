"""The dimensions of a head, and how its parts are built from them."""

from __future__ import annotations

from dataclasses import dataclass

from geometry.built import built
from geometry.cross import WAIST, CrossShape
from geometry.dimensions import Shape, length
from geometry.errors import ShapeError
from geometry.head.bridge import Bridge
from geometry.head.centre_yoke import CentreYoke
from geometry.head.centring import FLOOR_PLAY, Ball, Socket
from geometry.head.outer_yoke import OuterYoke
from geometry.head.parts import HeadParts
from geometry.head.travel import BallAndSocket
from geometry.yoke import YokeShape
from geometry.yoke.round_ear import RoundEarShape

LEAST_WALL = 1.0
"""Least wall, mm, of a socket, and least room of what must pass by each other when straight."""


@dataclass(frozen=True, kw_only=True)
class HeadShape(Shape):
    """Dimensions of a double-Cardan head, mm, with its outer yokes and its cross.

    carrying, sliding : the outer yoke with the ball and the one with the socket, as they would
        be without; their ears must close round the caps
    Raises ShapeError, naming the dimensions that clash, when they make no sound head.
    """

    name: str
    carrying: YokeShape
    sliding: YokeShape
    cross: CrossShape

    span: float = length("between the two cross centers")
    ball: float = length("from the cross of the ball's yoke to the middle of the ball")
    ball_diameter: float = length("the ball, and the bore of its socket")
    stalk_diameter: float = length("the stalk that carries the ball")
    socket_diameter: float = length("outside of the socket")
    socket_mouth: float = length("from the cross of the socket's yoke to the socket's open end")
    bridge_at: float = length("from a cross center to the near face of the bridge past it")
    bridge_thickness: float = length("the bridge in its middle, along the shaft")
    bridge_width: float = length("the bridge across, square to the bores")
    inside_span: float = length("between the inside faces of two ears of the center yoke")
    ear_thickness: float = length("an ear of the center yoke, inside to outside face, at the bore")
    ear_edge: float = length("width of the bevel on the outer edges of the center yoke's ears")
    ear_radius: float = length("from the middle of a bore to the round end of the center yoke")
    ear_root_width: float = length("across an ear of the center yoke where it spreads to the ring")
    throat_depth: float = length("from a cross center to the ring, at the middle of the window")
    throat_radius: float = length("radius between the ring and the ear inside face")
    saddle_radius: float = length("radius over which the ring falls away sideways")
    ring_width: float = length("across the ring in the middle, square to the bores")
    window_diameter: float = length("the hole in the ring, for ball and socket")

    def __post_init__(self) -> None:
        self.check()
        for which, yoke in (("carrying", self.carrying), ("sliding", self.sliding)):
            self._check_outer(which, yoke)
        self._check_bridge()
        self._check_centring()
        self.centre()

    @property
    def bridge(self) -> Bridge:
        """The bar of either outer yoke."""
        return Bridge(self.bridge_at, self.bridge_thickness, self.bridge_width)

    @property
    def straight_reach(self) -> float:
        """From the sliding cross to the ball with the head straight, mm."""
        return self.span - self.ball

    @property
    def centring(self) -> BallAndSocket:
        """The ball and socket, as their travel sees them."""
        return BallAndSocket(
            span=self.span,
            ball=self.ball,
            ball_radius=0.5 * self.ball_diameter,
            stalk_radius=0.5 * self.stalk_diameter,
            mouth=self.socket_mouth,
        )

    def centre(self) -> CentreYoke:
        """Return the shape of the center yoke."""
        own = {item.name for item in CentreYoke.described()}
        return CentreYoke(
            name=f"center yoke of {self.name}",
            bore=self.cross.cap_diameter,
            cap_span=self.cross.span,
            cap_length=self.cross.cap_length,
            **{name: value for name, value in self.dimensions().items() if name in own},
        )

    def carrying_yoke(self) -> OuterYoke:
        """Return what the outer yoke with the ball is built from."""
        ball = Ball(self.bridge.far, self.ball, 0.5 * self.ball_diameter, 0.5 * self.stalk_diameter)
        return OuterYoke(_round_eared(self.carrying), self.bridge, ball)

    def sliding_yoke(self) -> OuterYoke:
        """Return what the outer yoke with the socket is built from."""
        radius = 0.5 * self.ball_diameter
        floor = self.straight_reach - radius - FLOOR_PLAY
        socket = Socket(
            self.bridge.far, floor, self.socket_mouth, radius, 0.5 * self.socket_diameter
        )
        return OuterYoke(_round_eared(self.sliding), self.bridge, socket)

    def build(self) -> HeadParts:
        """Return the parts of the head."""
        return HeadParts(
            self.name,
            built(self.carrying_yoke()),
            built(self.centre()),
            built(self.sliding_yoke()),
            built(self.cross),
            self.span,
            self.ball,
            self.centring.limit,
            self.dimensions(),
        )

    def _check_outer(self, which: str, yoke: YokeShape) -> None:
        self.require(
            isinstance(yoke, RoundEarShape),
            f"the {which} yoke is a {yoke.kind}, whose ears are open toward the cross; a head "
            "needs ears that close round the caps (flange, weld or sliding yoke)",
        )
        cross = (self.cross.cap_diameter, self.cross.span, self.cross.cap_length)
        own = (yoke.bore, yoke.cap_span, yoke.cap_length)
        self.require(
            own == cross,
            f"the {which} yoke takes caps of {own[0]:g} mm over {own[1]:g} mm, {own[2]:g} mm long; "
            f"the cross has {cross[0]:g} mm over {cross[1]:g} mm, {cross[2]:g} mm long",
        )

    def _check_bridge(self) -> None:
        hub = 0.5 * WAIST * self.cross.hub_diameter
        self.require(
            self.bridge_at >= hub + LEAST_WALL,
            "{bridge_at} runs into the cross, whose hub_diameter of {hub:g} mm is {wide:.1f} mm in "
            "the middle",
            hub=self.cross.hub_diameter,
            wide=2.0 * hub,
        )
        for name, place in (("ball", self.ball), ("span less ball", self.straight_reach)):
            self.require(
                place - self.bridge.far - 0.5 * self.ball_diameter >= LEAST_WALL,
                f"{name} of {place:g} mm leaves no room for a {{ball_diameter:of}} beyond "
                "{bridge_at} and {bridge_thickness}",
            )

    def _check_centring(self) -> None:
        self.require(
            self.stalk_diameter + LEAST_WALL <= self.ball_diameter,
            "{stalk_diameter} is not less than the {ball_diameter:of}",
        )
        self.require(
            self.socket_diameter >= self.ball_diameter + 2.0 * LEAST_WALL,
            "{socket_diameter} leaves less than {least:g} mm of wall around a {ball_diameter:of}",
            least=LEAST_WALL,
        )
        self.require(
            self.window_diameter >= self.socket_diameter + 2.0 * LEAST_WALL,
            "{window_diameter} lets no socket of {socket_diameter} through",
        )
        far = self.span - self.bridge.far - LEAST_WALL
        self.require(
            self.straight_reach < self.socket_mouth < far,
            "{socket_mouth} must lie beyond the ball, at {near:g} mm (span less ball), and short "
            "of the bridge, at {far:g} mm",
            near=self.straight_reach,
            far=far,
        )


def _round_eared(shape: YokeShape) -> RoundEarShape:
    if not isinstance(shape, RoundEarShape):
        raise ShapeError(f"a {shape.kind} has no ears that close round the caps")
    return shape
