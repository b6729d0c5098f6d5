"""A contrast as its file says it: one question by two methods, or problems that look alike and need different ones."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from ..notation.message import say
from .body import read_body
from .faults import BadValue, Fault
from .front import decode, fields_of, front_of, ordered
from .paths import page_path
from .schema import CONTRAST
from .span import Span, Text

TWO_METHODS, LOOK_ALIKES = "two methods", "look-alikes"
MOST = 3


@dataclass(frozen=True, slots=True)
class Contrast:
    """What a file of the folder `contrasts` says. `path` is relative to the content folder, `place` is its title's.

    `kind` is `two methods` (one problem) or `look-alikes` (two or three). `methods` are technique ids: the methods of the one problem,
    or one for each problem; empty: as the problems' own solutions go. `point` is the teacher's, `prompt` what is asked first ("" : the
    usual question), `prose` what is said besides.
    """

    path: str
    title: str
    place: Span
    kind: str
    problems: tuple[Text, ...]
    methods: tuple[Text, ...]
    point: str
    prompt: str = ""
    prose: str = ""

    @property
    def pages(self) -> tuple[str, ...]:
        """The paths of its problems."""
        return tuple(page_path(text.value) for text in self.problems)


@dataclass(frozen=True, slots=True)
class ReadContrast:
    """The contrast, unless what it needs could not be read, and every fault in the order of the file."""

    contrast: Contrast | None
    faults: tuple[Fault, ...]


def read_contrast(path: str, data: bytes, techniques: Collection[str] | None = None) -> ReadContrast:
    """Read a file of the folder `contrasts`. `techniques` are the known ids (None: names go unchecked)."""
    lines, faults = decode(path, data)
    if lines is None:
        return ReadContrast(None, faults)
    front = front_of(lines)
    if isinstance(front, Fault):
        return ReadContrast(None, ordered((*faults, front)))
    fields, unreadable = fields_of(lines, front, CONTRAST)
    body = read_body(lines, front[2])
    title, point, prompt = fields.words("title"), fields.words("point"), fields.words("prompt")
    problems, methods = fields.word_list("problems"), fields.techniques("methods", techniques)
    inferred = TWO_METHODS if len(problems) == 1 else LOOK_ALIKES
    kind = fields.choice("kind", inferred)
    wrong = list(_faults(kind, problems, methods)) if problems else []
    contrast = None
    if title and point and problems and not wrong:
        said = prompt.value if prompt else ""
        contrast = Contrast(path, title.value, title.span, kind, problems, methods, point.value, said, body.prose)
    return ReadContrast(contrast, ordered((*faults, *unreadable, *fields.faults, *body.faults, *wrong)))


def _faults(kind: str, problems: tuple[Text, ...], methods: tuple[Text, ...]) -> list[Fault]:
    if kind == TWO_METHODS and len(problems) != 1:
        return [BadValue(problems[1].span, "problems", problems[1].value, say("one problem, as the contrast is of two methods"))]
    if kind == LOOK_ALIKES and not 2 <= len(problems) <= MOST:
        at = problems[min(len(problems) - 1, MOST)]
        return [BadValue(at.span, "problems", at.value, say("two or three problems that look alike"))]
    pages = [page_path(text.value) for text in problems]
    for number, text in enumerate(problems):
        if pages[number] in pages[:number]:
            return [BadValue(text.span, "problems", text.value, say("each problem once"))]
    if kind == TWO_METHODS and methods and not 2 <= len(methods) <= MOST:
        at = methods[min(len(methods) - 1, MOST)]
        return [BadValue(at.span, "methods", at.value, say("two or three methods for the one problem"))]
    if kind == LOOK_ALIKES and methods and len(methods) != len(problems):
        return [BadValue(methods[-1].span, "methods", methods[-1].value, say("one method for each problem, in the same order"))]
    return []
