"""What was found out about a problem as JSON, and back: frozen data, each equal part written once, each `Checked` with its receipt."""

from __future__ import annotations

import dataclasses
import functools
import importlib
import json
from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

from ..kernel import Checked
from ..receipts import recall, receipt

#: The modules whose dataclasses a record may hold. Nothing else is ever made from one.
DATA = (
    "notation.tree",
    "notation.question",
    "notation.message",
    "kernel.claims",
    "derive.route",
    "source.problem",
    "source.contrasts",
    "source.span",
    "source.vary",
    "diagnostics.diagnostic",
    "book.data",
    "book.trying",
    "book.blanks",
    "book.misstep",
    "book.curves",
)
_CHECKED = "checked"


class Unkept(TypeError):
    """A value of a type that no record holds."""


class BadReceipt(ValueError):
    """A verdict whose receipt was not written for it."""


def encode(value: Any, key: bytes) -> str:
    """The value as a table of rows: a plain value, or a list of a type's number and the numbers of earlier rows. Raises Unkept."""
    writer = _Writer(key)
    writer.put(value)
    return json.dumps({"types": list(writer.types), "rows": writer.rows}, ensure_ascii=False, separators=(",", ":"))


def decode(text: str, key: bytes) -> Any:
    """The value that `encode` wrote with the same key. Raises BadReceipt, or ValueError for what it never wrote."""
    table = json.loads(text)
    known = _makers()
    try:
        makers = [functools.partial(_recalled, key) if name == _CHECKED else known[name] for name in table["types"]]
        made: list[Any] = []
        for row in table["rows"]:
            made.append(makers[row[0]](*[made[at] for at in row[1:]]) if isinstance(row, list) else row)
        return made[-1]
    except (LookupError, TypeError) as error:
        raise ValueError(f"not a record of ours: {error}") from None


class _Writer:
    def __init__(self, key: bytes) -> None:
        self.key = key
        self.rows: list[Any] = []
        self.types: dict[str, int] = {}
        self._places: dict[tuple[Any, ...], int] = {}
        self._seen: dict[int, int] = {}

    def put(self, value: Any) -> int:
        """The number of the value's row."""
        if value is None or isinstance(value, bool | int | float | str):
            return self._place((type(value), value), value)
        # Told by identity first: every part stays alive while the whole does.
        place = self._seen.get(id(value))
        if place is None:
            place = self._seen[id(value)] = self._row(value)
        return place

    def _row(self, value: Any) -> int:
        match value:
            case tuple():
                return self._made("tuple", value)
            case frozenset():
                return self._made("frozenset", sorted(value, key=repr))
            case Fraction():
                return self._made("fraction", (value.numerator, value.denominator))
            case Checked():
                parts = [getattr(value, field.name) for field in dataclasses.fields(value)]
                return self._made(_CHECKED, (*parts, receipt(value, self.key)))
        name = _names().get(type(value))
        if name is None:
            raise Unkept(type(value).__name__)
        return self._made(name, [getattr(value, field.name) for field in dataclasses.fields(value) if field.compare])

    def _made(self, name: str, parts: Any) -> int:
        kind = self.types.setdefault(name, len(self.types))
        row = (kind, *map(self.put, parts))
        return self._place(row, list(row))

    def _place(self, key: tuple[Any, ...], row: Any) -> int:
        place = self._places.get(key)
        if place is None:
            place = self._places[key] = len(self.rows)
            self.rows.append(row)
        return place


def _recalled(key: bytes, *parts: Any) -> Checked:
    found: Checked | None = recall(*parts, key=key)
    if found is None:
        raise BadReceipt("a verdict that was not given for this claim")
    return found


@functools.cache
def _names() -> Mapping[type, str]:
    found: dict[type, str] = {}
    for place in DATA:
        for name, thing in vars(importlib.import_module(f"...{place}", __name__)).items():
            if isinstance(thing, type) and dataclasses.is_dataclass(thing) and thing.__module__.endswith(place) and thing is not Checked:
                found[thing] = f"{place}:{name}"
    return found


@functools.cache
def _makers() -> Mapping[str, Callable[..., Any]]:
    plain: dict[str, Callable[..., Any]] = {
        "tuple": lambda *parts: parts,
        "frozenset": lambda *parts: frozenset(parts),
        "fraction": Fraction,
    }
    return plain | {name: made for made, name in _names().items()}
