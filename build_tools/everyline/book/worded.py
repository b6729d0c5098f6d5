"""A problem file with numbers for its letters: formulas, lines, and the formulas in its words."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from ..notation import Context, NotationError, latex, parse, parse_domain, plain
from ..notation.build import names
from ..notation.context import USUAL_VARIABLES
from ..notation.question import Question
from ..notation.tree import Integral, Node
from ..source.problem import Block, HandLine, Problem
from ..source.span import Text
from .neat import neat

_FORMULA = re.compile(r"(?<![\\$])\$(?P<inside>[^$\n]+)\$(?!\$)")
_COMMAND = re.compile(r"\\[A-Za-z]+")


class Unset(Exception):
    """A formula in words that holds a letter of the family and cannot be read: `text` and the notation's `error`."""

    def __init__(self, text: Text, error: NotationError) -> None:
        super().__init__(str(error))
        self.text, self.error = text, error


@dataclass(frozen=True, slots=True)
class Numbers:
    """The numbers of one instance, and how the family's texts are read (its letters are declared)."""

    values: Mapping[str, Node]
    context: Context
    variable: str

    def formula(self, text: Text, read: Callable[[str], Node] | None = None) -> Text:
        """A formula of the front matter or of a line, with the numbers in it; what cannot be read is left for the checks to name."""
        if not self._mentions(text.value):
            return text
        try:
            tree = (read or (lambda value: parse(value, self.context)))(text.value)
            return pinned(text, plain(neat(tree, self.values)))
        except NotationError:
            return text

    def domain(self, text: Text) -> Text:
        return self.formula(text, lambda value: parse_domain(value, self.variable, self.context))

    def words(self, text: Text) -> Text:
        """A text in plain words: the formulas between dollar signs get the numbers.

        Raises:
            Unset: such a formula holds a letter and cannot be read.
        """
        return pinned(text, self.prose(text.value, text)) if self._mentions(text.value) else text

    def prose(self, value: str, at: Text) -> str:
        """`words` for a text without places; an error is placed at `at`."""

        def put(match: re.Match[str]) -> str:
            inside = match["inside"]
            if not self._mentions(inside):
                return match[0]
            tree = self._read(inside, at)
            return f"${latex(neat(tree, self.values))}$" if names(tree) & self.values.keys() else match[0]

        return _FORMULA.sub(put, value)

    def _read(self, inside: str, at: Text) -> Node:
        """A formula in words; a hint may bring the new name of a substitution, which nothing declares."""
        try:
            return parse(inside, self.context)
        except NotationError as error:
            try:
                return parse(inside, self.context.declare(*USUAL_VARIABLES))
            except NotationError:
                raise Unset(at, error) from error

    def block(self, block: Block) -> Block:
        """A hand-written solution; names that it introduces are declared."""
        known = {line.left.value.strip().lstrip("\\") for line in block.lines if line.kind == "let" and line.left is not None}
        known = {name for name in known if re.fullmatch(r"[A-Za-z]|theta|phi", name)}
        if self.variable in known:
            known |= USUAL_VARIABLES
        inner = replace(self, context=self.context.declare(*known))
        return replace(block, lines=tuple(inner.line(line) for line in block.lines))

    def line(self, line: HandLine) -> HandLine:
        reason = self.prose(line.reason, line.formula)
        if line.kind == "note":
            return replace(line, reason=reason)
        if line.kind == "differential":
            left = None if line.left is None else self._form(line.left)
            return replace(line, formula=self._form(line.formula), left=left, reason=reason)
        return replace(line, formula=self.formula(line.formula), reason=reason)

    def _form(self, text: Text) -> Text:
        """A differential, `2ax dx`: read as the integral of it, written without the sign."""
        if not self._mentions(text.value):
            return text
        try:
            tree = parse(r"\int " + text.value, self.context.declare(*USUAL_VARIABLES))
            made = neat(tree, self.values)
        except NotationError:
            return text
        return pinned(text, plain(made).removeprefix("int ")) if isinstance(made, Integral) else text

    def _mentions(self, value: str) -> bool:
        bare = _COMMAND.sub(" ", value)
        return any((name if len(name) == 1 else name.partition("_")[0]) in bare or f"\\{name}" in value for name in self.values)


def pinned(text: Text, value: str) -> Text:
    """Another text at the same place: whatever is wrong in it is shown where the family's own text begins."""
    start = text.span.start
    return Text(value, text.span, tuple((offset, start) for offset in range(len(value))))


def worded(problem: Problem, numbers: Numbers, question: Question, keys: tuple[Node, ...]) -> Problem:
    """The problem that a family's file is for these numbers, as if a teacher had written it so.

    Raises:
        Unset: a formula in its words cannot be read.
        ZeroDivisionError: something is divided by zero for these numbers.
    """
    return replace(
        problem,
        question=pinned(problem.question, plain(question.node)),
        keys=tuple(pinned(text, plain(tree)) for text, tree in zip(problem.keys, keys, strict=True)),
        domain=None if problem.domain is None else numbers.domain(problem.domain),
        u=None if problem.u is None else numbers.formula(problem.u),
        title=None if problem.title is None else numbers.words(problem.title),
        hints=tuple(numbers.words(hint) for hint in problem.hints),
        prose=numbers.prose(problem.prose, problem.question),
        blocks=tuple(numbers.block(block) for block in problem.blocks),
    )
