"""A lesson as its file says it: prose for the students, and steps (problems, contrasts, sets, talk) with what the teacher needs."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import get_close_matches

from ..notation.message import say
from .body import FENCE, closing_line, prose_faults
from .faults import BadValue, EmptyField, Fault, LessonLine, UnclosedBlock, UnknownField, UnknownStep
from .fields import nearest
from .front import decode, fields_of, front_of, ordered
from .paths import page_name
from .schema import LESSON
from .span import Lines, Span, Text

#: The steps of a lesson. All but `talk` are followed by the page that they are about.
STEPS = ("problem", "contrast", "set", "talk")
STEP_FIELDS = ("minutes", "predict", "say")
MAX_MINUTES = 600
_FIELD = re.compile(r"(?P<name>[A-Za-z][\w-]*)[ \t]*:[ \t]*(?P<said>.*)")


@dataclass(frozen=True, slots=True)
class Prose:
    """Markdown for the students."""

    text: str


@dataclass(frozen=True, slots=True)
class Step:
    """One step. `target` is the page of a problem, contrast or set; `predict` are questions that the students answer before they
    work; `say` are talking points, for the teacher alone; `minutes` is how long it takes, 0 where the file does not say."""

    kind: str
    target: Text | None
    minutes: int = 0
    predict: tuple[Text, ...] = ()
    say: tuple[Text, ...] = ()


@dataclass(frozen=True, slots=True)
class Lesson:
    """What a file of the folder `lessons` says, in its order. `minutes` is how long it takes; `place` is where it says so."""

    path: str
    title: str
    minutes: int
    place: Span
    items: tuple[Prose | Step, ...]

    @property
    def slug(self) -> str:
        return page_name(self.path)

    @property
    def steps(self) -> tuple[Step, ...]:
        return tuple(item for item in self.items if isinstance(item, Step))


@dataclass(frozen=True, slots=True)
class ReadLesson:
    """The lesson, unless its front matter or title could not be read, and every fault in the order of the file."""

    lesson: Lesson | None
    faults: tuple[Fault, ...]


def read_lesson(path: str, data: bytes) -> ReadLesson:
    """Read a file of the folder `lessons`."""
    lines, faults = decode(path, data)
    if lines is None:
        return ReadLesson(None, faults)
    front = front_of(lines)
    if isinstance(front, Fault):
        return ReadLesson(None, ordered((*faults, front)))
    fields, unreadable = fields_of(lines, front, LESSON)
    title, minutes = fields.words("title"), fields.whole_text("minutes")
    found = list(_items(lines, front[2]))
    wrong = [item for item in found if isinstance(item, Fault)]
    items = tuple(item for item in found if not isinstance(item, Fault))
    if minutes and not 0 < int(minutes.value) <= MAX_MINUTES:
        wrong.append(
            BadValue(minutes.span, "minutes", minutes.value, say("a whole number from {first} to {last}", first=1, last=MAX_MINUTES))
        )
    place = minutes.span if minutes else title.span if title else None
    lesson = Lesson(path, title.value, int(minutes.value) if minutes else 0, place, items) if title and place else None
    return ReadLesson(lesson, ordered((*faults, *unreadable, *fields.faults, *wrong)))


def _items(lines: Lines, number: int) -> Iterator[Prose | Step | Fault]:
    prose: list[str] = []
    while number <= len(lines):
        line = lines.piece(*lines.bounds(number))
        fence = FENCE.match(line.value)
        name = fence["info"].split()[0] if fence and fence["info"] else ""
        if fence is None or name not in STEPS:
            if fence and get_close_matches(name.lower(), STEPS, n=1, cutoff=0.75):
                yield UnknownStep(line.part(*fence.span("info")), name, nearest(name, STEPS))
            prose.append(line.value)
            yield from prose_faults(lines.path, line)
            number += 1
            continue
        if any(text.strip() for text in prose):
            yield Prose("\n".join(prose).strip("\n"))
        prose = []
        stop = closing_line(lines, number + 1, fence["fence"])
        if stop > len(lines):
            yield UnclosedBlock(line.part(*fence.span("fence")), fence["fence"])
        inside = [lines.piece(*lines.bounds(n)) for n in range(number + 1, min(stop, len(lines) + 1))]
        yield from _step(line.cut(*fence.span("info")), inside)
        number = stop + 1
    if any(text.strip() for text in prose):
        yield Prose("\n".join(prose).strip("\n"))


def _step(info: Text, inside: list[Text]) -> Iterator[Step | Fault]:
    kind, _, rest = info.value.partition(" ")
    target = info.cut(len(kind)).stripped() if rest.strip() else None
    if kind != "talk" and target is None:
        yield LessonLine(info.span, "target", kind)
        return
    minutes = 0
    said: dict[str, list[Text]] = {"predict": [], "say": []}
    for text in inside:
        field = _FIELD.fullmatch(text.value.rstrip())
        if not text.value.strip():
            continue
        if field is None:
            yield LessonLine(text.stripped().span, "field", kind)
            continue
        name, value = field["name"], text.cut(*field.span("said"))
        if name not in STEP_FIELDS:
            yield UnknownField(text.part(*field.span("name")), name, nearest(name, STEP_FIELDS), STEP_FIELDS, kind)
        elif not value.value.strip():
            yield EmptyField(text.part(*field.span("name")), name)
        elif name != "minutes":
            said[name].append(value)
            yield from prose_faults(text.span.path, value)
        elif re.fullmatch(r"[0-9]{1,3}", value.value) and 0 < int(value.value) <= MAX_MINUTES:
            minutes = int(value.value)
        else:
            yield BadValue(value.span, name, value.value, say("a whole number from {first} to {last}", first=1, last=MAX_MINUTES))
    yield Step(kind, target, minutes, tuple(said["predict"]), tuple(said["say"]))
