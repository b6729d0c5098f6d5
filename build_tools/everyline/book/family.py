"""Families: one file, many questions. Every instance that is dealt is proved; one that degenerates is left out and counted."""

from __future__ import annotations

import itertools
import math
import random
import zlib
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from ..algebra import tidy
from ..algebra.numbers import sign
from ..derive import Budget, derive
from ..kernel import Checked, Refuted
from ..notation import Context, NotationError, parse, parse_given
from ..notation.build import names, number, numbers, rational, substitute, subtract
from ..notation.message import say, sentence
from ..notation.question import Given, Parameter, Question
from ..notation.tree import Inequality, Integral, Interval, Name, Node, Union
from ..source.problem import Conventions, Problem
from ..source.span import Text
from ..source.vary import Vary
from ..techniques import catalogue
from .data import Family, Instance, KeyVerdict, Skipped
from .hand import HandFault, check_block
from .keys import judge_tree, key_context
from .neat import neat
from .niceness import lost, weight
from .worded import Numbers, worded

#: How many instances a page deals, how many it needs at least, and how many choices of numbers are looked at for
#: them at least (twice as many as are dealt must be good, as long as there are any).
DEALT, LEAST, LOOKED_AT = 16, 12, 150
Values = Mapping[str, int]
_HOLDS = {"<": (-1,), "<=": (-1, 0), ">": (1,), ">=": (1, 0), "!=": (-1, 1)}


@dataclass(frozen=True, slots=True)
class Template:
    """A family's file as trees: its letters are parameters of the question, its conditions are what is given of them."""

    problem: Problem
    vary: Vary
    question: Question
    keys: tuple[Node, ...]
    conditions: tuple[Inequality, ...]
    context: Context

    @property
    def variable(self) -> str:
        return self.question.variable


@dataclass(frozen=True, slots=True)
class Wrong:
    """An instance that a family may not have: a key that is wrong, or a hand-written line that does not follow."""

    instance: Instance
    why: Refuted | HandFault
    place: int


def read_conditions(vary: Vary, context: Context) -> tuple[Inequality, ...]:
    """What `where` says, as inequalities between the letters.

    Raises:
        NotationError: it cannot be read, or it names something that is no letter of the family.
    """
    if vary.where is None:
        return ()
    text = vary.where.value
    letters = {letter.name for letter in vary.letters}
    given = parse_given(text, context.declare(*letters))
    strangers = sorted(given.names - letters)
    if strangers:
        start = max(text.find(strangers[0]), 0)
        message = say("“{letter}” is no letter of this family.", letter=strangers[0])
        raise NotationError("given", message, start, start + 1, say("Its letters are {letters}.", letters=", ".join(sorted(letters))))
    return given.conditions


def varied(vary: Vary, conditions: tuple[Inequality, ...]) -> Given:
    """What is assumed of the letters when they stay letters: whole numbers in their ranges, and the conditions between them."""
    found: list[Inequality] = []
    for letter in vary.letters:
        name, low, high = Name(letter.name), min(letter.values), max(letter.values)
        found += [Inequality(name, ">=", number(low)), Inequality(name, "<=", number(high))]
        gaps = [v for v in range(low, high + 1) if v not in letter.values] if high - low < 50 else []
        found += [Inequality(name, "!=", number(v)) for v in gaps[:5]]
    parameters = tuple(Parameter(letter.name, integer=True) for letter in vary.letters)
    return Given(parameters, (*found, *conditions))


def choices(vary: Vary, conditions: tuple[Inequality, ...], seed: int) -> Iterator[dict[str, int]]:
    """The choices of numbers that meet the conditions, in an order that depends on the seed alone; all of them, or many."""
    ranges = [letter.values for letter in vary.letters]
    total = math.prod(map(len, ranges))
    source = random.Random(seed)
    if total <= 20 * LOOKED_AT:
        listed = list(itertools.product(*ranges))
        source.shuffle(listed)
    else:
        listed = list(dict.fromkeys(tuple(source.choice(values) for values in ranges) for _ in range(20 * LOOKED_AT)))
    for choice in listed:
        values = dict(zip((letter.name for letter in vary.letters), choice, strict=True))
        if all(_holds(condition, values) for condition in conditions):
            yield values


def _holds(condition: Inequality, values: Values) -> bool:
    trees = numbers(values)
    try:
        difference = tidy(subtract(substitute(condition.left, trees), substitute(condition.right, trees)))
    except ZeroDivisionError:
        return False
    value = rational(difference)
    found = sign(difference) if value is None else (value > 0) - (value < 0)
    return found in _HOLDS[condition.relation]


def seed_of(problem: Problem) -> int:
    """A number that depends on a family's place and question alone: the same book deals the same instances everywhere."""
    return zlib.crc32(f"{problem.path}\n{problem.question.value}".encode())


def instance(template: Template, values: Values) -> Instance | str:
    """The family's question and keys with these numbers, neither in its file's words nor proved; or why it is not worth asking."""
    trees = numbers(values)
    question, keys = template.question, template.keys
    try:
        node = neat(question.node, trees)
        answers = tuple(neat(key, trees) for key in keys)
        if not isinstance(node, type(question.node)):
            return sentence("a part of the question vanishes")
        region = None if question.domain is None else neat(question.domain, trees)
        domain = region if isinstance(region, Interval | Union) else None
        given = replace(question.given, parameters=tuple(p for p in question.given.parameters if p.name not in values))
        given = replace(given, conditions=tuple(c for c in given.conditions if not (names(c.left) | names(c.right)) & values.keys()))
        posed = replace(question, node=node, domain=domain, given=given)
    except ZeroDivisionError:
        return sentence("something is divided by zero")
    verdicts = tuple(KeyVerdict(text, tree, None) for text, tree in zip(template.problem.keys, answers, strict=True))
    made = Instance(tuple(values.items()), template.problem, posed, verdicts, weight(node, answers))
    return lost(template.question, template.keys, made) or made


def in_order(found: list[Instance]) -> list[Instance]:
    """Nice ones first, but not the same number again and again: each choice costs more the more often its numbers were used."""
    waiting = sorted(found, key=lambda made: (made.weight, made.values))
    used: Counter[tuple[str, int]] = Counter()
    ordered: list[Instance] = []
    while waiting:
        best = min(waiting[:120], key=lambda made: (made.weight + 3 * sum(used[pair] for pair in made.values), made.values))
        waiting.remove(best)
        used.update(best.values)
        ordered.append(best)
    return ordered


def instances(
    template: Template, conventions: Conventions, allowed: frozenset[str] | None = None, *, count: int = DEALT, seconds: float = 10.0
) -> Family | Wrong:
    """At most `count` instances of a family, every key of them proved, and what became of the other choices; or one that is wrong.

    The same file gives the same instances in the same order, the nicest first.

    Raises:
        Unset: a formula in its words cannot be read.
    """
    skipped: dict[str, list[Values]] = {}
    good: dict[object, Instance] = {}
    looked = 0
    for values in choices(template.vary, template.conditions, seed_of(template.problem)):
        if looked >= LOOKED_AT and len(good) >= 2 * count:
            break
        looked += 1
        made = instance(template, values)
        if isinstance(made, str):
            skipped.setdefault(made, []).append(values)
        else:
            good.setdefault(made.question, made)
    ways = Ways(allowed)
    for made in in_order(list(good.values())):
        if ways.enough(count):
            break
        found = _proved(template, made, conventions, seconds)
        if isinstance(found, Wrong):
            return found
        if isinstance(found, str):
            skipped.setdefault(found, []).append(dict(made.values))
        else:
            ways.add(found)
    kept, others = ways.usual()
    if others:
        skipped[sentence("another method would be used")] = [dict(made.values) for made in others]
    reasons = tuple(Skipped(why, len(each), tuple(each[0].items())) for why, each in skipped.items())
    return Family(template.problem, tuple(kept[:count]), reasons, looked, _with_letters(template))


def _proved(template: Template, made: Instance, conventions: Conventions, seconds: float) -> Instance | Wrong | str:
    """An instance with its words and its keys proved.

    Raises:
        Unset: a formula in its words cannot be read.
    """
    trees = tuple(verdict.tree for verdict in made.keys if verdict.tree is not None)
    chosen = Numbers(numbers(dict(made.values)), template.context, template.variable)
    try:
        made = replace(made, problem=worded(template.problem, chosen, made.question, trees))
    except ZeroDivisionError:
        return sentence("something is divided by zero")
    verdicts: list[KeyVerdict] = []
    for place, verdict in enumerate(made.keys):
        assert verdict.tree is not None
        outcome = judge_tree(made.question, verdict.tree, seconds=seconds)
        if isinstance(outcome, Refuted):
            return Wrong(made, outcome, place)
        if not isinstance(outcome, Checked) or outcome.grade != "proved":
            return sentence("the answer could not be proved")
        verdicts.append(replace(verdict, outcome=outcome))
    context = key_context(made.question, conventions.log, conventions.decimal)
    for place, block in enumerate(made.problem.blocks):
        result = check_block(made.question, block, context)
        if isinstance(result, HandFault):
            return Wrong(made, result, place)
    return replace(made, keys=tuple(verdicts))


class Ways:
    """Instances by the method that a teacher would choose first for them. A family keeps to one.

    A search is made for the first instance of a method. For the others it is enough that the method has a first step for them, too:
    their question and answer have the same form, and the answer is proved.
    """

    def __init__(self, allowed: frozenset[str] | None) -> None:
        self.allowed = allowed
        self.begins: dict[str, bool] = {}
        self.found: dict[str, list[Instance]] = {}

    def enough(self, count: int) -> bool:
        return any(len(each) >= count for each in self.found.values())

    def add(self, made: Instance) -> None:
        for known, begins in self.begins.items():
            if begins and _begins(made.question, known):
                self.found[known].append(made)
                return
        found = derive(made.question, allowed=self.allowed, budget=Budget(seconds=10.0), most=1)
        name = found.routes[0].method if found.routes else ""
        self.begins.setdefault(name, bool(name) and _begins(made.question, name))
        self.found.setdefault(name, []).append(made)

    def usual(self) -> tuple[list[Instance], list[Instance]]:
        """The instances of the method that most of them have, and the others."""
        if not self.found:
            return [], []
        most = max(self.found, key=lambda name: len(self.found[name]))
        return self.found[most], [made for name, each in self.found.items() if name != most for made in each]


def _begins(question: Question, method: str) -> bool:
    """Whether a technique has a first step for a question (for an integral between limits: without them)."""
    node, technique = question.node, catalogue()[method]
    bare = replace(question, node=Integral(node.integrand, node.variable)) if isinstance(node, Integral) else question
    return bare.kind in technique.kinds and any(True for _ in technique.propose(bare))


def _with_letters(template: Template) -> Checked | None:
    """The proof of the first key with letters in it, where there is one."""
    outcome = judge_tree(template.question, template.keys[0], seconds=1.0) if template.keys else None
    return outcome if isinstance(outcome, Checked) and outcome.grade == "proved" else None


def read_key(text: Text, context: Context) -> Node:
    """A key of a family as a tree.

    Raises:
        NotationError: it cannot be read, or it has several readings.
    """
    return parse(text.value, context, answer=True)
