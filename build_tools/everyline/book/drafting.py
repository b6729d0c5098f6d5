"""A new problem: its key computed or judged, its worked solutions found, its file made; nothing of it is on the disk yet."""

from __future__ import annotations

from dataclasses import dataclass

from ..derive import Budget, derive
from ..diagnostics import diagnose
from ..kernel import Checked
from ..notation import Context, NotationError, latex, parse_given, parse_question, words
from ..notation.message import Message, say, together
from ..notation.question import Given, Question
from ..source.problem import Conventions
from ..source.writing import Unwritable, Value, file_name, write_problem
from ..techniques import catalogue
from .data import Examined
from .examination import Job, examine
from .rows import explained
from .words import outcome_said


@dataclass(frozen=True, slots=True)
class Draft:
    """What a person says of a new problem. Only the question is needed; without a key it is worked out."""

    question: str
    keys: tuple[str, ...] = ()
    title: str = ""
    level: str = ""
    given: str = ""
    domain: str = ""
    needs: tuple[str, ...] = ()
    hints: tuple[str, ...] = ()
    author: str = ""
    source: str = ""
    license: str = ""

    def fields(self, keys: tuple[str, ...]) -> tuple[tuple[str, Value], ...]:
        """The fields of the file, in the order in which people write them."""
        return (
            ("question", self.question),
            ("key", keys[0] if len(keys) == 1 else keys),
            ("title", self.title),
            ("level", self.level),
            ("domain", self.domain),
            ("given", self.given),
            ("needs", self.needs),
            ("hints", self.hints),
            ("author", self.author),
            ("source", self.source),
            ("license", self.license),
        )


@dataclass(frozen=True, slots=True)
class Drafting:
    """A draft and where it is to stand: the chapter, the conventions of the book and what has been taught by then (None: everything)."""

    draft: Draft
    chapter: str
    conventions: Conventions
    taught: frozenset[str] | None = None
    seconds: float = 10.0


@dataclass(frozen=True, slots=True)
class Drafted:
    """The file that came of a draft, or why there is none. `slug` is a name for it; `remarks` is what a person should hear."""

    data: bytes = b""
    slug: str = ""
    examined: Examined | None = None
    why: Message | None = None
    remarks: tuple[Message, ...] = ()

    @property
    def proved(self) -> bool:
        return bool(self.data)


def drafted(asked: Drafting) -> Drafted:
    """The file of a draft, if every key of it is proved. Never raises for anything that a person can write."""
    draft = asked.draft
    try:
        keys, slug = draft.keys or (_worked_out(asked),), file_name(draft.title or _in_words(asked))
        data, problem = write_problem(f"{asked.chapter}/{slug}.md", draft.fields(keys), catalogue())
    except NotationError as error:
        return Drafted(why=say("the question could not be read: {why}", why=explained(error)))
    except Unwritable as error:
        return Drafted(why=diagnose(error.fault).headline if error.fault else say("this cannot be written as a problem file"))
    except _Unsolved as error:
        return Drafted(why=say("no key was given, and none was found: {why}", why=error.why))
    found = examine(Job(problem, asked.conventions, asked.taught, asked.seconds))
    faults = [fault for fault in found.diagnostics if fault.severity == "error"]
    if faults:
        return Drafted(why=together((faults[0].headline, *faults[0].notes)), examined=found)
    unproved = next((v.outcome for v in found.keys if not (isinstance(v.outcome, Checked) and v.outcome.grade == "proved")), None)
    if isinstance(unproved, Checked):
        return Drafted(why=say("the key is not proved: it {what}", what=outcome_said(unproved)), examined=found)
    return Drafted(data, slug, found, remarks=tuple(fault.headline for fault in found.diagnostics if fault.severity == "warning"))


class _Unsolved(Exception):
    def __init__(self, why: Message) -> None:
        super().__init__(why.text)
        self.why = why


def _question(asked: Drafting) -> Question:
    context = Context(log=asked.conventions.log, decimal=asked.conventions.decimal)
    given = parse_given(asked.draft.given, context) if asked.draft.given else Given()
    return parse_question(asked.draft.question, given, context)


def _in_words(asked: Drafting) -> str:
    return words(_question(asked).node)


def _worked_out(asked: Drafting) -> str:
    """A key in the notation, from the preferred worked solution."""
    found = derive(_question(asked), budget=Budget(seconds=asked.seconds), most=1)
    if not found.routes:
        raise _Unsolved(found.missing or say("No method was found."))
    return latex(found.routes[0].answer)
