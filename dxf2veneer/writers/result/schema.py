"""The JSON Schema of the result, made from the shape that the writers return.

    python -m dxf2veneer.writers.result.schema > docs/result.schema.json

prints it; a test holds the printed schema against the file.
"""

from __future__ import annotations

import json
import sys
import types
from inspect import cleandoc
from typing import Annotated, Any, Literal, NotRequired, Union, get_args, get_origin, get_type_hints
from typing import is_typeddict as is_object

from dxf2veneer.writers.result.shape import ResultJson

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_SCALARS: dict[Any, str] = {
    str: "string",
    int: "integer",
    float: "number",
    bool: "boolean",
    types.NoneType: "null",
}

Schema = dict[str, Any]


def result_schema() -> Schema:
    """The JSON Schema of a result file.

    Returns:
        A schema of the draft 2020-12; every object allows the fields named in it and no others.
    """
    return schema_of(ResultJson, "Result of a takeoff by dxf2veneer")


def schema_of(shape: Any, title: str) -> Schema:
    """The JSON Schema of a shape.

    Args:
        shape: A TypedDict.
        title: What it describes.

    Returns:
        As ``result_schema``.
    """
    defs: dict[str, Schema] = {}
    whole = _object(shape, defs)
    head = {"$schema": DIALECT, "title": title}
    return {**head, **whole, "$defs": dict(sorted(defs.items()))}


def schema_text(schema: Schema | None = None) -> str:
    """A schema as it stands in ``docs/result.schema.json``.

    Args:
        schema: The schema; that of a result where it is left out.

    Returns:
        JSON with a line end behind it.
    """
    return json.dumps(schema or result_schema(), indent=2, ensure_ascii=False) + "\n"


def _object(shape: Any, defs: dict[str, Schema]) -> Schema:
    """Schema of an object by the fields of a TypedDict."""
    fields = get_type_hints(shape, include_extras=True)
    return {
        "description": " ".join(cleandoc(shape.__doc__).split()),
        "type": "object",
        "properties": {name: _of(hint, defs) for name, hint in fields.items()},
        "required": [name for name, hint in fields.items() if get_origin(hint) is not NotRequired],
        "additionalProperties": False,
    }


def _of(hint: Any, defs: dict[str, Schema]) -> Schema:
    """Schema of one type; the objects that it refers to are added to ``defs``."""
    origin, parts = get_origin(hint), get_args(hint)
    if origin is NotRequired:
        return _of(parts[0], defs)
    if origin is Annotated:
        return _described(_of(parts[0], defs), parts[1:])
    if is_object(hint):
        name = hint.__name__.removesuffix("Json")
        if name not in defs:
            defs[name] = {}
            defs[name] = _object(hint, defs)
        return {"$ref": f"#/$defs/{name}"}
    if origin in (Union, types.UnionType):
        return _either([_of(part, defs) for part in parts])
    return _plain(hint, origin, parts, defs)


def _plain(hint: Any, origin: Any, parts: tuple[Any, ...], defs: dict[str, Schema]) -> Schema:
    """Schema of a word among several, a list, a pair, a table of names, a scalar."""
    if origin is Literal:
        return {"enum": list(parts)}
    if origin is list:
        items = _of(parts[0], defs)
        return {"type": "array", "items": items} if items else {"type": "array"}
    if origin is tuple:
        listed = [_of(part, defs) for part in parts]
        return {"type": "array", "prefixItems": listed, "items": False, "minItems": len(listed)}
    if origin is dict:
        return {"type": "object", "additionalProperties": _of(parts[1], defs) or True}
    return {} if hint is Any else {"type": _SCALARS[hint]}


def _either(schemas: list[Schema]) -> Schema:
    """One of several: a list of types where they say no more than their type."""
    if all(set(s) == {"type"} for s in schemas):
        return {"type": [s["type"] for s in schemas]}
    return {"anyOf": schemas}


def _described(schema: Schema, said: tuple[Any, ...]) -> Schema:
    """A schema with what stands beside the type: what it means, and further words of JSON
    Schema."""
    for word in said:
        schema = {
            **schema,
            **({"description": word} if isinstance(word, str) else {word.word: word.value}),
        }
    return schema


if __name__ == "__main__":
    sys.stdout.write(schema_text())
