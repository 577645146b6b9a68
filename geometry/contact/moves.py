"""How one body moves in another over a box of poses: where it is, how fast, and how curved.

A pose is two numbers, of a joint its bend and spin. Over a box of poses, middle +- half width, a
point q of the moving body has

    x = x0 + R (v x q + sway) + rest,   |rest| <= drift + bow |q|

with x0 and R at the middle and v, sway the rates there times the half width. For the yokes of a
joint the rates are two turns and the rest is the second derivative, in closed form: the driven yoke
turns by b about the driven bores and by a about the driving bores, which stay square to each other,
with tan a = tan bend sin spin and sin b = sin bend cos spin. Along a straight way through the box
the relative turn is w = a' y1 + b' y2 and its change a'' y1 + b'' y2 + a' b' (y1 x y2), three
directions square to each other, so that

    |x''| <= |q| (a'^2 + b'^2 + sqrt(a''^2 + b''^2 + (a' b')^2))

Own derivation; the tests compare it with differences.
"""

from abc import ABC, abstractmethod
from dataclasses import dataclass
from math import pi

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Boxes:
    """Boxes of poses, (n, 2) rad each: from `low` to `high`."""

    low: Array
    high: Array

    def __len__(self) -> int:
        return len(self.low)


@dataclass(frozen=True)
class Moves:
    """What a body does over boxes of poses, one column a box, so that rows read them at once.

    Attributes
    ----------
    turn : (9, n) rotation of the moving body in the frame of the other at the middle, by rows.
    place : (3, n) mm, its origin there.
    rates : (2, 3, n) rad, its turn over the half width along each axis, in its own frame.
    sway : (2, 3, n) mm, how far its origin goes over that, in its own frame.
    bow : (n,) what a point strays from the straight way at most, as a share of its radius.
    drift : (n,) mm, what it strays whatever its radius.
    speed : (2, n) rad, how far it turns at most over the half width along each axis.
    """

    turn: Array
    place: Array
    rates: Array
    sway: Array
    bow: Array
    drift: Array
    speed: Array


class Motion(ABC):
    """How a body moves in the frame of another with two numbers.

    Attributes
    ----------
    together : lines along the first number that may share their boxes until these are halved; 1
        where a box cannot span second numbers that differ.
    """

    together = 8

    @abstractmethod
    def over(self, boxes: Boxes) -> Moves:
        """What the body does over boxes of poses."""


class YokesMotion(Motion):
    """The driven yoke in the driving yoke's frame, by bend and spin; any bend under 90 deg."""

    def over(self, boxes: Boxes) -> Moves:
        """What the driven yoke does over boxes of bend and spin."""
        (bend, spin), half = 0.5 * (boxes.low + boxes.high).T, 0.5 * (boxes.high - boxes.low).T
        n = len(bend)
        turn, rates = yoke_rates(bend, spin)
        rates *= half[:, None]
        fast, change, speed = yoke_bounds(boxes, half, np.zeros((2, n)))
        here, none = np.zeros((3, n)), np.zeros(n)
        bow = 0.5 * (fast * fast + change)
        return Moves(turn, here, rates, np.zeros((2, 3, n)), bow, none, speed)


def yoke_rates(bend: Array, spin: Array) -> tuple[Array, Array]:
    """Rotation of the driven yoke in the driving yoke's frame, (9, n), and its rates, (2, 3, n).

    The rates are the turn per radian of bend and of spin in the driven yoke's frame.
    """
    sine, cosine = np.sin(bend), np.cos(bend)
    s, c = np.sin(spin), np.cos(spin)
    sb = sine * c
    square = 1.0 - sb * sb
    cb = np.sqrt(square)
    ca, sa = cosine / cb, sine * s / cb
    turn = np.array([-ca * cb, -sa, ca * sb, sb, 0.0 * sb, cb, -sa * cb, ca, sa * sb])
    about_driving = np.array([s / square, sine * cosine * c / square])
    about_driven = np.array([cosine * c / cb, -sine * s / cb])
    rates = np.stack([-about_driving * sb, -about_driven, -about_driving * cb], axis=1)
    return turn, rates


def yoke_bounds(boxes: Boxes, first: Array, second: Array) -> tuple[Array, Array, Array]:
    """How fast the driven yoke turns in a box at most, how fast that changes, and speeds by axis.

    first, second : (2, n) rad, how fast bend and spin go at most, and how fast that changes.

    Found from the largest sines and cosines that a box holds. With S, C the sine of bend and cosine
    of spin, s, c the others and D = 1 - S^2 C^2 = cos^2 b: a_b = s / D, a_s = S c C / D,
    b_b = c C / sqrt D, b_s = -S s / sqrt D, and so on.
    """
    S, c = np.sin(boxes.high[:, 0]), np.cos(boxes.low[:, 0])
    s, C = largest(boxes, 0.5 * pi), largest(boxes, 0.0)
    D = 1.0 - (S * C) ** 2
    root, cube = np.sqrt(D), D * np.sqrt(D)
    a_b, a_s, b_b, b_s = s / D, S * c * C / D, c * C / root, S * s / root
    a_bb, a_ss = 2.0 * s * S * c * C * C / D**2, S * c * s * (1.0 + (S * C) ** 2) / D**2
    a_bs = C * np.maximum(c * c, (S * s) ** 2) / D**2
    b_bb, b_bs, b_ss = C * S * s * s / cube, c * s / cube, S * C * c * c / cube
    (h, k), (hh, kk) = first, second
    a, b = a_b * h + a_s * k, b_b * h + b_s * k
    aa = a_bb * h * h + 2.0 * a_bs * h * k + a_ss * k * k + a_b * hh + a_s * kk
    bb = b_bb * h * h + 2.0 * b_bs * h * k + b_ss * k * k + b_b * hh + b_s * kk
    change = np.sqrt(aa * aa + bb * bb + (a * b) ** 2)
    return np.hypot(a, b), change, np.array([np.hypot(a_b, b_b) * h, np.hypot(a_s, b_s) * k])


def largest(boxes: Boxes, at: float) -> Array:
    """Largest |cos(spin - at)| over each box."""
    low, high = boxes.low[:, 1] - at, boxes.high[:, 1] - at
    peak = np.floor(high / pi) >= np.ceil(low / pi)
    return np.where(peak, 1.0, np.maximum(np.abs(np.cos(low)), np.abs(np.cos(high))))


class SwingMotion(Motion):
    """The cross in a yoke's bores: turned by the product of both numbers.

    The first is how far (rad), the second which way, 1 or -1, the same all over a box.

    at_rest : (3, 3) rotation of the cross frame in the yoke frame, not swung.
    axis : (3,) unit vector along the bores, in the cross frame.
    """

    together = 1

    def __init__(self, at_rest: Array, axis: Array) -> None:
        self._at_rest, self._axis = at_rest, axis

    def over(self, boxes: Boxes) -> Moves:
        """What the cross does over boxes of angle and way."""
        way = boxes.low[:, 1]
        angle = 0.5 * (boxes.low + boxes.high)[:, 0] * way
        half = 0.5 * (boxes.high - boxes.low)[:, 0]
        n, u = len(angle), self._axis
        across = np.array([[0.0, -u[2], u[1]], [u[2], 0.0, -u[0]], [-u[1], u[0], 0.0]])
        c, s = np.cos(angle)[:, None, None], np.sin(angle)[:, None, None]
        about = c * np.eye(3) + s * across + (1.0 - c) * np.outer(u, u)
        turn = (self._at_rest @ about).reshape(n, 9).T
        rates = np.zeros((2, 3, n))
        rates[0] = u[:, None] * (half * way)
        speed = np.array([half, np.zeros(n)])
        here, none = np.zeros((3, n)), np.zeros(n)
        sway, bow = np.zeros((2, 3, n)), 0.5 * half**2
        return Moves(np.ascontiguousarray(turn), here, rates, sway, bow, none, speed)
