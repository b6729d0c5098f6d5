"""From a plan to the lines on the board: the whole running expression on every line, each line checked against the one before."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace

from ..algebra.barless import half_line, never_negative, without_bars
from ..algebra.expand import distribute
from ..algebra.powers import as_powers
from ..algebra.tidy import tidy
from ..algebra.unbroken import unbroken
from ..kernel import Checked, Claim, Equal, SameDerivative, Setting
from ..notation.build import add, contains, names, size, substitute, summands, walk
from ..notation.build import replace as replaced
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import ArbitraryConstant, Call, Derivative, Integral, Interval, Limit, Name, Node
from ..techniques import Shown
from ..techniques.brackets import plain_at
from ..techniques.kinds.power import WITH_BARS, WITHOUT_BARS
from ..techniques.limiting import settled
from .budget import judged
from .finishing import finished
from .neatening import neatened
from .putting import closed, in_one_go, in_single_angles, leaves, put, returned, together, value
from .route import Line
from .search import Plan, open_parts
from .steps import line_claim

LEVEL_SECONDS = 2.0


class NotWritten(Exception):
    """A line that the kernel does not stand behind: the route is dropped."""


class Writer:
    """Writes one route. `lines` grows; `shown` is the expression on the last line."""

    def __init__(self, question: Question) -> None:
        self.question = question
        self.shown: Node = question.node
        self.lines: list[Line] = []
        self.bindings: tuple[tuple[str, Node], ...] = ()
        #: What cannot be negative where the integrand is defined, and the half-line that this leaves.
        self.known = never_negative(question.body, question.variable) if question.kind == "indefinite" else ()
        self.region = question.domain or half_line(self.known, question.variable)

    def setting(self) -> Setting:
        return Setting(self.question.variable, self.region, self.question.given, self.bindings)

    def checked(self, left: Node, right: Node) -> Checked:
        if isinstance(self.question.node, Limit):
            return self.same_limit(left, right)[0]
        same = contains(left, Integral) or contains(right, Integral) or self.question.kind == "indefinite"
        claim = SameDerivative(left, right, self.setting()) if same else Equal(left, right, self.setting())
        return self.proved(claim)

    def same_limit(self, left: Node, shown: Node) -> tuple[Checked, tuple[Line, ...]]:
        """What stands behind a line of a limit: that it equals the line before, or that both have the same value.

        In the second case every limit on the line is worked out on a line of its own.
        """
        claim = line_claim(left, shown, self.setting()) if closed(shown) else Equal(left, shown, self.setting())
        verdict = judged(claim, LEVEL_SECONDS)
        if isinstance(verdict, Checked):
            return verdict, ()
        node, value = self.question.node, settled(shown)
        assert isinstance(node, Limit)
        if value is None:
            raise NotWritten
        whole = self.proved(Equal(node, value, self.setting()))
        return whole, tuple(self._worked_out(inner) for inner in open_parts(shown))

    def _worked_out(self, limit: Node) -> Line:
        assert isinstance(limit, Limit)
        value = settled(limit)
        if value is None:
            raise NotWritten
        claim = Equal(limit, value, Setting(limit.variable, None, self.question.given))
        return Line("equal", value, say("The limit on its own."), self.proved(claim), limit)

    def line(self, shown: Node, reason: Message, detail: tuple[Line, ...] = ()) -> None:
        """The next line of the chain."""
        if shown == self.shown and not detail:
            return
        shown, reason = self.unbarred(shown, reason)
        if isinstance(self.question.node, Limit):
            checked, fine = self.same_limit(self.shown, shown)
            self.lines.append(Line("equal", shown, reason, checked, None, (*detail, *fine)))
        else:
            self.lines.append(Line("equal", shown, reason, self.checked(self.shown, shown), None, detail))
        self.shown = shown

    def unbarred(self, shown: Node, reason: Message) -> tuple[Node, Message]:
        """A line without bars around what can only be positive here, and its reason."""
        plain = without_bars(shown, self.known, self.question.variable)
        if plain != shown and reason.text == WITH_BARS:
            return plain, say(WITHOUT_BARS, x=Name(self.question.variable))
        return plain, reason

    def prepare(self, shown: Shown, plan: Plan) -> Line:
        reason = shown.reason or plan.step.reason
        if shown.kind == "let":
            return Line("let", shown.right, reason, None, shown.left)
        if shown.kind == "differential":
            checked, variable = self._differential(shown, plan)
            return Line("differential", shown.right, reason, checked, shown.left, variable=variable)
        return Line("equal", shown.right, reason, self.checked_equal(shown.left, shown.right), shown.left)

    def checked_equal(self, left: Node, right: Node) -> Checked:
        if isinstance(left, Limit) or (isinstance(left, Integral) and left.lower is not None):
            return self.proved(line_claim(left, right, self.setting()))
        if contains(left, Integral):
            return self.checked(left, right)
        # x = u² + 1 is meant where u is defined
        sides = (right, left) if isinstance(left, Name) else (left, right)
        return self.proved(Equal(*sides, self.setting()))

    def proved(self, claim: Claim) -> Checked:
        verdict = judged(claim, LEVEL_SECONDS)
        if not isinstance(verdict, Checked):
            raise NotWritten
        return verdict

    def _differential(self, shown: Shown, plan: Plan) -> tuple[Checked, str]:
        """d(name) = derivative · d(variable): of a new name by the question's variable, or of that variable by the new name."""
        assert isinstance(shown.left, Name)
        bound = dict(plan.step.bindings)
        lets = {s.left: s.right for s in plan.step.before if s.kind in ("let", "equal")}
        function = bound.get(shown.left.name) or lets[shown.left]
        variable = plan.question.variable if shown.left.name in bound else plan.step.bindings[0][0]
        domain = None if variable != self.question.variable else self.question.domain
        return self.proved(Equal(Derivative(function, variable), shown.right, Setting(variable, domain, self.question.given))), variable

    # -- plans --------------------------------------------------------------------------------------------------

    def follow(self, plan: Plan) -> None:
        """Write the lines of a plan whose question stands open in the expression shown."""
        if together(plan):
            self.all_at_once([plan])
            return
        outer = self.bindings
        here = plan.question.node
        before = self.shown
        self.bindings = outer + tuple((n, substitute(b, {})) for n, b in plan.step.bindings)
        for shown in plan.step.before:
            self.lines.append(self.prepare(shown, plan))
        detail = tuple(self.prepare(s, plan) for s in plan.step.detail if s.left != s.right)
        for passage, reason in plan.step.through:
            self.line(put(before, here, passage), reason)
        self.line(put(before, here, plan.step.result), plan.step.reason, detail)
        self.parts(list(plan.parts))
        if plan.step.bindings:
            letter = Name(plan.step.bindings[0][0])
            doubled = say("Use the double-angle formulas, for the triangle has only {angle}.", angle=letter)
            self.line(in_single_angles(self.shown, plan), doubled)
            self.lines += self.triangle(plan)
            self.line(returned(self.shown, plan), _back(plan))
        self.bindings = outer

    def triangle(self, plan: Plan) -> Iterator[Line]:
        """What the way back from an angle needs: the functions of it that stand there, read off the triangle, and the angle itself."""
        back, standing = dict(plan.step.back), self.shown
        for old, new in plan.step.back:
            if isinstance(old, Call) and old in walk(standing):
                standing = replaced(standing, old, new)
                yield from self._relation(old, new, say("Read it off the triangle."))
        ((letter, angle), *_) = plan.step.bindings
        if back and letter in names(standing):
            yield from self._relation(
                Name(letter), back.get(Name(letter), angle), say("Solve the substitution for {angle}.", angle=Name(letter))
            )

    def _relation(self, old: Node, new: Node, reason: Message) -> Iterator[Line]:
        """The line `old = new`; none where it holds on a part of the domain only, or up to a constant."""
        with suppress(NotWritten):
            yield Line("equal", new, reason, self.checked_equal(old, new), old)

    def parts(self, plans: list[Plan]) -> None:
        """The open parts of a step: all the easy ones in one line, then the others one by one."""
        easy = [p for p in plans if together(p)]
        if easy:
            self.all_at_once(easy)
        for plan in plans:
            if not together(plan):
                self.follow(plan)

    def all_at_once(self, plans: list[Plan]) -> None:
        shown = self.shown
        if shown == self.question.node == plans[0].question.node:
            self._powers_first(shown)
        detail: list[Line] = []
        for plan in plans:
            shown = put(shown, plan.question.node, value(plan))
            last = leaves(plan)
            if len(last) > 1 or len(plans) > 1 or last[0] is not plan:
                for leaf in last:
                    closed_leaf, reason = self.unbarred(value(leaf), leaf.step.reason)
                    detail.append(Line("equal", closed_leaf, reason, self.checked(leaf.question.node, closed_leaf), leaf.question.node))
            elif plan.step.detail:
                detail += [self.prepare(s, plan) for s in plan.step.detail]
        single = len(plans) == 1 and not plans[0].parts
        self.line(shown, plans[0].step.reason if single else in_one_go(plans), tuple(detail))

    def _powers_first(self, asked: Node) -> None:
        """Before the power rule is used on the question itself: its roots and fractions written as powers."""
        if isinstance(asked, Integral) and asked.lower is None:
            written = as_powers(asked.integrand, asked.variable)
            if written != asked.integrand:
                self.line(Integral(written, asked.variable), say("Write roots and fractions as powers."))

    def finish(self) -> tuple[tuple[Line, ...], Node]:
        """The lines, + C where it belongs, and the answer."""
        if not closed(self.shown):
            raise NotWritten
        if self.question.kind == "indefinite":
            self.mend()
        else:
            if self.question.kind == "limit":
                self.settle()
                return tuple(self.lines), self.shown
            for shown, reason in finished(self.shown, self.question.variable):
                self.line(shown, reason)
            return tuple(self.lines), self.shown
        self.lines = list(self._with_constant(ArbitraryConstant(constant_name(self.question))))
        return tuple(self.lines), self.lines[-1].shown

    def _with_constant(self, constant: Node) -> Iterator[Line]:
        """The lines with + C on each in which no integral is left: there the sign that stood for it is gone."""
        before: Node = self.question.node
        for line in self.lines:
            if line.kind != "equal" or line.left is not None:
                yield line
                continue
            whole = line
            if closed(line.shown):
                answer = add(line.shown, constant)
                whole = replace(line, shown=answer, checked=self._constant_added(before, answer, line))
            yield whole
            before = whole.shown

    def mend(self) -> None:
        """An answer that jumps where the integrand does not, written without its jumps; between limits only a jump there counts.

        Then the answer in the form in which it is left.
        """
        whole = unbroken(self.shown, self.question.variable)
        if whole != self.shown and not (size(whole) > size(self.shown) and self.smooth_between()):
            reason = say("The tangent jumps where the integrand does not. This form has the same derivative and no jump.")
            self.line(tidy(add(*(distribute(t) for t in summands(whole)))), reason)
        with suppress(NotWritten):
            for shown, reason in neatened(self.shown, self.question.variable, ArbitraryConstant(constant_name(self.question))):
                self.line(shown, reason)
        verdict = judged(SameDerivative(self.question.node, self.shown, self.setting()), LEVEL_SECONDS)
        if not isinstance(verdict, Checked) or any(remark.kind == "jump" for remark in verdict.remarks):
            raise NotWritten

    def smooth_between(self) -> bool:
        """Whether the answer is defined at both limits and does not jump between them."""
        x, domain = self.question.variable, self.question.domain
        if not isinstance(domain, Interval) or not all(plain_at(self.shown, x, end) for end in (domain.lower, domain.upper)):
            return False
        verdict = judged(SameDerivative(self.question.node, self.shown, self.setting()), LEVEL_SECONDS)
        return isinstance(verdict, Checked) and not any(remark.kind == "jump" for remark in verdict.remarks)

    def settle(self) -> None:
        """The value of a limit worked out (e^-∞ is 0)."""
        value = settled(self.shown)
        if value is not None and value != self.shown:
            self.line(value, say("Work out the value."))

    def _constant_added(self, before: Node, answer: Node, last: Line) -> Checked:
        claim = last.checked.claim if last.checked else None
        if not isinstance(claim, SameDerivative):
            raise NotWritten
        return self.proved(SameDerivative(before, answer, claim.setting))


def constant_name(question: Question) -> str:
    used = names(question.node) | question.given.names
    return next(c for c in ("C", "K", "c", "k") if c not in used)


def _back(plan: Plan) -> Message:
    name, inside = plan.step.bindings[0]
    if plan.step.back:
        return say("Put {x} back with the relations of the triangle.", x=Name(plan.question.variable))
    return say("Put {name} = {inside} back.", name=Name(name), inside=inside)
