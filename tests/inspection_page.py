"""The page of the inspection file, from its schema: `python -m tests.inspection_page`."""

from collections.abc import Iterator
from pathlib import Path

from sim.causes import SeenCode
from sim.seen import inspection_from_data, signs_of
from sim.seen.inspection import KIND, SCHEMA, Inspection
from sim.seen.signs import SIGNS
from sim.seen.words import CAPS, YOKES
from sim.table.kinds import kind_of
from sim.table.structure import is_list, keys_of
from sim.table.words import Word
from tests.keys_page import tables_of
from viewer.words.signs import sign_words

PAGE = Path(__file__).parents[1] / "docs" / "inspection-file.md"

_HEAD = """\
# The inspection file

What is seen, measured and told of one failed joint, as a [TOML](https://toml.io) text beside the \
rig file. `bindpoint look my-truck.toml` asks for it and writes `my-truck-seen.toml`, or goes on \
with the one that is there; the window keeps one for each joint, `my-truck-pinion-seen.toml`. \
`bindpoint why my-truck.toml --seen my-truck-seen.toml` reads it. `models/inspections` has \
one for each of some demo rigs, all invented. `bindpoint look --json-schema seen.schema.json` \
writes a schema with which an editor helps as you type.

Made from the schema by `python -m tests.inspection_page`, as the questions of `bindpoint look` \
and the JSON Schema are made from it. Everything is checked when the file is read: all problems \
at once, one line each, with file, key path, what came and what was expected. Lengths and angles \
are typed as in [the rig file](rig-file.md), each with its unit, and kept as typed.

What can be said from it is consistent with what was seen, and never proves a cause. It is no \
expert opinion after an accident.

## Missing, empty, and words
Everything may be left out.

- A list that is **missing** was not looked at. It says nothing, for or against.
- A list that is **empty**, `seen = []`, was looked at and there was nothing.
- With **words** in it, those are there and the other words of that list are not, but for three \
lists of what is told: `happened`, `noise` and `changed`. Who names a clunk did not say that it \
never squeaked; only an empty `noise`, or `changed` with *nothing*, says so.

Name all that you see there: what you do not name on a part that you looked at counts as not \
there. What hides a thing does not deny it: nobody sees lines on metal that flaked, or the teeth \
of a spline that is stuck. A look tells spread ears or an egg-shaped bore that are far out; that \
a yoke is good only the caliper says. *Droop* and *hard pull* go together, and neither \
denies the other; *parked* and *slow and steady* deny both a hard pull and the highway. \
Under 12,000 mi is soon, from 25,000 mi it is not; over 60,000 mi is many miles, under 15,000 mi \
is not; in between \
nothing is said. So one dry cap is a sign only where another cap was looked at and was not dry. \
Where a reading and a word say the same, either is enough. A `note` may stand at the top and in \
every table.

## What the words mean
![A picture of each word that can be seen on a part](pictures/words.png)

Each picture shows what a word means, far larger than life, on generic parts; it is no finding of \
anything. In the window it stands beside the word; `bindpoint look --words words.png` draws the \
sheet to print. Drawn by `python -m tests.word_pictures`.

## Which cap, which ear, which clock
```text
Seen from behind, looking forward:

                12
            1 shaft a
                |
   4 end b -----+----- 3 end a
                |
            2 shaft b
                6
```
`shaft_a` and `shaft_b` sit in the shaft's own yoke, `end_a` and `end_b` in the other one: on the \
output or on the pinion. At a cross of a double-Cardan head the shaft's yoke is the one toward the \
tube, and the other one the yoke away from it. In either yoke *a* is the ear that stood nearest \
12, or clockwise after it. A cap's `clock` is where its ear stood when the joint was taken apart, \
seen from behind, looking forward. A mark's `clock` is on the yoke itself: look into the open yoke \
from the cross; 12 is ear a, 6 is ear b, clockwise.

## An example
```toml
schema = 1
kind = "inspection"
rig = "my-truck.toml"
joint = "pinion"
came = "wore"

[caps.shaft_a]
seen = []
trunnion = []

[caps.shaft_b]
seen = []
trunnion = []

[caps.end_a]
clock = "3 o'clock"
seen = ["dry", "rust dust"]
trunnion = ["worn at the corners"]
bore = ["1.0625 in", "1.0650 in"]

[caps.end_b]
seen = ["sits crooked"]
trunnion = ["worn at the corners"]

[yokes.end]
bar = "does not go through"

[history]
distance = "3000 mi"
failed_before = 1
changed = ["joint only"]
```

## Doubts
What contradicts itself is told and used all the same: a bore smaller than its cap, readings of \
another size of joint than the rig's, straps on a yoke with closed ears, a centering ball on a \
joint with one cross, a bar that goes through bores said to be egg-shaped, nothing seen, nearly \
everything seen. Only a joint that the rig does not have is refused, in one line.
"""


def page() -> str:
    """The whole page."""
    return f"{_HEAD}\n{tables_of(Inspection)}\n" + "\n".join(_meanings()) + "\n"


def _meanings() -> Iterator[str]:
    yield "## What each word says"
    yield "Each as one sign among many; common practice, no source."
    yield ""
    yield "| list | word | what it says |"
    yield "|---|---|---|"
    told: dict[str, None] = {}
    for path, (_, info) in keys_of(Inspection).items():
        kind = kind_of(info)
        if isinstance(kind, Word) and is_list(info.annotation):
            for word in kind.legal:
                name = ".".join(
                    "*" if part in (*CAPS, *YOKES) else part for part in path.split(".")
                )
                told[f"| `{name}` | {word} | {says(path, word)} |"] = None
    yield from told


def says(path: str, word: str) -> str:
    """The signs that one word alone gives, the lists like it being empty."""
    said, nothing = (_signs(path, words) for words in ([word], []))
    changed = [code for code in SIGNS if said.get(code) != nothing.get(code) and code in said]
    if len(changed) > 1:  # that one of four is worn is told where a word says nothing else
        changed = [code for code in changed if code != "one-axis-worn"]
    words = [sign_words(code, said[code]) for code in changed if said[code] or code == "yoke-kept"]
    return "; ".join(words) or "nothing by itself; it is kept for whoever reads the file"


def _signs(path: str, words: list[str]) -> dict[SeenCode, bool]:
    *places, key = path.split(".")
    data: dict[str, object] = {places[0]: {key: words}}
    if len(places) > 1:
        alike = CAPS if places[0] == "caps" else YOKES
        data = {places[0]: {each: {key: []} for each in alike} | {places[1]: {key: words}}}
    return signs_of(inspection_from_data({"schema": SCHEMA, "kind": KIND, **data}))


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
