"""Marking one answer: the checker's word on it, the slip behind it, and the first line of its working that does not follow."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from ..diagnostics import diagnose
from ..kernel import Checked, IntegralValue, Refuted, question_claim
from ..notation import NotationError, parse, plain
from ..notation.build import contains
from ..notation.message import Message, Translate, fill, say, sentence
from ..notation.question import Question
from ..notation.tree import Derivative, Integral, Limit, Node
from ..source.blocks import read_lines
from ..source.faults import Fault
from ..source.problem import Block, HandLine
from ..source.span import Place, Span, Text
from ..source.table import looks_like_a_day
from .hand import HandFault, check_block
from .keys import Judged, judge, key_context, left_over
from .rows import explained
from .words import differing, outcome_said

#: What each mark is called in the file of marks; every language has a word for it.
RIGHT, WRONG = sentence("right"), sentence("wrong")
UNREAD, UNDECIDED, NOTHING = sentence("could not be read"), sentence("could not be decided"), sentence("no answer")
MARKS = (RIGHT, WRONG, UNREAD, UNDECIDED, NOTHING)
#: The most that is read of one cell; the longest answer of the reference tables has some 200 characters.
MAX_ANSWER, MAX_LINES = 4_000, 60
_SIDES = {
    "indefinite": (sentence("the integrand is"), sentence("the derivative of the answer is")),
    "derivative": (sentence("the derivative is"), sentence("the answer gives")),
    "definite": (sentence("the integral is"), sentence("the answer says")),
    "limit": (sentence("the limit is"), sentence("the answer says")),
}


@dataclass(frozen=True, slots=True)
class Handed:
    """One thing handed in: an answer, a working (lines), or both, to a question whose key is `key`."""

    question: Question
    key: str
    answer: str
    working: str = ""
    log: str = "ask"
    decimal: str = "point"
    constant: str = "warning"
    seconds: float = 5.0


@dataclass(frozen=True, slots=True)
class Mark:
    """What is to be said of it. `mark` is one of `MARKS`; `slip` the id of the slip, `title` its name and `explained` its sentence.

    `line` is the number of the first line of the working that does not follow (0: none), `working` says what was found of it.
    """

    mark: str
    notes: tuple[Message, ...] = ()
    slip: str = ""
    title: str = ""
    explained: Message | None = None
    line: int = 0
    working: Message | None = None

    def note(self, tell: Translate = str) -> str:
        """The notes as one text in the language that `tell` speaks, without what the mark says itself."""
        first, *more = [fill(note, plain, tell) for note in self.notes] or [""]
        rest = first.removeprefix(tell(UNDECIDED)).lstrip(" :") if self.mark == UNDECIDED else first
        return "; ".join(filter(None, (rest[1:-1] if rest.startswith("(") and rest.endswith(")") else rest, *more)))

    def worked(self, tell: Translate = str) -> str:
        """What was found of the working."""
        return "" if self.working is None else fill(self.working, plain, tell)

    def found(self, tell: Translate = str) -> str:
        """The sentence about the slip, and after it the point at which the answer fails."""
        note = self.note(tell)
        if self.explained is None:
            return note
        said = fill(self.explained, plain, tell)
        return f"{said} {note[:1].upper()}{note[1:]}." if note else said


def mark(handed: Handed) -> Mark:
    """The mark of one answer. Never raises for anything that a student can write."""
    try:
        line, said, last = _worked(handed)
        answer = handed.answer.strip() or last
        if not answer:
            empty = not handed.working.strip()
            notes = () if empty else (say("the working does not end in an answer"),)
            return Mark(NOTHING, notes, line=line, working=said)
        return replace(_answered(handed, answer), line=line, working=said)
    except RecursionError:
        return Mark(UNREAD, (say("this is nested too deeply"),))


def _answered(handed: Handed, answer: str) -> Mark:
    question = handed.question
    if len(answer) > MAX_ANSWER:
        return Mark(UNREAD, (say("this is too long: {count} characters", count=f"{len(answer):,}"),))
    try:
        judged, how = _judged(handed, answer)
    except NotationError as error:
        day = say("it looks like a day: spreadsheets make one of a fraction such as 1/2 unless the column is set to text")
        return Mark(UNREAD, (*((day,) if looks_like_a_day(answer) else ()), _unreadable(error, answer)))
    notes = (*how, *((say("read as {formula}", formula=judged.tree),) if judged.read_as else ()))
    outcome = judged.outcome
    if isinstance(outcome, Refuted):
        where, what = differing(outcome, _SIDES[question.kind])
        first = outcome_said(outcome, _SIDES[question.kind]) if where or what is None else what
        return replace(_slip(handed, judged.tree), notes=(first, *notes))
    if not isinstance(outcome, Checked) and (left := left_over(question, judged.tree)):
        return Mark(WRONG, (say("a value has no {name} in it", name=left), *notes))
    if not isinstance(outcome, Checked):
        return Mark(UNDECIDED, (outcome_said(outcome), *notes))
    notes = (outcome_said(outcome), *notes) if outcome.grade != "proved" else notes
    if question.kind == "indefinite" and judged.lacks_constant:
        return Mark(WRONG if handed.constant == "error" else RIGHT, (say("the constant of integration is missing"), *notes))
    return Mark(RIGHT, notes)


def _unreadable(error: NotationError, text: str) -> Message:
    """Why a text cannot be read, for somebody who can declare nothing."""
    if error.code == "undeclared":
        return say("“{letter}” is not a letter of the question", letter=text[error.start : error.end])
    return explained(error)


def _judged(handed: Handed, answer: str) -> tuple[Judged, tuple[Message, ...]]:
    """The answer judged as the book writes numbers. Where that cannot be read, the other decimal mark is taken if it is proved right.

    Raises:
        NotationError: it cannot be read, or only in a way that is not right.
    """
    question = handed.question
    try:
        return judge(question, answer, key_context(question, handed.log, handed.decimal), seconds=handed.seconds), ()
    except NotationError:
        other = "comma" if handed.decimal == "point" else "point"
        try:
            judged = judge(question, answer, key_context(question, handed.log, other), seconds=handed.seconds)
        except NotationError:
            judged = None
        if judged is None or not isinstance(judged.outcome, Checked):
            raise
        return judged, (say("read with a decimal comma" if other == "comma" else "read with a decimal point"),)


def _slip(handed: Handed, claimed: Node) -> Mark:
    """A wrong answer with the slip that explains it, where a repaired answer passes the check."""
    from ..algebra import tidy
    from ..slips import diagnose as diagnose_slip

    question = handed.question
    right, antiderivative = _known(handed)
    found = diagnose_slip(question, claimed, right=right, antiderivative=antiderivative, seconds=1.0)
    if found is None and (tidied := tidy(claimed)) != claimed:  # `3x^(3-1)` hides its slip from a look at the numbers
        found = diagnose_slip(question, tidied, right=right, antiderivative=antiderivative, seconds=1.0)
    if found is None:
        return Mark(WRONG)
    return Mark(WRONG, slip=found.slip, title=found.title, explained=found.message)


def _known(handed: Handed) -> tuple[Node | None, Node | None]:
    """The key as a tree, and the antiderivative behind it where the integral is definite: with them more slips can be told apart."""
    question = handed.question
    try:
        right = parse(handed.key, key_context(question, handed.log, handed.decimal), answer=True)
    except NotationError:
        return None, None
    claim = question_claim(question, right)
    if not isinstance(claim, IntegralValue):
        return right, None
    from ..derive import Budget, certify

    return right, certify(claim, budget=Budget(seconds=min(handed.seconds / 2, 3.0)))


def lines_of(working: str) -> tuple[Text, ...]:
    """The lines of a working as texts with the numbers of their lines. On one line `;` parts them (but not the thin space of TeX)."""
    parts = working.splitlines() if len(working.strip().splitlines()) > 1 else re.split(r"(?<!\\);", working)
    kept = (part.strip() for part in parts)
    return tuple(
        Text(part, Span("working", Place(n, 1), Place(n, len(part) + 1))) for n, part in enumerate((part for part in kept if part), 1)
    )


def _worked(handed: Handed) -> tuple[int, Message | None, str]:
    """Of a working: the first line that does not follow (0: none), a sentence, and the answer that it ends in (if it does)."""
    texts = lines_of(handed.working)
    if not texts:
        return 0, None, ""
    if len(texts) > MAX_LINES or len(handed.working) > MAX_ANSWER:
        return 0, say("the working is too long to be read"), ""
    hands, faults = read_lines(texts)
    last = _last_answer(handed, hands)
    if faults:
        return _unread(faults[0], last)
    formulas = tuple(hand for hand in hands if hand.kind != "note")
    if not formulas:
        return 0, say("the working has no formula"), ""
    span = Span("working", texts[0].span.start, texts[-1].span.end)
    found = check_block(handed.question, Block(span, formulas), key_context(handed.question, handed.log, handed.decimal))
    if not isinstance(found, HandFault):
        count = len(texts)
        return 0, say("every line follows" if count > 1 else "the line follows"), last
    line = found.text.span.start.line
    return (line, _why(line, found, handed.question), last)


def _unread(fault: Fault, last: str) -> tuple[int, Message, str]:
    line = fault.span.start.line
    return line, say("line {line} could not be read: {why}", line=line, why=diagnose(fault).headline), last


def _why(line: int, fault: HandFault, question: Question) -> Message:
    """What is wrong with a line, and at which point."""
    if isinstance(fault.why, NotationError):
        return say("line {line} could not be read: {why}", line=line, why=_unreadable(fault.why, fault.text.value))
    if isinstance(fault.why, Refuted):
        what = outcome_said(fault.why, (sentence("before it"), sentence("in it")))
        return say(
            "line {line} does not answer the question: {what}" if fault.ends else "line {line} does not follow: {what}",
            line=line,
            what=what,
        )
    if fault.ends and isinstance(fault.why, Message):
        return say("line {line} is not an answer yet: {why}", line=line, why=fault.why)
    return say("line {line} could not be decided", line=line)


def _last_answer(handed: Handed, hands: tuple[HandLine, ...]) -> str:
    """The last formula of a working, unless an integral, a derivative or a limit is still standing in it."""
    text = next((hand.formula.value for hand in reversed(hands) if hand.kind in ("formula", "continued")), "")
    try:
        tree = parse(text, key_context(handed.question, handed.log, handed.decimal), answer=True)
    except NotationError:
        return text
    return "" if contains(tree, (Integral, Derivative, Limit)) else text
