"""The JSON Schema of rig files, for editors that complete and check as one types."""

from collections.abc import Mapping
from typing import Any

from sim.rig.defaults import DEFAULTS
from sim.rig.rig import Rig
from sim.table.default import Default
from sim.table.json_schema import DIALECT, without_null


def json_schema() -> dict[str, Any]:
    """Schema of a rig file: every key with what it means, examples, and its generic default."""
    schema = Rig.model_json_schema(by_alias=True)
    for default in DEFAULTS:
        _optional(schema, default)
    _whole_tables(schema, schema)
    without_null(schema)
    return {"$schema": DIALECT, **schema}


def _optional(schema: dict[str, Any], default: Default) -> None:
    """Mark a key as one that may be left out, and say what is then assumed."""
    *tables, key = default.key.split(".")
    table = schema
    for name in tables:
        table = _resolved(schema, table["properties"][name])
        if "properties" not in table:
            return  # one of several kinds of table: there the kind has to be said
    if key in table.get("required", []):
        table["required"].remove(key)
    if not callable(default.value) and not default.unless:
        table["properties"][key]["default"] = default.value


def _whole_tables(schema: Mapping[str, Any], table: dict[str, Any]) -> None:
    """Let a table be left out when nothing in it is required."""
    for key, value in table.get("properties", {}).items():
        inner = _resolved(schema, value)
        _whole_tables(schema, inner)
        needs = inner.get("required") or inner.get("allOf")
        is_table = inner.get("type") == "object" or key == "suspension"
        if is_table and not needs and key in table.get("required", []):
            table["required"].remove(key)


def _resolved(schema: Mapping[str, Any], node: dict[str, Any]) -> dict[str, Any]:
    """Follow references and the alternative `null` to the table itself."""
    while True:
        options = [n for n in node.get("anyOf", []) if n.get("type") != "null"]
        if "$ref" in node:
            node = schema["$defs"][node["$ref"].rsplit("/", 1)[-1]]
        elif len(options) == 1:
            node = options[0]
        else:
            return node
