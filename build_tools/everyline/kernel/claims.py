"""What can be claimed, and what the checker may say of it.

A claim can be checked on its own, without knowing how it was found. Pages accept nothing but a `Checked`, which
only this room makes.
"""

from __future__ import annotations

from dataclasses import InitVar, dataclass, field
from fractions import Fraction

from ..notation.question import Given, Question
from ..notation.tree import Integral, Node, Region

_SEAL = object()


@dataclass(frozen=True, slots=True)
class Setting:
    """Where a claim is made.

    `variable` is the independent variable; `bindings` give further names in terms of it, in order (`u = x^2 + 1`, and for
    an inverse substitution x = 2 tan θ the name `theta` bound to arctan(x/2)); `domain` None means the natural domain, and a
    stated one is intersected with it.
    """

    variable: str
    domain: Region | None = None
    given: Given = field(default_factory=Given)
    bindings: tuple[tuple[str, Node], ...] = ()


@dataclass(frozen=True, slots=True)
class Equal:
    """`left` = `right` wherever all of `left` is defined in the domain. Both may hold derivatives, limits and integrals with limits.

    A limit may be ±infinity or `DoesNotExist`.
    """

    left: Node
    right: Node
    setting: Setting


@dataclass(frozen=True, slots=True)
class SameDerivative:
    """`left` and `right` have the same derivative: equal up to one constant on each interval.

    Both may hold indefinite integrals linearly: ∫ g du with u bound to φ(x) counts as a function whose derivative is
    g(φ(x))·φ'(x). So `∫ f dx = F` (a key), `∫ f dx = uv - ∫ v du` (a step) and every line between are all this claim.
    Constants of integration count as constants.
    """

    left: Node
    right: Node
    setting: Setting


@dataclass(frozen=True, slots=True)
class Tail:
    """Between two points, one a limit of an integral, the integrand is `primitive`′ · `factor`, the first of one sign, |`factor`| < 1."""

    low: Node
    high: Node
    primitive: Node
    factor: Node


@dataclass(frozen=True, slots=True)
class IntegralValue:
    """∫ from `lower` to `upper` of `integrand` is `value` (a number, ±infinity, or `Diverges`).

    `certificate` is what makes a proof possible: an antiderivative. Tails make it possible to enclose a value between improper limits.
    """

    integrand: Node
    lower: Node
    upper: Node
    value: Node
    setting: Setting
    certificate: Certificate | None = None


Certificate = Node | tuple[Tail, ...]
Claim = Equal | SameDerivative | IntegralValue


@dataclass(frozen=True, slots=True)
class Remark:
    """Something true that a person should hear although the claim stands: a jump, a removable point, the part of the line covered.

    `kind` is one of `jump`, `removable`, `window`, `several-intervals`; `place` is a point as text.
    """

    kind: str
    place: str = ""


@dataclass(frozen=True, slots=True)
class Checked:
    """A claim that stands. Only this room can make one: it needs the seal.

    `grade` is `proved` or `enclosed`: both sides agree to `digits` digits at `points` points (a value: at one) and no proof was found.
    """

    claim: Claim
    grade: str
    digits: int
    points: int
    remarks: tuple[Remark, ...]
    seal: InitVar[object] = None

    def __post_init__(self, seal: object) -> None:
        if seal is not _SEAL:
            raise TypeError("only the checker can say that a claim stands")


def stands(claim: Claim, grade: str, digits: int = 0, points: int = 1, remarks: tuple[Remark, ...] = ()) -> Checked:
    return Checked(claim, grade, digits, points, remarks, _SEAL)


@dataclass(frozen=True, slots=True)
class Refuted:
    """Proved wrong. `reason` is one of `differs`, `undefined`, `jump`, `pole`, `diverges`.

    `witness` is a point where it fails and `left`, `right` what the two sides are there (for an antiderivative: the integrand and
    the derivative of the answer), rounded for reading.
    """

    claim: Claim
    reason: str
    witness: Fraction | None = None
    place: str = ""
    left: str = ""
    right: str = ""


@dataclass(frozen=True, slots=True)
class Undecided:
    """Neither proved nor refuted; `reason` is a short code, `detail` says more.

    `budget` (time or size), `memory`, `depth`, `range`: too much for the limits; `not-supported`; `nowhere-defined`;
    `needs-certificate`; `fault`: a mistake in the checker itself, to be reported.
    """

    claim: Claim
    reason: str
    detail: str = ""


Verdict = Checked | Refuted | Undecided


def question_claim(question: Question, key: Node) -> Claim:
    """The claim that a key answers a question."""
    setting = Setting(question.variable, question.domain, question.given)
    match question.node:
        case Integral(body, _, Node() as lower, Node() as upper):
            return IntegralValue(body, lower, upper, key, setting)
        case Integral():
            return SameDerivative(question.node, key, setting)
    return Equal(question.node, key, setting)
