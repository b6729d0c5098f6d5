"""What a file asks for and what has been taught: an impossible wish is answered in its place and with its reason.

The calculus is common knowledge: which derivative an inside has, which kind of question a method is for.
"""

from __future__ import annotations

import pytest
from conftest import drawn

from everyline.book import Book, build
from everyline.book.report import report
from everyline.diagnostics import Diagnostic
from everyline.notation import plain
from everyline.notation.message import fill
from everyline.source.load import Sources

CHAPTERS = """
a/index.md
    ---
    title: Powers
    order: 1
    introduces: [power, sum]
    ---
b/index.md
    ---
    title: Substitution
    order: 2
    introduces: [table, linear-inside, substitution, linear-substitution, division]
    ---
c/index.md
    ---
    title: Parts
    order: 3
    introduces: [parts, symmetry, evaluation, changed-limits]
    ---
"""


def book(chapters: str = CHAPTERS, **problems: str) -> Book:
    """A book whose problems are given by chapter and name (`b_two`), a front matter each."""
    files = {path: text.encode() for path, text in drawn(chapters).items()}
    texts = {f"{name.replace('_', '/')}.md": f"---\n{text}\n---\n".encode() for name, text in problems.items()}
    return build(Sources(problems=texts, chapters=files))


COSINE = "question: \\int x\\cos(x^2) \\, dx\nkey: \\frac{\\sin(x^2)}{2} + C\n"
BETWEEN = "question: \\int_0^1 x e^{x^2} \\, dx\nkey: \\frac{e-1}{2}\n"
QUOTIENT = "question: \\int \\frac{x}{x+3} \\, dx\nkey: x - 3\\ln|x+3| + C\n"
LATER = "question: \\int x\\cos x \\, dx\nkey: x\\sin x + \\cos x + C\n"
DERIVATIVE = "question: \\frac{d}{dx} x^2\nkey: 2x\n"

#: (chapter, file, code, line and column, what is said).
WISHES = [
    ("b", COSINE + "methods: [linear-inside]", "method-impossible", (4, 11),
     "The derivative of x^2 is 2x, which is not a constant: it cannot be divided by."),
    ("b", COSINE + "methods: [substitution, lhopital]", "method-impossible", (4, 25), "This is a method for limits."),
    ("c", COSINE + "methods: [symmetry]", "method-impossible", (4, 11), "This is a method for integrals between limits."),
    ("b", COSINE + "methods: [division]", "method-impossible", (4, 11), "Its form is not here."),
    ("b", COSINE + "u: \\sin x", "method-impossible", (4, 4), "The derivative of sin(x) is cos(x); x*cos(x^2)/cos(x) is left over"),
    ("b", COSINE + "u: 5", "method-impossible", (4, 4), "A substitution names an expression in x; 5 has no x."),
    ("c", BETWEEN + "u: \\sin x", "method-impossible", (4, 4), "The derivative of sin(x) is cos(x); x*e^(x^2)/cos(x) is left over"),
    ("c", BETWEEN + "methods: [symmetry]", "method-impossible", (4, 11), "Its form is not here. An odd function"),
    ("b", DERIVATIVE + "u: x^2", "method-impossible", (4, 4), "A substitution can be asked for in an integral only."),
    ("b", LATER + "methods: [parts]", "needs-untaught", (4, 11), "not been taught yet: `parts`."),
    ("a", COSINE + "u: x^2", "needs-untaught", (4, 4), "not been taught yet: `table`, `substitution`."),
    ("b", QUOTIENT + "methods: [substitution]", "needs-untaught", (4, 11), "not been taught yet: `splitting`."),
    ("a", LATER, "needs-untaught", (2, 11), "not been taught yet: `table`, `parts`."),
    ("a", "question: \\int (\\cos x + x) \\, dx\nkey: \\sin x + \\frac{x^2}{2} + C", "needs-untaught", (2, 11), "taught yet: `table`."),
]  # fmt: skip

#: What is asked for and possible: nothing is said, and the methods come in the order asked for.
POSSIBLE = [
    (QUOTIENT + "needs: [splitting]\nmethods: [division, substitution]", ["division", "linear-substitution"]),
    (QUOTIENT + "needs: [splitting]\nmethods: [substitution, division]", ["linear-substitution", "division"]),
    (BETWEEN + "methods: [changed-limits]", ["substitution"]),
    (BETWEEN + "methods: [evaluation, changed-limits]", ["evaluation", "substitution"]),
    (BETWEEN + "u: x^2", ["substitution"]),
    (COSINE + "u: u = x^2", ["substitution"]),
    ("question: \\int_{-1}^1 xe^{x^2} \\, dx\nkey: 0", ["symmetry", "substitution"]),
    ("question: \\int_{-1}^1 xe^{x^2} \\, dx\nkey: 0\nmethods: [substitution]", ["substitution"]),
    ("question: \\int_{-1}^1 xe^{x^2} \\, dx\nkey: 0\nmethods: [substitution, symmetry]", ["substitution", "symmetry"]),
    ("question: \\int_{-1}^1 xe^{x^2} \\, dx\nkey: 0\nu: x^2", ["substitution"]),
]  # fmt: skip


@pytest.fixture(scope="module")
def asked() -> Book:
    """All that is asked for below, in one book."""
    impossible = {f"{chapter}_no{n}": text for n, (chapter, text, *_) in enumerate(WISHES)}
    return book(**impossible, **{f"c_yes{n}": text for n, (text, _) in enumerate(POSSIBLE)})


def said_of(made: Book, path: str) -> list[Diagnostic]:
    return [d for d in made.diagnostics if d.labels[0].span.path == path]


@pytest.mark.parametrize("number", range(len(WISHES)), ids=lambda n: f"{WISHES[n][0]}: {WISHES[n][1]}")
def test_an_impossible_wish_is_answered_where_it_stands(number: int, asked: Book) -> None:
    chapter, _, code, place, said = WISHES[number]
    (found,) = said_of(asked, f"{chapter}/no{number}.md")
    assert found.code == code
    assert (found.labels[0].span.start.line, found.labels[0].span.start.column) == place
    assert said in " ".join(fill(sentence, plain) for sentence in (found.headline, *found.notes))


@pytest.mark.parametrize("number", range(len(POSSIBLE)), ids=lambda n: POSSIBLE[n][0])
def test_a_possible_wish_is_granted_in_its_order(number: int, asked: Book) -> None:
    path = f"c/yes{number}.md"
    assert said_of(asked, path) == []
    derivation = asked.by_path[path].derivation
    assert derivation is not None
    assert [route.method for route in derivation.routes] == POSSIBLE[number][1]


def test_a_rule_that_names_no_method_is_used_and_can_be_missing() -> None:
    """The power rule is used on each term of a sum although the solution is called after the sum."""
    made = book(a_sum="question: \\int (x^2 + 1) \\, dx\nkey: \\frac{x^3}{3} + x + C")
    assert not [d for d in made.diagnostics if d.code == "technique-unused" and d.labels[0].span.path.startswith("a/")]
    assert "power" in made.examined[0].used
    assert not {gap.technique for gap in report(made).gaps if gap.chapter == "a" and 1 not in gap.levels} - {"power", "sum"}


def test_what_a_chapter_introduces_and_does_not_use_is_said() -> None:
    made = book(a_one="question: \\int x^2 \\, dx\nkey: \\frac{x^3}{3} + C")
    assert [fill(d.headline, plain) for d in made.diagnostics] == ["No problem of this chapter uses `sum`."]
