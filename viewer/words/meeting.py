"""Words for what runs into what: two surfaces, the moving one first."""

from geometry.yoke import YOKES, YokeShape


def meeting_words(surfaces: tuple[str, str], bodies: tuple[str, str]) -> str:
    """Two surfaces and the bodies they are of."""
    (one, a), (other, b) = _moving_first(surfaces, bodies)
    return f"{one} of the {a} against the {other} of the {b}"


def meets_words(surfaces: tuple[str, str], bodies: tuple[str, str]) -> str:
    """What happens, without the other's surface: "bolt of the pinion yoke meets the weld yoke"."""
    (one, a), (_, b) = _moving_first(surfaces, bodies)
    return f"{one} of the {a} meets the {b}"


def hits_words(surfaces: tuple[str, str], bodies: tuple[str, str]) -> str:
    """The same in a few words: "the strap bolt hits the shaft yoke's throat"."""
    one, other = _moving_first(surfaces, bodies)
    return f"the {_of(*one)} hits the {_of(*other)}"


def _of(surface: str, body: str) -> str:
    """A surface of a body, without its kind: each yoke of a joint is of another part."""
    if body == "cross":
        return surface
    kind = next((kind for kind in YOKES if body.endswith(kind)), "")
    if kind and surface in YOKES[kind].proud - YokeShape.proud:
        held = kind.removesuffix(" yoke")  # no other yoke of a joint has one
        return surface if surface == held else f"{held} {surface}"
    whose = body.removesuffix(kind or "yoke").strip().removesuffix("'s")
    return f"{whose} yoke's {surface}"


def surfaces_words(surfaces: tuple[str, str]) -> str:
    """The two surfaces alone: "bolt / throat"."""
    return " / ".join(surface for surface, _ in _moving_first(surfaces, surfaces))


def _moving_first(
    surfaces: tuple[str, str], bodies: tuple[str, str]
) -> tuple[tuple[str, str], tuple[str, str]]:
    one, other = zip(surfaces, bodies, strict=True)
    turned = other[0] in _MOVING and one[0] not in _MOVING
    return (other, one) if turned else (one, other)


_MOVING = frozenset({"grease fitting"}).union(*(kind.proud for kind in YOKES.values()))
"""Surfaces that are said to run into others, rather than the other way round."""
