"""How many published questions get a worked solution, by which methods, how long it takes, and the ratio to SymPy's `manualintegrate`.

Figures are reported and never fail; a wrong answer does. Times are those of the processor, so that other work on the machine
does not count. Answers are checked by mpmath alone: an antiderivative by its
numerical derivative, a value against the published one. Rows are read from the reference folder beside the checkout.
"""

from __future__ import annotations

import json
import os
import random
import statistics
import time
from collections import Counter, defaultdict
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import mpmath
import numeric
import pytest

from everyline.algebra.sympy_bridge import from_sympy, to_sympy
from everyline.derive import Budget, Derivation, Route, derive
from everyline.notation import Context, parse, plain
from everyline.notation.message import fill
from everyline.notation.question import Question
from everyline.notation.tree import Derivative, Diverges, DoesNotExist, Infinity, Integral, Limit, Negative, Node
from everyline.techniques import catalogue

FILES = ("textbook", "tables", "hard")
KINDS = ("indefinite", "definite", "improper", "derivative", "limit")
#: All rows under the deriver's own budget, or (an ordinary run) every eighth under a short one.
ALL = os.environ.get("EVERYLINE_MEASURE") == "all"
EVERY, SECONDS, COMPARED = (1, 10.0, 40) if ALL else (8, 2.0, 12)
LISTED = 10
SHOWN = 20

#: What a book's section teaches, and the techniques that count as it.
SECTIONS: dict[str, frozenset[str]] = {
    "substitution": frozenset({"substitution", "linear-substitution", "linear-inside", "changed-limits", "rationalising"}),
    "integration by parts": frozenset({"parts", "cyclic-parts"}),
    "trigonometric integrals": frozenset({"trigonometric-powers", "identity", "cyclic-parts", "substitution"}),
    "trigonometric substitution": frozenset({"trigonometric-substitution"}),
    "partial fractions": frozenset({"partial-fractions", "root-factors"}),
    "improper integral": frozenset({"improper", "comparison"}),
    "inverse trigonometric integrals": frozenset({"arctangent-form", "arcsine-form", "table", "completing-square"}),
    "l'Hopital's rule": frozenset({"lhopital"}),
    "limit laws": frozenset({"limit-value", "limit-algebra"}),
    "chain rule": frozenset({"derivative-chain"}),
    "product and quotient rules": frozenset({"derivative-product", "derivative-quotient"}),
    "hyperbolic functions": frozenset(
        {"table", "identity", "substitution", "linear-inside", "parts", "derivative-table", "derivative-chain"}
    ),
    "logarithmic/implicit differentiation": frozenset({"logarithmic-differentiation"}),
}


@dataclass(frozen=True)
class Solved:
    """One row and what came of it; `found` is None where the row could not be read."""

    row: dict[str, Any]
    found: Derivation | None
    seconds: float

    @property
    def routes(self) -> tuple[Route, ...]:
        return () if self.found is None else self.found.routes


def tree(text: str, variable: str) -> Node:
    return parse(text.replace("oo", "infinity").replace("E", "e"), Context(names=frozenset({variable}), log="natural", constants=False))


def question(row: dict[str, Any]) -> Question:
    x = row["variable"]
    body = tree(row["integrand"], x)
    if row["kind"] == "indefinite":
        return Question(Integral(body, x))
    if row["kind"] == "derivative":
        return Question(Derivative(body, x))
    if row["kind"] == "limit":
        return Question(Limit(body, x, tree(row["lower"], x), row.get("side") or ""))
    return Question(Integral(body, x, tree(row["lower"], x), tree(row["upper"], x)))


def solved(row: dict[str, Any]) -> Solved:
    try:
        asked = question(row)
    except Exception:  # a notation that is refused on purpose: counted as not solved
        return Solved(row, None, 0.0)
    start = time.process_time()
    found = derive(asked, budget=Budget(seconds=SECONDS))
    return Solved(row, found, time.process_time() - start)


@pytest.fixture(scope="module")
def runs(reference: Path) -> dict[str, list[Solved]]:
    catalogue()
    rows = {f: [json.loads(line) for line in (reference / f"{f}.jsonl").read_text("utf-8").splitlines()] for f in FILES}
    print("\nall rows" if ALL else f"\nevery {EVERY}th row, at most {SECONDS:.0f} s each (all rows: EVERYLINE_MEASURE=all)")
    return {file: [solved(row) for row in rows[file][::EVERY]] for file in FILES}


@pytest.mark.parametrize("file", FILES)
def test_worked_solutions_of_published_questions(file: str, runs: dict[str, list[Solved]]) -> None:
    for kind in KINDS:
        rows = [r for r in runs[file] if r.row["kind"] == kind]
        if not rows:
            continue
        times = [1000 * r.seconds for r in rows]
        several = sum(len(r.routes) > 1 or (r.found is not None and any(not a.works for a in r.found.attempts)) for r in rows)
        late = sorted(times)[int(0.95 * (len(times) - 1))]
        count = sum(bool(r.routes) for r in rows)
        share = f"{count} of {len(rows)} solved ({100 * count / len(rows):.1f} %)"
        print(f"\n{file} {kind}: {share}, {several} with two methods or an instructive attempt")
        print(f"   median {statistics.median(times):.0f} ms, 95th percentile {late:.0f} ms, longest {max(times):.0f} ms")
        missing = [r for r in rows if not r.routes]
        for r in missing if len(missing) <= LISTED else ():
            why = "unread" if r.found is None or r.found.missing is None else fill(r.found.missing, plain)
            print("   not solved:", r.row["integrand"], "-", why)


def test_hard_questions_by_family(runs: dict[str, list[Solved]]) -> None:
    families: dict[str, list[Solved]] = defaultdict(list)
    for r in runs["hard"]:
        families[f"{r.row['kind']}: {r.row['technique'].split(' [')[0]}"].append(r)
    print()
    for family, rows in sorted(families.items(), key=lambda f: -len(f[1])):
        print(f"{sum(bool(r.routes) for r in rows):3} of {len(rows):3}  {family}")


# -- no wrong answer ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("file", FILES)
def test_no_answer_is_wrong(file: str, runs: dict[str, list[Solved]]) -> None:
    with mpmath.workdps(40):
        wrong = [(r.row["integrand"], plain(route.answer)) for r in runs[file] for route in r.routes if not right(r.row, route.answer)]
    compared = sum(len(r.routes) for r in runs[file])
    print(f"\n{file}: {compared} answers compared with mpmath, {len(wrong)} wrong")
    assert wrong == []


def right(row: dict[str, Any], answer: Node) -> bool:
    """Whether an answer agrees with mpmath: at several points, or with the published value."""
    x = row["variable"]
    if row["kind"] in ("indefinite", "derivative"):
        f, g = (tree(row["integrand"], x), answer) if row["kind"] == "indefinite" else (answer, tree(row["integrand"], x))
        return all(_slope_agrees(f, g, x, point) for point in points(row["domain"], x))
    published = row["answer"]
    if published == "diverges":
        return isinstance(answer, Diverges | Infinity | Negative)
    if isinstance(answer, Diverges | DoesNotExist):
        return published in ("oo", "-oo", "does not exist", "DNE")
    mine, theirs = numeric.value(answer, {}), numeric.value(tree(published, x), {})
    return bool(mine == theirs or mpmath.almosteq(mine, theirs, rel_eps=mpmath.mpf(10) ** -20, abs_eps=mpmath.mpf(10) ** -20))


def _slope_agrees(f: Node, g: Node, x: str, point: mpmath.mpf) -> bool:
    """Whether g' = f at the point; where f is not defined the point says nothing."""
    try:
        wanted = numeric.value(f, {x: point})
    except (ValueError, ZeroDivisionError):
        return True
    try:
        slope = mpmath.diff(lambda t: numeric.value(g, {x: t}), point)
    except (ValueError, ZeroDivisionError):
        return False
    return bool(mpmath.almosteq(slope, wanted, rel_eps=mpmath.mpf(10) ** -12, abs_eps=mpmath.mpf(10) ** -12))


def points(domain: str, x: str) -> Iterator[mpmath.mpf]:
    """A few points in every stretch of a row's domain."""
    for stretch in domain.split(" U "):
        low, high = (_end(end.strip(), x) for end in stretch.strip()[1:-1].split(","))
        low = (high - 4 if high != mpmath.inf else mpmath.mpf(-2)) if low == -mpmath.inf else low
        high = low + 4 if high == mpmath.inf else high
        yield from (low + (high - low) * mpmath.mpf(k) / 7 for k in (1, 3, 5))


def _end(text: str, x: str) -> mpmath.mpf:
    try:
        return mpmath.mpf(text.replace("oo", "inf"))
    except ValueError:  # not a plain number
        return numeric.value(tree(text, x), {})


# -- methods --------------------------------------------------------------------------------------------------------


def test_the_technique_of_the_books_section_is_among_the_methods(runs: dict[str, list[Solved]]) -> None:
    total, among, longer = Counter[str](), Counter[str](), []
    for r in runs["textbook"]:
        section = r.row["technique"]
        wanted = SECTIONS.get(section)
        if wanted is None or not r.routes:
            continue
        total[section] += 1
        fitting = [route for route in r.routes if wanted & set(route.techniques) or (section == "limit laws" and len(route.lines) == 1)]
        among[section] += bool(fitting)
        if fitting and len(r.routes[0].lines) > min(len(route.lines) for route in fitting):
            longer.append((r.row["integrand"], r.routes[0].techniques, len(r.routes[0].lines), min(len(f.lines) for f in fitting)))
    print()
    for section, count in total.most_common():
        print(f"{among[section]:3} of {count:3}  {section}")
    print(f"the section's technique is among ours in {100 * sum(among.values()) / sum(total.values()):.1f} % of {sum(total.values())} rows")
    print(f"rows where the first method is longer than the section's: {len(longer)}")
    for integrand, techniques, ours, theirs in longer:
        print(f"   {integrand}: {' '.join(techniques)}, {ours} lines against {theirs}")


def test_twenty_preferred_solutions_for_a_teachers_eye(runs: dict[str, list[Solved]]) -> None:
    chosen = random.Random(20).sample([r for r in runs["textbook"] if r.routes], SHOWN)
    for r in chosen:
        route = r.routes[0]
        print(f"\n{plain(route.question.node)}    [{' '.join(route.techniques)}]")
        for line in route.lines:
            left = f"{'d' if line.kind == 'differential' else ''}{plain(line.left)} " if line.left is not None else "   "
            print(f"    {left}= {plain(line.shown)}    {fill(line.reason, plain)}")


# -- against SymPy --------------------------------------------------------------------------------------------------


def _manual(text: str, variable: str) -> tuple[Node | None, float]:
    import sympy
    from sympy.integrals.manualintegrate import manualintegrate

    start = time.process_time()
    found = manualintegrate(to_sympy(tree(text, variable)), sympy.Symbol(variable, real=True))
    seconds = time.process_time() - start
    return None if found.has(sympy.Integral) else from_sympy(found), seconds


def test_ratio_to_manualintegrate(runs: dict[str, list[Solved]]) -> None:
    pebble = pytest.importorskip("pebble")
    rows = random.Random(7).sample([r for r in runs["textbook"] if r.row["kind"] == "indefinite"], COMPARED)
    theirs, they, wrong = [], 0, []
    with pebble.ProcessPool(max_workers=1) as pool:
        pool.schedule(_manual, args=("x", "x")).result()
        for r in rows:
            row = r.row
            answer, seconds = None, SECONDS
            with suppress(Exception):  # late, or a fault of its own: not solved
                answer, seconds = pool.schedule(_manual, args=(row["integrand"], row["variable"]), timeout=SECONDS).result()
            theirs.append(seconds)
            they += answer is not None
            with mpmath.workdps(40):
                if answer is not None and not right(row, answer):
                    wrong.append(row["integrand"])
    ours = [r.seconds for r in rows]
    we = sum(bool(r.routes) for r in rows)
    middle, whole = statistics.median(theirs) / statistics.median(ours), sum(theirs) / sum(ours)
    print(f"\nof {COMPARED} textbook integrals: solved {we} against {they}; wrong 0 against {len(wrong)} {wrong}")
    print(f"   manualintegrate's median time is {middle:.2f} times ours, its total {whole:.2f} times (ours finds every method)")
