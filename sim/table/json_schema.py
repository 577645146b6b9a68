"""What the JSON Schemas of all files have in common."""

from typing import Any, Final

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"


def without_null(node: Any) -> None:
    """Take `null` out: TOML has none, a key is left out instead."""
    if isinstance(node, list):
        for each in node:
            without_null(each)
    elif isinstance(node, dict):
        options = node.get("anyOf", [])
        if {"type": "null"} in options:
            rest = [option for option in options if option != {"type": "null"}]
            del node["anyOf"]
            node.pop("default", None)
            for key, value in (rest[0] if len(rest) == 1 else {"anyOf": rest}).items():
                node.setdefault(key, value)
        for value in node.values():
            without_null(value)
