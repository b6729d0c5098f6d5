"""From integrals between limits to their value: brackets, what they open to, the number; each line checked for what it shows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from ..algebra.answers import answer as last_line
from ..algebra.limits import tends
from ..algebra.tidy import tidy
from ..algebra.zeros import zeros_between
from ..kernel import Checked, Claim, Equal, IntegralValue, Setting
from ..notation.build import infinite, substitute, subtract, without_constant
from ..notation.build import replace as put
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import Diverges, DoesNotExist, Integral, Limit, Node
from ..techniques.brackets import Bracket, bracket, less, plain_at, turned
from ..techniques.kinds import improper
from ..techniques.limit_reasons import why
from .budget import judged
from .carrying import first_lines, with_limits
from .ends import Ends, at_ends
from .route import Line, Route
from .writing import NotWritten

SECONDS = 3.0


@dataclass(frozen=True, slots=True)
class Valued:
    """Lines that end in a value; `marks` are the techniques that name their method beside those of the antiderivatives, `used` all."""

    lines: tuple[Line, ...]
    value: Node
    marks: tuple[str, ...]
    cost: float = 0.0
    used: frozenset[str] = frozenset()


def proved(claim: Claim) -> Checked:
    """The kernel's word for a claim.

    Raises:
        NotWritten: it does not stand behind it.
    """
    verdict = judged(claim, SECONDS)
    if not isinstance(verdict, Checked):
        raise NotWritten
    return verdict


def proved_either(first: Claim, second: Claim) -> Checked:
    """The kernel's word for the first of two claims of which each is enough that it stands behind.

    Raises:
        NotWritten: it stands behind neither.
    """
    verdict = judged(first, SECONDS)
    return verdict if isinstance(verdict, Checked) else proved(second)


@dataclass(frozen=True, slots=True)
class _Part:
    node: Integral
    route: Route
    primitive: Node
    bracket: Bracket


def valued(question: Question, whole: Node, solved: Mapping[Integral, Route]) -> Valued | None:
    """The lines from an expression with integrals between limits to its value; None where an integral has no finite value.

    Raises:
        NotWritten: a line is not behind which the kernel stands.
    """
    parts = [_part(node, route) for node, route in solved.items()]
    values = [_value(part) for part in parts]
    found = [v for v in values if v is not None]
    if len(found) != len(values):
        return None
    answer = last_line(_replaced(whole, {p.node: v for p, v in zip(parts, found, strict=True)}))
    shown = _replaced(whole, {p.node: p.bracket.shown for p in parts})
    opened = _replaced(whole, {p.node: p.bracket.opened for p in parts})
    limits = [limit for p in parts for limit in p.bracket.limits]
    single = len(parts) == 1 and whole == parts[0].node
    lines, reason = _before(parts, single)
    claims = _claims(question, whole, parts, shown, opened, answer, bool(limits))
    checks = [proved(claim) for claim in claims]
    carried = with_limits(question, parts[0].node, parts[0].route) if single and lines and not limits else []
    if carried:
        last = parts[0].route.lines[-1]
        lines = [*carried, Line("equal", shown, last.reason, checks[0], None, last.detail)]
    else:
        lines.append(Line("equal", shown, reason, checks[0], whole if lines else None, _detail(parts, lines)))
    if opened not in (shown, answer):
        text = say("Put in the limits.") if not limits else say("Put in both ends.")
        lines.append(Line("equal", opened, text, checks[1], None, _fixed_ends(question, parts)))
    if not limits:
        lines += _subtracted(whole, parts, opened, answer, checks[2])
        return Valued(tuple(lines), answer, ())
    ends = at_ends(opened)
    if ends is None:
        fine = tuple(_limit_line(question, limit) for limit in limits)
        lines.append(Line("equal", answer, say("Work out the values."), checks[2], None, fine))
    else:
        lines += _ended(question, opened, ends, answer, parts[0].node.variable)
    return Valued(tuple(lines), answer, ("improper",))


def _subtracted(whole: Node, parts: list[_Part], opened: Node, answer: Node, checked: Checked) -> Iterator[Line]:
    """The value at each limit, not yet taken together, and then the answer."""
    ends = _replaced(whole, {p.node: _both_ends(p) for p in parts})
    if ends in (opened, answer):
        yield Line("equal", answer, say("Work out the values."), checked)
        return
    setting = checked.claim.setting
    yield Line("equal", ends, say("Work out the values."), proved(Equal(opened, ends, setting)))
    single = len(parts) == 1 and whole == parts[0].node
    reason = say("Subtract.") if single else say("Work out the values.")
    yield Line("equal", answer, reason, proved(Equal(ends, answer, setting)))


def _both_ends(part: _Part) -> Node:
    """The value at the upper limit less the value at the lower one, not yet taken together."""
    high, low = _ends(part)
    assert high is not None
    assert low is not None
    return less(high, low)


def _ended(question: Question, opened: Node, ends: Ends, answer: Node, variable: str) -> Iterator[Line]:
    """From the limit to the value: logarithms taken together, each term's limit in its place, the number."""
    setting = Setting(variable, None, question.given)
    here = opened
    if ends.joined is not None:
        yield Line("equal", ends.joined, say("Use a law of logarithms."), proved(Equal(here, ends.joined, setting)))
        here = ends.joined
    fine = tuple(_limit_line(question, limit) for limit, _ in ends.limits)
    last = answer if tidy(ends.shown) == ends.shown else ends.shown
    yield Line("equal", last, ends.reason, proved(Equal(here, last, setting)), None, fine)
    if last != answer:
        yield Line("equal", answer, say("Work out the value."), proved(Equal(last, answer, setting)))


def _fixed_ends(question: Question, parts: list[_Part]) -> tuple[Line, ...]:
    """The value at an end that can be put in beside one that cannot."""
    fine: list[Line] = []
    for part in parts:
        for end in (part.node.lower, part.node.upper):
            assert end is not None
            if len(part.bracket.limits) == 1 and plain_at(part.primitive, part.node.variable, end) and end != part.bracket.limits[0].point:
                put_in = substitute(part.primitive, {part.node.variable: end})
                value = tidy(put_in)
                if value != put_in:
                    check = proved(Equal(put_in, value, Setting(part.node.variable, None, question.given)))
                    fine.append(Line("equal", value, say("The value at {end}.", end=end), check, put_in))
    return tuple(fine)


def _part(node: Integral, route: Route) -> _Part:
    primitive = without_constant(route.answer)
    return _Part(node, route, primitive, bracket(node, primitive))


def _replaced(whole: Node, values: Mapping[Integral, Node]) -> Node:
    for node, value in values.items():
        whole = value if whole == node else put(whole, node, value)
    return whole


def _claims(
    question: Question, whole: Node, parts: list[_Part], shown: Node, opened: Node, answer: Node, limits: bool
) -> tuple[Claim, Claim, Claim]:  # fmt: skip
    """integral = bracket, bracket = values at the limits, these = the answer."""
    variable = parts[0].node.variable
    setting = Setting(variable, None, question.given)
    last = Equal(opened, answer, setting)
    if len(parts) > 1:
        return Equal(whole, shown, setting), Equal(shown, opened, setting), last
    (part,) = parts
    low, high = part.node.lower, part.node.upper
    assert low is not None
    assert high is not None
    integrand = tidy(_replaced(whole, {part.node: part.node.integrand}))
    certificate = tidy(_replaced(whole, {part.node: part.primitive}))
    first = IntegralValue(integrand, low, high, shown, setting, certificate)
    return first, (replace(first, value=opened) if limits else Equal(shown, opened, setting)), last


def _before(parts: list[_Part], single: bool) -> tuple[list[Line], Message]:
    """The lines of the antiderivatives that take more than one, and the reason of the line with the brackets."""
    lines: list[Line] = []
    written: set[Node] = set()
    for part in parts:
        if not _at_once(part.route) and part.node.integrand not in written:
            written.add(part.node.integrand)
            lines += first_lines(part.route, part.node)
    reason = parts[0].route.lines[-1].reason if single and not lines and not parts[0].bracket.limits else improper.reason(parts[0].bracket)
    return lines, reason


def _at_once(route: Route) -> bool:
    """Whether the antiderivative is written down in one line."""
    return len(route.lines) == 1


def _detail(parts: list[_Part], lines: list[Line]) -> tuple[Line, ...]:
    """The antiderivatives that were written down at once, each with its own check."""
    fine: list[Line] = []
    for part in parts:
        if _at_once(part.route):
            (line,) = part.route.lines
            plain = Integral(part.node.integrand, part.node.variable)
            fine += line.detail or (Line("equal", part.route.answer, line.reason, line.checked, plain),)
    return tuple(fine)


def _ends(part: _Part) -> tuple[Node | None, Node | None]:
    """The values at the upper and the lower end."""
    node = part.node
    assert node.lower is not None
    assert node.upper is not None
    back = turned(node.lower, node.upper)
    return _at(part, node.upper, 1 if back else -1), _at(part, node.lower, -1 if back else 1)


def _at(part: _Part, end: Node, side: int) -> Node | None:
    x = part.node.variable
    return tidy(substitute(part.primitive, {x: end})) if plain_at(part.primitive, x, end) else tends(part.primitive, x, end, side)


def _value(part: _Part) -> Node | None:
    high, low = _ends(part)
    if high is None or low is None or infinite(high) or infinite(low):
        return None
    return tidy(subtract(high, low))


def _limit_line(question: Question, limit: Limit) -> Line:
    value = tends(limit.body, limit.variable, limit.point, -1 if limit.side == "-" else 1)
    if value is None:
        raise NotWritten
    claim = Equal(limit, value, Setting(limit.variable, None, question.given))
    return Line("equal", value, why(limit, value), proved(claim), limit)


# -- no value -------------------------------------------------------------------------------------------------------


def diverging(question: Question, node: Integral, route: Route) -> Valued | None:
    """An antiderivative without a finite limit at an end, or at a pole between the limits: the limit, and what follows from it."""
    assert node.lower is not None
    assert node.upper is not None
    part = _part(node, route)
    setting = Setting(node.variable, None, question.given)
    verdict = judged(IntegralValue(node.integrand, node.lower, node.upper, Diverges(), setting, part.primitive), SECONDS)
    if not isinstance(verdict, Checked):
        return None
    lines = list(first_lines(route, node))
    for limit in (*part.bracket.limits, *_poles(part)):
        line = _endless(question, limit)
        if line is not None:
            lines.append(line)
            break
    reason = say("The antiderivative has no finite limit there: the integral diverges.")
    lines.append(Line("equal", Diverges(), reason, verdict, node))
    return Valued(tuple(lines), Diverges(), ("improper",))


def _endless(question: Question, limit: Limit) -> Line | None:
    value = tends(limit.body, limit.variable, limit.point, -1 if limit.side == "-" else 1)
    if value is not None and not infinite(value):
        return None
    claim = Equal(limit, value or DoesNotExist(), Setting(limit.variable, None, question.given))
    verdict = judged(claim, SECONDS)
    if not isinstance(verdict, Checked):
        return None
    near = say("Look at the antiderivative near {point}.", point=limit.point)
    return Line("equal", claim.right, near if value is None else why(limit, value), verdict, limit)


def _poles(part: _Part) -> Iterator[Limit]:
    """One-sided limits of the antiderivative at zeros of denominators and of insides of logarithms between the limits."""
    node = part.node
    assert node.lower is not None
    assert node.upper is not None
    low, high = (node.upper, node.lower) if turned(node.lower, node.upper) else (node.lower, node.upper)
    for inside in dict.fromkeys((*improper.suspects(node.integrand), *improper.suspects(part.primitive))):
        for zero in zeros_between(inside, node.variable, low, high) or []:
            for side in ("-", "+"):
                yield Limit(part.primitive, node.variable, zero, side)
