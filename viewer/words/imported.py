"""What is said of a yoke from a mesh file: a sentence for each code of `geometry.imported`."""

from collections.abc import Mapping
from typing import Final

from viewer.words.sentence import Sentence


def _mended(
    flipped: int, doubled: int, not_finite: int, specks: int, hidden: int, small_holes: int
) -> str:
    found = (
        (flipped, "triangle(s) turned to face outward"),
        (doubled, "doubled or collapsed triangle(s) left out"),
        (not_finite, "triangle(s) without finite numbers left out"),
        (specks, "speck(s) left out"),
        (hidden, "piece(s) inside others left out"),
        (small_holes, "small hole(s) filled"),
    )
    return f"mended: {', '.join(f'{count:,} {what}' for count, what in found if count)}"


def _only(unit: str, size: float, bore: float | None, stated: str | None) -> str:
    long = f"{size / 1000.0:.3g} m" if size >= 1000.0 else f"{size:.3g} mm"
    by = f" with bores of {bore:.4g} mm" if bore else ""
    against = f"; the file says {stated}, which cannot be" if stated else ""
    return f"only in {unit} is it a yoke, {long} long{by}{against}"


IMPORTED: Final[Mapping[str, Sentence]] = {
    "unit-given": "given",
    "unit-stated": "the file says {unit}",
    "unit-only": _only,
    "unit-taken": "taken to be in {unit} (1 = {mm:g} mm): {why}",
    "pick-askew": (
        "the pick on the shaft is {skew:angle} from square to the bores; check the three picks"
    ),
    "lopsided": (
        "the yoke is {error:.2f} mm from its own mirror image, so {by_stub:?its shaft was taken to "
        "go the way of the round stub|the direction of its shaft is uncertain; three picks are "
        "surer}"
    ),
    "stub-beside": (
        "the round stub's axis passes {beside:.2f} mm beside the middle between the ears; look "
        "whether the ears are alike"
    ),
    "bores-unsure": (
        "the bores were found with a confidence of {confidence:.2f} only; look whether they are "
        "the right ones, or pick three points"
    ),
    "bores-not-round": "the bores are {spread:.2f} mm from round; worn, or a rough scan",
    "bores-out-of-line": (
        "the two bores are {out:.2f} mm out of one line; a bent yoke, or a rough scan"
    ),
    "bores-off-caps": (
        "the bores measure {wide:.2f} mm and the caps {cap:.2f} mm; check the cross, the unit and "
        "the scanner's scale"
    ),
    "large-holes": (
        "{holes} large hole(s), up to {longest:.0f} mm round, closed flat: {share:.1f} % of the "
        "surface is a guess. A touch on {surface!r} means: scan that place again"
    ),
    "not-closed": (
        "{edges} edge(s) are shared by more than two triangles, so the surface is not properly "
        "closed; its touch is good, but a part wholly inside it may go unseen"
    ),
    "folds-over": (
        "{pairs} pair(s) of triangles cut each other; the surface folds over itself there, which a "
        "touch does not mind"
    ),
    "too-tangled": "the surface is too tangled to ask all of it whether it crosses itself",
    "points-stand-out": "some points of the scan stand out by up to {out:.3f} mm even so",
    "thinned": (
        "{faces:,} triangles brought down to {kept:,}: the surfaces differ by up to "
        "{deviation:.3f} mm; what is kept holds the scan, so it touches early by so much at most"
    ),
    "mended": _mended,
    "scope": (
        "only what is in the scan can touch{added:after ; added: }. Straps, bolts, nuts, seals and "
        "a tube that were off while scanning are not there"
    ),
}
