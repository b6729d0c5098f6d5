"""Contrasts: what they claim holds, their lines are checked, and a claim that fails is named. The tables are in `content`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from textwrap import dedent

import pytest

from everyline.book import Book, build
from everyline.book.contrast import Compared, ContrastJob, aligned, compare, same_method
from everyline.book.data import MadeContrast
from everyline.book.memory import Memory
from everyline.book.store import FILE, Store
from everyline.book.suggest import closeness, shape, suggestions
from everyline.derive.route import Line
from everyline.diagnostics import told
from everyline.kernel import Checked
from everyline.notation import Context, parse_question, plain
from everyline.notation.message import fill, say
from everyline.notation.question import Given
from everyline.notation.tree import Name
from everyline.source.load import Sources
from everyline.source.paths import page_name

PROBLEMS = {
    "tides/root-with-x.md": r"\int \frac{x}{\sqrt{49 - x^2}} \, dx | -\sqrt{49 - x^2} + C",
    "tides/root-alone.md": r"\int \frac{1}{\sqrt{49 - x^2}} \, dx | \arcsin\frac{x}{7} + C",
    "tides/cube-above.md": r"\int \frac{x^3}{x^2 + 5} \, dx | \frac{x^2}{2} - \frac{5}{2}\ln(x^2 + 5) + C",
    "tides/square-above.md": r"\int \frac{x^2}{x^2 + 25} \, dx | x - 5\arctan\frac{x}{5} + C",
    "tides/number-above.md": r"\int \frac{3}{x^2 + 25} \, dx | \frac{3}{5}\arctan\frac{x}{5} + C",
    "tides/two-ways.md": r"\int 6x(x^2 + 2)^2 \, dx | (x^2 + 2)^3 + C",
    "tides/cosine-root.md": r"\int \cos x\sqrt{2 + \sin x} \, dx | \frac{2}{3}(2 + \sin x)^{3/2} + C",
}


def book(memory: Memory | None = None, **contrasts: str) -> tuple[Book, dict[str, MadeContrast]]:
    """The small book with these contrasts (each the fields of its front matter)."""
    problems = {}
    for path, both in PROBLEMS.items():
        question, key = both.split(" | ")
        problems[path] = f"---\nquestion: {question}\nkey: '{key}'\n---\n".encode()
    composed = {f"contrasts/{name}.md": f"---\n{dedent(fields).strip()}\n---\nWords.\n".encode() for name, fields in contrasts.items()}
    made = build(
        Sources(problems, {"tides/index.md": b"---\ntitle: Tides\norder: 1\n---\n"}, b"log: natural\n", (), composed), memory=memory
    )
    return made, {page_name(each.source.path): each for each in made.contrasts}


LOOK = """
    title: One letter more
    point: With the x the derivative is there.
    problems: [tides/root-with-x, tides/root-alone]
"""
TWO = """
    title: Two ways
    point: They differ by a constant.
    problems: [tides/two-ways]
    methods: [substitution, expansion]
"""
THREE = """
    title: Three numerators
    point: Look at the degree.
    problems: [tides/number-above, tides/square-above, tides/cosine-root]
"""


@pytest.fixture(scope="module")
def made() -> dict[str, MadeContrast]:
    found, contrasts = book(look=LOOK, two=TWO, three=THREE)
    assert [d for d in found.diagnostics if d.severity == "error"] == []
    return contrasts


def test_look_alikes_say_what_they_share_and_where_they_differ(made: dict[str, MadeContrast]) -> None:
    look = made["look"]
    assert [side.method for side in look.sides] == ["substitution", "arcsine-form"]
    assert fill(look.shared[0], plain) == "Both hold sqrt(49 - x^2)."
    assert look.differs is not None
    assert fill(look.differs, plain) == "Only what stands above the line differs: x here, 1 there."


def test_the_failed_attempt_has_what_is_left_over(made: dict[str, MadeContrast]) -> None:
    """By hand: with u = 49 - x², du = -2x dx, so dx/√(49 - x²) = du/(-2x√u): 1/x is left."""
    first = made["look"].failures[0]
    assert (first.method, first.path) == ("substitution", "tides/root-alone.md")
    assert first.attempt is not None
    assert [plain(part) for part in (first.attempt.tried, first.attempt.derivative, first.attempt.left_over)] == ["49 - x^2", "-2x", "1/x"]  # type: ignore[arg-type]


def test_two_methods_of_one_question_are_reconciled_with_their_constant(made: dict[str, MadeContrast]) -> None:
    """By hand: (x² + 2)³ = x⁶ + 6x⁴ + 12x² + 8."""
    two = made["two"]
    assert [side.method for side in two.sides] == ["substitution", "expansion"]
    assert [plain(value) for pair in two.between for _, value in pair.constants] == ["-8"]
    assert two.failures == ()


def test_three_problems_give_three_columns(made: dict[str, MadeContrast]) -> None:
    three = made["three"]
    assert {len(row) for row in three.rows} == {3}
    assert [side.method for side in three.sides] == ["arctangent-form", "division", "substitution"]


def test_every_line_of_a_column_is_there_in_order_and_checked(made: dict[str, MadeContrast]) -> None:
    for each in made.values():
        for number, side in enumerate(each.sides):
            column = [row[number] for row in each.rows if row[number] is not None]
            assert tuple(column) == side.route.lines
            assert all(isinstance(line.checked, Checked) for line in column if line is not None and line.kind != "let")
        assert all(any(line is not None for line in row) for row in each.rows)


@pytest.mark.parametrize(
    ("fields", "code", "place", "said"),
    [
        ("title: T\npoint: P\nproblems: [tides/root-with-x, tides/rot-alone]", "page-unknown", (4, 31), "tides/root-alone"),
        ("title: T\npoint: P\nproblems: [tides/root-with-x, tides/cosine-root]", "contrast-same-method", (4, 31), "Substitution"),
        ("title: T\npoint: P\nproblems: [tides/two-ways]\nmethods: [substitution, partial-fractions]",
         "contrast-method-fails", (5, 25), "Partial fractions"),
        ("title: T\npoint: P\nproblems: [tides/two-ways]\nmethods: [expansion, expansion]", "contrast-same-method", (5, 22), "Expansion"),
        ("title: T\npoint: P\nproblems: [tides/two-ways, tides/cube-above]\nmethods: [substitution, division]",
         "contrast-works-too", (4, 28), "Substitution"),
        ("title: T\npoint: P\nproblems: [tides/cosine-root]", "contrast-same-method", (4, 12), "Substitution"),
        ("title: T\npoint: P\nproblems: [tides/two-ways, tides/two-ways.md]", "field-value", (4, 28), "each problem once"),
        ("title: T\npoint: P\nkind: two methods\nproblems: [tides/two-ways, tides/root-alone]", "field-value", (5, 28), "one problem"),
        ("title: T\npoint: P\nkind: look-alikes\nproblems: [tides/two-ways]", "field-value", (5, 12), "two or three problems"),
        ("title: T\npoint: P\nproblems: [tides/two-ways]\nmethods: [expansion]", "field-value", (5, 11), "two or three methods"),
        ("title: T\npoint: P\nproblems: [tides/two-ways]\nmethods: [expansion, substitutoin]", "method-unknown", (5, 22), "substitution"),
        ("title: T\nproblems: [tides/two-ways]", "field-missing", (1, 1), "point"),
        ("title: T\npoint: P\nproblem: tides/two-ways", "field-unknown", (4, 1), "problems"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_contrast_is_named_with_its_place(fields: str, code: str, place: tuple[int, int], said: str) -> None:
    found, contrasts = book(wrong=fields)
    wrong = [d for d in found.diagnostics if d.severity == "error" and d.code == code]
    assert wrong, [d.code for d in found.diagnostics]
    start = wrong[0].labels[0].span.start
    assert (start.line, start.column) == place
    assert said in " ".join(map(told, (wrong[0].headline, wrong[0].help)))
    assert not contrasts


def test_a_contrast_is_worked_out_once_and_anew_when_its_file_or_a_problem_changed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    memory = Memory(Store(tmp_path / FILE, b"s" * 32))
    _, first = book(memory, look=LOOK, two=TWO)
    seen: list[str] = []

    def compared(job: ContrastJob) -> Compared:
        seen.append(page_name(job.contrast.path))
        return compare(job)

    monkeypatch.setattr("everyline.book.assembly.compare", compared)
    monkeypatch.setattr("everyline.book.assembly.run", lambda work, jobs, **_: map(work, jobs))
    _, again = book(memory, look=LOOK, two=TWO)
    assert (seen, again) == ([], first)
    book(memory, look=LOOK.replace("One letter", "A letter"), two=TWO)
    assert seen == ["look"]
    monkeypatch.setitem(PROBLEMS, "tides/two-ways.md", r"\int 12x(x^2 + 2)^2 \, dx | 2(x^2 + 2)^3 + C")
    _, changed = book(memory, look=LOOK, two=TWO)
    assert seen == ["look", "two"]
    assert changed["two"] != first["two"]


def test_lines_that_make_the_same_move_stand_in_one_row() -> None:
    def lines(moves: str) -> Sequence[Line]:
        return [Line("equal", Name(f"{move}{n}"), say(move), None) for n, move in enumerate(moves)]

    def drawn(*columns: str) -> list[str]:
        return ["".join("." if line is None else line.reason.text for line in row) for row in aligned([lines(c) for c in columns])]

    assert drawn("abcd", "bd") == ["a.", "bb", "c.", "dd"]
    assert drawn("ab", "xaby") == [".x", "aa", "bb", ".y"]
    assert drawn("ac", "bc") == ["ab", "cc"]
    assert drawn("ab", "ab", "b") == ["aa.", "bbb"]


def test_methods_that_are_one_to_a_student() -> None:
    assert same_method("parts", "cyclic-parts")
    assert not same_method("parts", "substitution")


def test_suggestions_are_close_in_form_and_different_in_method_and_not_in_the_book_yet() -> None:
    bare, _ = book()
    pairs = {(s.kind, frozenset((s.first, s.second))) for s in suggestions(bare)}
    look = ("look-alikes", frozenset(("tides/root-with-x.md", "tides/root-alone.md")))
    two = ("two methods", frozenset(("tides/two-ways.md", "")))
    assert {look, two} <= pairs
    full, _ = book(look=LOOK, two=TWO)
    assert pairs - {(s.kind, frozenset((s.first, s.second))) for s in suggestions(full)} == {look, two}
    for suggested in suggestions(bare):
        assert not same_method(*suggested.methods)
        assert 0 < suggested.closeness <= 1


@pytest.mark.parametrize(
    ("near", "question", "far"),
    [
        (r"\int \frac{x}{x^2 + 9} \, dx", r"\int \frac{1}{x^2 + 9} \, dx", r"\int x\ln x \, dx"),
        (r"\int x e^{2x} \, dx", r"\int x e^{3x} \, dx", r"\int \tan x \, dx"),
        (r"\int_0^1 x^2 \, dx", r"\int_0^2 x^3 \, dx", r"\int x^3 \, dx"),
    ],
)
def test_closeness_is_about_the_surface(near: str, question: str, far: str) -> None:
    one, other, third = (shape(parse_question(text, Given(), Context())) for text in (question, near, far))
    assert closeness(one, other) > 0.4 > closeness(one, third)
    assert closeness(one, one) == pytest.approx(1)
