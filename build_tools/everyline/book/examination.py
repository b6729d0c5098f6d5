"""Everything about one problem: read its formulas, judge its keys, work it out. Pure, so that it can run anywhere."""

from __future__ import annotations

import re
import time
from dataclasses import dataclass, replace

from ..algebra.derivative import derivative
from ..derive import Budget, certify, derive
from ..derive.route import Derivation, Line
from ..diagnostics import Diagnostic, diagnose, in_order
from ..diagnostics.from_kernel import Asked, from_refuted, from_remarks
from ..diagnostics.from_notation import from_notation
from ..diagnostics.kind import Fact
from ..diagnostics.kinds.key_constant_missing import MissingConstant
from ..diagnostics.kinds.key_leftover_name import ResidualName
from ..diagnostics.kinds.key_no_value import NoValue
from ..diagnostics.kinds.key_reading_taken import AmbiguousKeyTaken
from ..diagnostics.kinds.key_undecided import UndecidedKey
from ..diagnostics.kinds.key_variable import WrongVariable
from ..diagnostics.kinds.key_vouched import VouchedKey
from ..diagnostics.kinds.question_shape import NotAQuestion
from ..diagnostics.kinds.vouch_needless import NeedlessVouch
from ..kernel import Checked, Equal, IntegralValue, Refuted, Setting, check, question_claim
from ..notation import Context, NotationError, parse_domain, parse_given, parse_question, plain, readings
from ..notation.message import say
from ..notation.question import Given, Question
from ..notation.tree import Derivative, Diverges, DoesNotExist, Node
from ..source.problem import Conventions, Problem
from ..source.span import Text
from .curves import drawing
from .data import Examined, HandSolution, KeyVerdict, Vouched
from .forms import with_keys
from .hand import HandFault, check_block
from .handfaults import hand_fact
from .keys import judge, key_context, left_over
from .trying import Trial, trial
from .words import detail
from .work import preferred
from .workedout import worked_out

#: Letters that a substitution brings in: one of them left in a key was never put back.
_SUBSTITUTES = frozenset(("u", "v", "w", "t", "s", "theta"))


@dataclass(frozen=True, slots=True)
class Job:
    """One problem to examine: with the book's conventions and what has been taught so far (None: everything)."""

    problem: Problem
    conventions: Conventions
    taught: frozenset[str] | None = None
    seconds: float = 10.0


def examine(job: Job) -> Examined:
    """Judge every key, derive the worked solutions, check the hand-written ones; all faults are collected."""
    start = time.perf_counter()
    found = _examine(job)
    ordered = in_order(found.diagnostics)
    return replace(found, diagnostics=ordered, seconds=time.perf_counter() - start)


def _examine(job: Job) -> Examined:
    if job.problem.vary is not None:
        from .families import examine_family  # which in turn examines one instance

        return examine_family(job)
    return examine_one(job)


def examine_one(job: Job) -> Examined:
    """A problem without letters that vary, or one instance of a family."""
    problem = job.problem
    posed = pose(problem, job.conventions)
    if isinstance(posed, tuple):
        return Examined(problem, None, diagnostics=posed)
    context = Context(log=job.conventions.log, decimal=job.conventions.decimal)
    keys: list[KeyVerdict] = []
    faults: list[Diagnostic] = []
    for text in problem.keys:
        verdict, facts = judge_key(posed, text, job)
        keys.append(verdict)
        faults += [diagnose(fact) for fact in facts]
    if any(d.severity == "error" for d in faults):
        return Examined(problem, posed, tuple(keys), diagnostics=tuple(faults))
    if problem.vouched and not any(isinstance(v.outcome, Vouched) for v in keys):
        faults.append(diagnose(NeedlessVouch(problem.vouched[0].span)))
    hand, said = hand_solutions(posed, problem, context)
    derivation, more = worked_out(posed, job.problem, job.conventions, job.taught, job.seconds)
    derivation = with_keys(posed, keys, derivation)
    checking = _checking(posed, keys[0].tree) if keys else ()
    faults = [*faults, *said, *more]
    drawn = next((drawing(posed, key.tree) for key in keys if isinstance(key.outcome, Checked) and key.tree is not None), None)
    routes = derivation.routes if derivation else ()
    return Examined(
        problem, posed, tuple(keys), derivation, checking, hand, tuple(faults),
        trial=_trial(posed, keys, derivation, context), work=preferred(posed, hand, routes), drawing=drawn,
        methods=tuple(dict.fromkeys(route.method for route in routes)),
        techniques=frozenset(technique for route in routes for technique in route.techniques),
        used=frozenset(technique for route in routes for technique in route.used),
    )  # fmt: skip


def pose(problem: Problem, conventions: Conventions, letters: Given | None = None) -> Question | tuple[Diagnostic, ...]:
    """The question of a problem with what is given and its domain, or what is wrong with their formulas.

    `letters` are those of a family and what is assumed of them.
    """
    context = Context(log=conventions.log, decimal=conventions.decimal)
    faults: list[Diagnostic] = []
    given = letters or Given()
    if problem.given is not None:
        try:
            stated = parse_given(problem.given.value, context)
            given = Given((*given.parameters, *stated.parameters), (*given.conditions, *stated.conditions))
        except NotationError as error:
            faults.append(diagnose(from_notation(problem.given, error, "given")))
    try:
        question = parse_question(problem.question.value, given, context)
    except NotationError as error:
        asks = re.search(r"int|∫|lim|d\s*/\s*d|\\[dt]?frac\s*\{\s*(\\mathrm\{)?d", problem.question.value)
        return (*faults, diagnose(from_notation(problem.question, error, "question") if asks else NotAQuestion(problem.question.span)))
    if problem.domain is not None:
        try:
            domain = parse_domain(problem.domain.value, question.variable, context.of(question))
            question = replace(question, domain=domain)
        except NotationError as error:
            faults.append(diagnose(from_notation(problem.domain, error, "domain")))
    return tuple(faults) if faults else question


def judge_key(question: Question, text: Text, job: Job) -> tuple[KeyVerdict, list[Fact]]:
    """The verdict on one key and everything to be said about it."""
    context = key_context(question, job.conventions.log, job.conventions.decimal)
    try:
        judged = judge(question, text.value, context, seconds=job.seconds)
    except NotationError as error:
        return KeyVerdict(text, None, None), [_unread(question, text, error)]
    outcome = judged.outcome
    verdict = KeyVerdict(text, judged.tree, outcome, judged.read_as)
    facts: list[Fact] = []
    if judged.read_as:
        others = tuple(plain(tree) for tree in readings(text.value, context, answer=True))
        facts.append(AmbiguousKeyTaken(text.span, plain(judged.tree), others))
    match outcome:
        case Checked():
            facts += from_remarks(text, outcome.remarks, question.variable)
            if question.kind == "indefinite" and judged.lacks_constant:
                facts.append(MissingConstant(text.span, job.conventions.constant == "error", text.value))
        case Refuted():
            facts.append(_against(question, text, judged.tree, outcome))
        case _ if left := left_over(question, judged.tree):
            facts.append(NoValue(text.span, left))
        case _ if job.problem.vouched:
            name, reason = (part.value for part in job.problem.vouched)
            verdict = replace(verdict, outcome=Vouched(name, reason, outcome))
            facts.append(VouchedKey(text.span, name, reason))
        case _:
            facts.append(UndecidedKey(text.span, outcome.reason, detail(outcome)))
    return verdict, facts


def _unread(question: Question, text: Text, error: NotationError) -> Fact:
    """A key that cannot be read: a letter of another question or a substitution is said to be just that."""
    name = text.value[error.start : error.end].strip("\\ ")
    if error.code == "undeclared" and name:
        uses_variable = question.variable in text.value.replace("\\", " ")
        span = text.part(error.start, error.end)
        if not uses_variable and question.variable in ("x", "t", "y", "z", "theta", "s", "r"):
            return (ResidualName if name in _SUBSTITUTES and name != "t" else WrongVariable)(span, name, question.variable)
        if name in _SUBSTITUTES:
            return ResidualName(span, name, question.variable)
    return from_notation(text, error, "key")


def _against(question: Question, text: Text, claimed: Node, outcome: Refuted) -> Fact:
    """The fact for a wrong key, with the slip that explains it where a repaired key passes the check."""
    from ..slips import diagnose as diagnose_slip

    right: Node | None = None
    diagnosis = None if question.kind == "definite" else diagnose_slip(question, claimed)
    if diagnosis is None:  # with a right answer at hand more slips can be told apart
        right, antiderivative = _known(question)
        diagnosis = diagnose_slip(question, claimed, right=right, antiderivative=antiderivative)
    if diagnosis is not None:
        right = diagnosis.repaired
    wanted, got = (question.body, _derivative(question, claimed)) if question.kind == "indefinite" else (right, claimed)
    slip, repaired = (None, "") if diagnosis is None else (diagnosis.message, plain(diagnosis.repaired))
    said = ("", "") if wanted is None or isinstance(wanted, Diverges | DoesNotExist) else (plain(wanted), plain(got))
    asked = Asked(question.kind, question.variable, *said)
    return from_refuted(text, outcome, asked, slip=slip, repaired=repaired)


def _known(question: Question) -> tuple[Node | None, Node | None]:
    """What the deriver knows: a right answer, and the antiderivative behind it where the integral is definite."""
    found = derive(question, budget=Budget(seconds=3.0), most=1)
    if not found.routes:
        return None, None
    right = found.routes[0].answer
    claim = question_claim(question, right)
    return right, certify(claim, budget=Budget(seconds=3.0)) if isinstance(claim, IntegralValue) else None


def _derivative(question: Question, claimed: Node) -> Node:
    from ..algebra import tidy

    return tidy(derivative(claimed, question.variable))


def _trial(question: Question, keys: list[KeyVerdict], derivation: Derivation, context: Context) -> Trial | None:
    """The data for answers in the page; only a key that is proved can vouch for them."""
    key = next((verdict for verdict in keys if isinstance(verdict.outcome, Checked)), None)
    return None if key is None or key.tree is None else trial(question, key.tree, derivation, context)


def hand_solutions(question: Question, problem: Problem, context: Context) -> tuple[tuple[HandSolution, ...], list[Diagnostic]]:
    """The solutions that a person wrote in the file, and what is wrong with others."""
    solutions: list[HandSolution] = []
    faults: list[Diagnostic] = []
    for block in problem.blocks:
        result = check_block(question, block, context)
        if isinstance(result, HandFault):
            faults.append(diagnose(hand_fact(result, block, question)))
        else:
            solutions.append(HandSolution(result))
    return tuple(solutions), faults


def _checking(question: Question, key: Node | None) -> tuple[Line, ...]:
    """The key's derivative turning into the integrand: d/dx (key) = … = integrand, each line checked."""
    if key is None or question.kind != "indefinite":
        return ()
    from ..algebra import tidy

    x = question.variable
    setting = Setting(x, question.domain, question.given)
    before: Node = Derivative(key, x)
    rough = derivative(key, x)
    steps = [(rough, say("Differentiate term by term.")), (tidy(rough), say("Tidy up.")), (question.body, say("This is the integrand."))]
    lines: list[Line] = []
    for shown, reason in steps:
        if lines and shown == before:
            lines[-1] = replace(lines[-1], reason=reason)
            continue
        checked = check(Equal(before, shown, setting))
        if not isinstance(checked, Checked):
            return ()
        lines.append(Line("equal", shown, reason, checked))
        before = shown
    return tuple(lines)
