"""Words of the sheet: titles and labels as the schema has them, and what may be chosen."""

import re

from sim.head.catalogue import head_kinds
from sim.parts.catalogue import cross_sizes, yoke_class, yoke_kinds
from sim.rig.choice import OWN_YOKE, Choice, CrossChoice, HeadChoice
from sim.rig.rig import Rig
from sim.table.part import Part
from sim.table.structure import form_in


def group_title(path: str, entry: int = 0, name: str = "", root: type[Part] = Rig) -> str:
    """Title of a table of a schema; of an entry of a list with its number and its name."""
    form = form_in(root, path)
    title = form.name or _words(path).capitalize() or f"The {root.__name__.lower()}"
    if entry:
        title = f"{form.entry or title} {entry}"
    return f"{title}: {name}" if name else title


def label_of(key: str, root: type[Part] = Rig) -> str:
    """Label of a key of a schema."""
    return form_in(root, key).name or _words(key)


def names_of(choice: type[Choice], key: str) -> tuple[str, ...]:
    """Names of the catalogue that can stand at a key."""
    if issubclass(choice, CrossChoice):
        return tuple(size.name for size in cross_sizes())
    if issubclass(choice, HeadChoice):
        return head_kinds()
    on_output = key.endswith("output_yoke")
    kinds = [kind for kind in yoke_kinds() if on_output or not yoke_class(kind).slides]
    return (*kinds, OWN_YOKE)


def choice_words(choice: str, key: str) -> str:
    """How a choice is shown: a size of cross with the trade sizes it goes by."""
    if not key.endswith("cross"):
        return choice
    aliases = next((each.aliases for each in cross_sizes() if each.name == choice), ())
    return f"{choice} ({', '.join(aliases)})" if aliases else choice


def _words(key: str) -> str:
    """A key as words: the last of its path."""
    return re.sub(r"\[\d+\]", "", key).rpartition(".")[2].replace("_", " ")
