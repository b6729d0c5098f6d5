"""Sentences with formulas in them, kept as data until a page, a terminal or a translator needs them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from .tree import Node

#: From an English sentence or label to the same in the language of the reader; `str` leaves it English.
Translate = Callable[[str], str]


@dataclass(frozen=True, slots=True)
class Message:
    """A sentence of the catalogue (the gettext key) with `{named}` places: formulas, numbers, plain words, or phrases of the catalogue."""

    text: str
    values: tuple[tuple[str, Node | str | int | Message], ...] = ()


_AS_IT_IS = "{text}"


def say(text: str, **values: Node | str | int | Message) -> Message:
    """`say("Let {u} be the inside.", u=node)`: the way techniques and slips write a reason."""
    return Message(text, tuple(sorted(values.items())))


def fill(message: Message, show: Callable[[Node], str], translate: Translate = str) -> str:
    """The sentence with its places filled: formulas by `show` (a printer), words and numbers as they are."""

    def shown(value: Node | str | int | Message) -> str:
        if isinstance(value, Message):
            return fill(value, show, translate)
        return show(value) if isinstance(value, Node) else str(value)

    found = translate(message.text)
    return found.format_map({name: shown(value) for name, value in message.values}) if message.values else found


def verbatim(text: str) -> Message:
    """Words that no catalogue has, such as those of a person, as they are."""
    return Message(_AS_IT_IS, (("text", text),))


def either(options: Sequence[str]) -> Message:
    """`a, b or c`."""
    *most, last = options
    return say("{options} or {last}", options=", ".join(most), last=last) if most else verbatim(last)


def figure(text: str) -> Message | str:
    """A number in words of ours, `x = 2.50`, that each language writes with its own mark."""
    whole, mark, places = text.partition(".")
    return say("{whole}.{places}", whole=whole, places=places) if mark else text


def together(sentences: Sequence[Message]) -> Message:
    """Sentences one after the other."""
    first, *more = sentences
    return say("{first} {second}", first=first, second=together(more)) if more else first


def sentence(text: str) -> str:
    """Marks a sentence of the catalogue that is kept in a table and said later."""
    return text
