"""The fields of a file as a JSON Schema (draft 2020-12), for editors that help while one types.

A schema sees shapes and names; what YAML reads otherwise than it looks, and all mathematics, only `everyline check` sees.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from ..notation.message import Translate, sentence
from .schema import BOOK, CHAPTER, CONTRAST, LESSON, PROBLEM, SET, VOUCHED, Field

FILES: Mapping[str, tuple[Field, ...]] = {
    "problem": PROBLEM, "chapter": CHAPTER, "set": SET, "lesson": LESSON, "contrast": CONTRAST, "book": BOOK,
}  # fmt: skip
_TITLES = {
    "problem": sentence("The front matter of a problem"),
    "chapter": sentence("The front matter of a chapter"),
    "set": sentence("The front matter of a set"),
    "lesson": sentence("The front matter of a lesson"),
    "contrast": sentence("The front matter of a contrast"),
    "book": "book.yml",
}
_SCALAR: dict[str, Any] = {"type": ["string", "number"]}
#: As `fields.HTML`, in the regular expressions of ECMA-262.
_HTML = r"<(!--|/?[A-Za-z][A-Za-z0-9-]*(\s[^<>]*)?/?>)|\b[Jj][Aa][Vv][Aa][Ss][Cc][Rr][Ii][Pp][Tt]:"
_WORDS = {**_SCALAR, "not": {"type": "string", "pattern": _HTML}}


def json_schema(kind: str, techniques: Collection[str], tell: Translate = str) -> dict[str, Any]:
    """The schema of one kind of file (a key of `FILES`), its fields described in the language that `tell` speaks."""
    fields = FILES[kind]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": tell(_TITLES[kind]),
        "type": "object",
        "properties": {field.name: _described(field, sorted(techniques), tell(field.about)) for field in fields},
        "required": [field.name for field in fields if field.required],
        "additionalProperties": False,
    }


def _described(field: Field, techniques: list[str], about: str) -> dict[str, Any]:
    return {"description": f"{about[0].upper()}{about[1:]}.", "examples": [field.example], **_shape(field, techniques)}


def _shape(field: Field, techniques: list[str]) -> dict[str, Any]:
    filled = {"minLength": 1} if field.required else {}
    match field.shape:
        case "formula":
            return {**_SCALAR, **filled}
        case "words":
            return {**_WORDS, **filled}
        case "formulas":
            return _one_or_several({**_SCALAR, "minLength": 1}, field.required)
        case "word-list":
            return _one_or_several({**_WORDS, "minLength": 1}, field.required)
        case "technique-list":
            return _one_or_several({"enum": techniques}, field.required)
        case "choice":
            return {"enum": [*field.choices, *(int(choice) for choice in field.choices if choice.isdecimal())]}
        case "whole":
            return {"anyOf": [{"type": "integer"}, {"type": "string", "pattern": "^-?[0-9]{1,9}$"}]}
        case "date":
            return {"type": "string", "format": "date", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}
        case "time-list":  # YAML 1.1 makes a number of 1:05
            time = {"type": "string", "pattern": "^([0-9]{1,2}:[0-5][0-9]|[0-9]{1,3}):[0-5][0-9]$"}
            return _one_or_several({"anyOf": [time, {"type": "integer"}]}, field.required)
        case "address":
            return {"type": "string", "pattern": "^https?://[^\\s<>\"'`\\\\]+$"}
    table: dict[str, Any] = {"type": "object", "additionalProperties": _SCALAR}
    if field.name == "vouched":
        table |= {"properties": dict.fromkeys(VOUCHED, _SCALAR), "required": list(VOUCHED), "additionalProperties": False}
    return table


def _one_or_several(one: dict[str, Any], required: bool) -> dict[str, Any]:
    return {"anyOf": [one, {"type": "array", "items": one, **({"minItems": 1} if required else {})}]}
