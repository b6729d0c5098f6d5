"""“Find the slip”: a worked solution with one slip in it. The checker refutes exactly one line; those after it follow from it.

After K. Durkin, B. Rittle-Johnson, "The effectiveness of using incorrect examples to support learning about decimal magnitude",
Learning and Instruction 22(3), 2012: a wrong solution teaches most beside the right one.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256

from ..derive.route import Line
from ..kernel import Claim, Equal, IntegralValue, Refuted, SameDerivative, Setting, check
from ..notation import plain
from ..notation.build import add, contains, names, walk
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import ArbitraryConstant, Evaluation, Integral, Limit, Node
from ..slips.at_line import BadLine, bad_lines
from ..techniques.limiting import settled
from .carried import SECONDS, After, between, carried
from .slower import slower

#: How many wrong versions of one line are looked at, how many of one slip, and how many are carried through in all.
TRIES, ALIKE, MOST = 16, 2, 24
#: Slips of the pen, which can be made anywhere, and of those the least telling, which say only that a number is off.
BY_PEN, LAST_RESORT = 6, 8


@dataclass(frozen=True, slots=True)
class Misstep:
    """A solution that goes wrong: its lines, the number of the wrong one, and `right`, the line that belongs there.

    `says` tells the slip, `refuted` is the checker's word against the wrong line as what follows from the line before it.
    """

    lines: tuple[Line, ...]
    wrong: int
    right: Line
    slip: str
    says: Message
    refuted: Refuted


@dataclass(frozen=True, slots=True)
class _Place:
    """A line that can go wrong: its number, what stands before it and where it is claimed."""

    number: int
    before: Node
    setting: Setting
    claim: Claim


def misstep(question: Question, solutions: Iterable[Sequence[Line]]) -> Misstep | None:
    """The first of the solutions into which a slip can be put, with a slip in it; a solution in one line is written in more.

    Where the slip stands depends on the question alone: in the first, the middle or the last third if one can be made there, else nearby.
    Within a third the most telling slip is taken; slips in numbers are made where there is no other.
    """
    found = (_within(question, slower(question, lines)) for lines in solutions)
    return next((made for made in found if made is not None), None)


def _within(question: Question, lines: Sequence[Line]) -> Misstep | None:
    if len(lines) < 2:
        return None
    turn = sha256(plain(question.node).encode()).digest()
    tries: list[tuple[bool, int, int, BadLine, _Place]] = []
    for place in _places(question, lines):
        away = (third(place.number, len(lines)) - turn[0]) % 3
        tries += [(bad.slip.rank >= LAST_RESORT, away, bad.slip.rank, bad, place) for bad in _tried(question, lines, place, turn[1])]
    tries.sort(key=lambda each: each[:3])
    found = (_made(question, lines, place, bad) for *_, bad, place in tries[:MOST])
    return next((made for made in found if made is not None), None)


def third(number: int, count: int) -> int:
    """The third of a solution that a line stands in: 0, 1 or 2."""
    return min(2, 3 * number // max(1, count - 1))


def _places(question: Question, lines: Sequence[Line]) -> Iterator[_Place]:
    before: Node = question.node
    for number, line in enumerate(lines):
        if line.kind != "equal":
            continue
        if line.left is not None:
            if not contains(line.left, (Integral, Limit)):
                continue
            if between(line):  # the antiderivative was found above
                before = line.shown
                continue
            before = line.left
        if line.checked is not None:
            yield _Place(number, before, line.checked.claim.setting, line.checked.claim)
        before = line.shown


def _tried(question: Question, lines: Sequence[Line], place: _Place, turn: int) -> list[BadLine]:
    """The wrong versions of a line that are tried: few of each slip, beginning elsewhere for every question."""
    meanings: Mapping[str, Node] = dict(place.setting.bindings)
    of_slip: dict[str, list[BadLine]] = defaultdict(list)
    for bad in bad_lines(question, place.before, lines[place.number].shown, meanings):
        of_slip[bad.slip.id].append(bad)
    chosen = [((each[turn % len(each) :] if each[0].slip.rank >= BY_PEN else []) + each)[:ALIKE] for each in of_slip.values()]
    return [bad for few in chosen for bad in few][:TRIES]


def _made(question: Question, lines: Sequence[Line], place: _Place, bad: BadLine) -> Misstep | None:
    """The solution with a wrong line at a place, and what follows from it; None where the checker does not say just that."""
    right = lines[place.number]
    constants = tuple(part for part in walk(lines[-1].shown) if isinstance(part, ArbitraryConstant))
    shown, primitive = bad.shown, isinstance(place.claim, SameDerivative)
    letters = names(shown) & {name for name, _ in place.setting.bindings}
    if primitive and question.kind == "indefinite" and not letters and not contains(shown, (Integral, ArbitraryConstant)):
        shown = add(shown, *constants)
    verdict = check(_against(place, shown), seconds=SECONDS) if _claimable(place, shown) else None
    if not isinstance(verdict, Refuted):
        return None
    after = After(question, right.shown, shown, tuple(lines[place.number + 1 :]), place.setting, primitive, constants)
    rest = carried(after)
    if rest is None:
        return None
    kept = tuple(replace(line, detail=()) for line in lines[: place.number])
    wrong = replace(right, shown=shown, checked=None, detail=())
    explains = bad.slip.explains
    says = say(explains, fault=bad.fault) if "{fault}" in explains else Message(explains)
    return Misstep((*kept, wrong, *rest), place.number, replace(right, detail=()), bad.slip.id, says, verdict)


def _claimable(place: _Place, shown: Node) -> bool:
    return not isinstance(place.before, Limit) or settled(shown) is not None


def _against(place: _Place, shown: Node) -> Claim:
    """The claim that the wrong line follows from the one before, as the checker is asked."""
    match place.claim:
        case SameDerivative() as claim:
            return replace(claim, left=place.before, right=shown)
        case IntegralValue() as claim:
            bracket = next((part.body for part in walk(shown) if isinstance(part, Evaluation)), None)
            return replace(claim, value=shown, certificate=bracket or claim.certificate)
    if isinstance(place.before, Limit) and not contains(place.before, Evaluation):
        value = settled(shown)
        assert value is not None
        setting = replace(place.setting, variable=place.before.variable)
        return Equal(place.before, value, setting)
    return Equal(place.before, shown, place.setting)
