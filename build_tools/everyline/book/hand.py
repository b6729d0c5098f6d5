"""Hand-written solutions: every line is read in the names in force and checked against the one before."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..derive.route import Line
from ..kernel import Checked, Equal, Refuted, SameDerivative, Setting, Undecided, check
from ..kernel.claims import Verdict
from ..notation import Context, NotationError, parse
from ..notation.build import contains, names, substitute, walk
from ..notation.context import USUAL_VARIABLES
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import Derivative, Integral, Limit, Name, Node
from ..source.problem import Block, HandLine
from ..source.span import Text
from .inverse import invert

_OPEN = (Integral, Derivative, Limit)


@dataclass(frozen=True, slots=True)
class HandFault:
    """The first line of a block that does not follow, and why; a block's later lines are not looked at."""

    text: Text
    why: NotationError | Refuted | Undecided | Message
    ends: bool = False


@dataclass(frozen=True, slots=True)
class _State:
    """What stands on the board so far: the names, what they mean, and the last expression of the chain."""

    context: Context
    setting: Setting
    last: Node
    loose: bool
    lines: tuple[Line, ...] = ()
    parts: frozenset[str] = frozenset()  # names known only by their differential so far: `dv = …`

    def bound(self, name: str) -> Node | None:
        return dict(self.setting.bindings).get(name)

    def bind(self, name: str, value: Node) -> _State:
        kept = tuple((n, v) for n, v in self.setting.bindings if n != name)
        return replace(self, context=self.context.declare(name), setting=replace(self.setting, bindings=(*kept, (name, value))))


def check_block(question: Question, block: Block, context: Context) -> tuple[Line, ...] | HandFault:
    """The checked lines of a hand-written solution, or the first line that is wrong.

    The chain must start from the question and its last line must answer it.
    """
    setting = Setting(question.variable, question.domain, question.given)
    state: _State | HandFault = _State(context.of(question), setting, question.node, _loose(question.node, setting))
    for hand in block.lines:
        assert isinstance(state, _State)
        state = _step(state, hand)
        if isinstance(state, HandFault):
            return state
    assert isinstance(state, _State)
    if contains(state.last, _OPEN):
        return HandFault(block.lines[-1].formula, say("An integral is still standing."), ends=True)
    final = _compare(replace(state, loose=question.kind == "indefinite"), question.node, state.last)
    return state.lines if isinstance(final, Checked) else HandFault(block.lines[-1].formula, final, ends=True)


def _step(state: _State, hand: HandLine) -> _State | HandFault:
    try:
        match hand.kind:
            case "note":
                return _noted(state, hand.reason)
            case "let":
                return _let(state, hand)
            case "differential":
                return _differential(state, hand)
        return _formula(state, hand)
    except NotationError as error:
        return HandFault(hand.formula, error)


def _compare(state: _State, left: Node, right: Node) -> Verdict:
    """Whether a line follows: up to a constant in a chain that began with an indefinite integral, else exactly."""
    return _check(SameDerivative if state.loose else Equal, left, right, state.setting)


def _check(kind: type[SameDerivative | Equal], left: Node, right: Node, setting: Setting) -> Verdict:
    """A claim in which a name for an integral (`I = …`) stands for that integral, not for a value."""
    standing = {name: value for name, value in setting.bindings if contains(value, _OPEN)}
    rest = tuple((name, value) for name, value in setting.bindings if name not in standing)
    return check(kind(substitute(left, standing), substitute(right, standing), replace(setting, bindings=rest)))


def _loose(node: Node, setting: Setting) -> bool:
    """Whether a chain that begins with this is about antiderivatives, so that constants do not count."""
    meant = substitute(node, dict(setting.bindings))
    return any(isinstance(part, Integral) and part.lower is None for part in walk(meant))


def _formula(state: _State, hand: HandLine) -> _State | HandFault:
    tree = parse(hand.formula.value, state.context)
    opens = hand.kind == "formula" and contains(substitute(tree, dict(state.setting.bindings)), _OPEN)
    if opens and state.lines:
        return replace(state, last=tree, loose=_loose(tree, state.setting), lines=(*state.lines, Line("opens", tree, _reason(hand), None)))
    checked = _compare(state, state.last, tree)
    if not isinstance(checked, Checked):
        return HandFault(hand.formula, checked)
    if opens:  # the question written out once more: nothing new to show
        return replace(state, last=tree)
    return replace(state, last=tree, lines=(*state.lines, Line("equal", tree, _reason(hand), checked)))


def _let(state: _State, hand: HandLine) -> _State | HandFault:
    assert hand.left is not None
    name, value = _named(state, hand)
    known = state.bound(name)
    if name == state.setting.variable:
        return _inverse(state, hand, value)
    line = Line("let", value, _reason(hand), None, left=Name(name))
    if known is None:
        return replace(state.bind(name, value), lines=(*state.lines, line))
    checked = _compare(state, Name(name), value)
    if not isinstance(checked, Checked):
        return HandFault(hand.formula, checked)
    state = replace(state, lines=(*state.lines, replace(line, kind="equation", checked=checked)))
    if name not in state.parts:  # `I = …` once more: the chain goes on from here
        state = replace(state, last=value)
    solved = contains(known, _OPEN) and not contains(value, _OPEN) and name not in names(value)
    return state.bind(name, value) if solved else state


def _named(state: _State, hand: HandLine) -> tuple[str, Node]:
    """The name of a `let` line and the tree it stands for; an inverse substitution may bring one new letter."""
    assert hand.left is not None
    left = parse(hand.left.value, state.context.declare(*USUAL_VARIABLES, "I", "J"))
    if not isinstance(left, Name):
        raise NotationError("name-expected", say("What stands before the = is to be one letter."), 0, len(hand.left.value))
    context = state.context
    if left.name == state.setting.variable:
        context = context.declare(*USUAL_VARIABLES)
    return left.name, parse(hand.formula.value, context)


def _inverse(state: _State, hand: HandLine, value: Node) -> _State | HandFault:
    fresh = names(value) - state.context.names
    if len(fresh) != 1:
        return HandFault(hand.formula, say("One new letter is needed here, so that the variable can be put in terms of it."))
    name = min(fresh)
    turned = invert(value, name, Name(state.setting.variable))
    if turned is None:
        return HandFault(hand.formula, say("This substitution could not be turned round: write it as {name} = …", name=name))
    line = Line("let", value, _reason(hand), None, left=Name(state.setting.variable))
    return replace(state.bind(name, turned), lines=(*state.lines, line))


def _differential(state: _State, hand: HandLine) -> _State | HandFault:
    """`du = 2x dx`: true when both sides are the same differential, which is what equal integrals say."""
    assert hand.left is not None
    left, right = _form(hand.left, state.context), _form(hand.formula, state.context)
    line = Line("form", right, _reason(hand), None, left=left)
    if left.variable not in state.context.names and left.integrand == parse("1", state.context):
        return replace(state.bind(left.variable, right), lines=(*state.lines, line), parts=state.parts | {left.variable})
    checked = _check(SameDerivative, left, right, state.setting)
    if not isinstance(checked, Checked):
        return HandFault(hand.formula, checked)
    return replace(state, lines=(*state.lines, replace(line, checked=checked)))


def _form(text: Text, context: Context) -> Integral:
    """A differential form, `2x dx`, as the integral of it: one grammar serves both."""
    sign = r"\int "
    try:
        tree = parse(sign + text.value, context.declare(*USUAL_VARIABLES))
    except NotationError as error:
        raise error.shifted(-len(sign)) from error
    if not isinstance(tree, Integral):
        raise NotationError("differential-expected", say("A differential such as dx is missing here."), 0, len(text.value))
    return tree


def _noted(state: _State, reason: str) -> _State:
    if not state.lines:
        return state
    *before, last = state.lines
    text = " ".join(filter(None, (last.reason.text, reason)))
    return replace(state, lines=(*before, replace(last, reason=_literal(text))))


def _reason(hand: HandLine) -> Message:
    return _literal(hand.reason)


def _literal(text: str) -> Message:
    """A person's own words: no place in them is to be filled in."""
    return Message("{words}", (("words", text),))
