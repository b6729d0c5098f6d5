"""A family's file examined: read with its letters, its instances proved, and the nicest of them examined as a problem of its own."""

from __future__ import annotations

from dataclasses import replace

from ..diagnostics import Diagnostic, diagnose
from ..diagnostics.from_notation import from_notation
from ..diagnostics.kinds.family_too_few import TooFewInstances
from ..diagnostics.kinds.vary_unused import UnusedLetter
from ..kernel import Refuted
from ..notation import Context, NotationError
from ..notation.build import names
from ..notation.message import Message, say
from ..notation.question import Given
from ..source.problem import Conventions, Problem
from ..source.vary import Letter
from .data import Examined, Family, Instance
from .examination import Job, examine_one, hand_solutions, judge_key, pose
from .family import LEAST, Template, Wrong, instances, read_conditions, read_key, varied
from .hand import HandFault
from .handfaults import hand_fact
from .keys import key_context
from .trying import trial
from .worded import Unset
from .work import by_method, preferred


def examine_family(job: Job) -> Examined:
    """The nicest instance examined, with the family beside it; or what is wrong with the family."""
    template = read_template(job)
    if not isinstance(template, Template):
        return Examined(job.problem, None, diagnostics=template)
    allowed = None if job.taught is None else job.taught | {text.value for text in job.problem.needs}
    try:
        family = instances(template, job.conventions, allowed, seconds=job.seconds)
    except Unset as error:
        fault = from_notation(error.text, error.error, "words")
        return Examined(job.problem, template.question, diagnostics=(diagnose(fault),))
    if isinstance(family, Wrong):
        return Examined(job.problem, template.question, diagnostics=_against(family, job))
    if len(family.instances) < LEAST:
        return Examined(job.problem, template.question, diagnostics=(diagnose(_too_few(job, family)),), family=None)
    first = family.instances[0]
    found = examine_one(replace(job, problem=first.problem))
    said = tuple(replace(d, notes=(*d.notes, _numbers(first.values))) for d in found.diagnostics)
    method = found.work.method if found.work else ""
    dealt = (first, *(_dealt(made, job, method, allowed) for made in family.instances[1:]))
    return replace(found, diagnostics=said, family=replace(family, instances=dealt))


def _dealt(made: Instance, job: Job, method: str, allowed: frozenset[str] | None) -> Instance:
    """An instance with all that its page needs: the data by which answers are tried, and a solution like that of the first one."""
    context = Context(log=job.conventions.log, decimal=job.conventions.decimal)
    tree = made.keys[0].tree
    hand = hand_solutions(made.question, made.problem, context)[0]
    work = preferred(made.question, hand, ()) if hand or not method else by_method(made.question, method, allowed, job.seconds)
    return replace(made, trial=None if tree is None else trial(made.question, tree, None, context), work=work)


def read_template(job: Job) -> Template | tuple[Diagnostic, ...]:
    """The file with its letters as parameters, or what cannot be read in it."""
    problem, vary = job.problem, job.problem.vary
    assert vary is not None
    context = Context(log=job.conventions.log, decimal=job.conventions.decimal)
    try:
        conditions = read_conditions(vary, context)
    except NotationError as error:
        assert vary.where is not None
        return (diagnose(from_notation(vary.where, error, "where")),)
    posed = pose(problem, job.conventions, varied(vary, conditions))
    if isinstance(posed, tuple):
        return posed
    unused = [letter for letter in vary.letters if letter.name not in names(posed.node)]
    if unused:
        return tuple(diagnose(UnusedLetter(letter.text.span, letter.name)) for letter in unused)
    keys = []
    for text in problem.keys:
        try:
            keys.append(read_key(text, key_context(posed, job.conventions.log, job.conventions.decimal)))
        except NotationError as error:
            return (diagnose(from_notation(text, error, "key")),)
    return Template(problem, vary, posed, tuple(keys), conditions, context.of(posed))


def assumed(problem: Problem, conventions: Conventions) -> Given:
    """What is assumed of a family's letters while they stay letters; nothing for another problem.

    Raises:
        NotationError: `where` cannot be read.
    """
    if problem.vary is None:
        return Given()
    return varied(problem.vary, read_conditions(problem.vary, Context(log=conventions.log, decimal=conventions.decimal)))


def _against(wrong: Wrong, job: Job) -> tuple[Diagnostic, ...]:
    """A wrong instance is told like a wrong problem, with its numbers."""
    made = wrong.instance
    if isinstance(wrong.why, HandFault):
        facts = [hand_fact(wrong.why, made.problem.blocks[wrong.place], made.question)]
    else:
        assert isinstance(wrong.why, Refuted)
        facts = judge_key(made.question, made.problem.keys[wrong.place], replace(job, problem=made.problem))[1]
    found = tuple(diagnose(fact) for fact in facts)
    return tuple(replace(d, notes=(*d.notes, _numbers(made.values))) for d in found)


def _numbers(values: tuple[tuple[str, int], ...]) -> Message:
    return say("This is the question with {numbers}.", numbers=_listed(values))


def _listed(values: tuple[tuple[str, int], ...]) -> str:
    return ", ".join(f"{name} = {value}" for name, value in values)


def _too_few(job: Job, family: Family) -> TooFewInstances:
    vary = job.problem.vary
    assert vary is not None
    first: Letter = vary.letters[0]
    reasons = tuple(
        say("{count} left out: {why} (as with {numbers})", count=each.count, why=Message(each.reason), numbers=_listed(each.example))
        for each in family.skipped
    )
    return TooFewInstances(first.text.span, len(family.instances), LEAST, reasons)
