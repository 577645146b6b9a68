"""What stands at a key of the schema for whoever fills it in, and is read by every front end.

A front end asks the schema what to show: the window's sheet, the questions of `bindpoint new`, the
remarks of a rig file, its page in the docs, and JSON Schema for editors. So the texts stand here,
at the key that they are about, and nowhere a second time.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Final

from pydantic import BaseModel, Field
from pydantic.fields import FieldInfo

from sim.table.kinds import Range, kind_of


@dataclass(frozen=True)
class Form:
    """What is told and asked at one key, besides its meaning, type, examples and default.

    Attributes
    ----------
    name : what it is called; "" where the key itself says it. Of a table its title.
    entry : what one of a list of tables is called.
    called : what it is called within a question, where it is a point of its own.
    asks : the question, in one line; it may have {places} that whoever asks fills in.
    datum : from where to where, against what, and what a value looks like.
    beware : what goes wrong with it.
    way : the word for its direction, where another key says the opposite and the key itself does
        not end with that word.
    otherwise : what stands where nothing is said, in a word; "" where a default tells it.
    only : another key of its table and the value with which alone it says something.
    usual : where a value lies as a rule; what lies beyond is told as odd.
    """

    name: str = ""
    entry: str = ""
    called: str = ""
    asks: str = ""
    datum: str = ""
    beware: str = ""
    way: str = ""
    otherwise: str = ""
    only: tuple[str, str] | None = None
    usual: Range | None = None

    def __call__(self, schema: dict[str, Any]) -> None:
        """Tell an editor all of it: pydantic calls this with the key's JSON Schema."""
        if told := self.help(schema.get("description", "")):
            schema["description"] = told

    def help(self, means: str) -> str:
        """All that is to be known at the key, whose meaning is told first."""
        datum = "" if "{" in self.datum else self.datum
        usual = self.usual
        rule = f"As a rule {usual.least:g} to {usual.most:g} {usual.unit}." if usual else ""
        return " ".join(text for text in (means, datum, self.beware, rule) if text)


_NOTHING: Final = Form()
_DIRECTIONS: Final = frozenset({"up", "down", "left", "right", "higher", "lower"})


def field(
    means: str = "",
    *examples: Any,
    default: Any = ...,
    more: Mapping[str, Any] = MappingProxyType({}),
    **form: Any,
) -> Any:
    """A key of a table: what it means, what a value looks like, and its `Form`.

    default : where the key may be left out. more : what else pydantic shall know of it.
    """
    told: dict[str, Any] = dict(more)
    if means:
        told["description"] = means
    if examples:
        told["examples"] = list(examples)
    if form:
        told["json_schema_extra"] = Form(**form)
    return Field(default, **told)


def maybe(means: str = "", *examples: Any, **form: Any) -> Any:
    """A key that may be left out without anything standing in for it."""
    return field(means, *examples, default=None, **form)


def maybe_as(table: type[BaseModel], key: str, means: str = "") -> Any:
    """A key that may be left out, told and asked as that of another table but for what it means."""
    same = table.model_fields[key]
    return Field(
        None,
        description=means or same.description,
        examples=same.examples,
        json_schema_extra=same.json_schema_extra,
    )


def form_of(info: FieldInfo) -> Form:
    """The form of a key."""
    extra: Form | dict[str, Any] | Callable[..., None] | None = info.json_schema_extra
    return extra if isinstance(extra, Form) else _NOTHING


def means_of(info: FieldInfo) -> str:
    """What is told before a key is asked for: its datum, or else its meaning with examples."""
    form, kind = form_of(info), kind_of(info)
    if form.datum:
        return form.datum
    examples = info.examples or (kind.examples if kind else ())
    such = f" Such as {' or '.join(map(str, examples[:2]))}." if examples else ""
    return f"{info.description or ''}{such}"


def way_of(key: str, form: Form) -> str:
    """The word for the direction that a key says; "" where it says none."""
    last = key.rpartition(".")[2].rpartition("_")[2]
    return form.way or (last if last in _DIRECTIONS else "")
