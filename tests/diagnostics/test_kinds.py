"""Every code has a module, an explanation and words for each case."""

from __future__ import annotations

import dataclasses
import importlib
import re
import subprocess
import sys
import typing
from fractions import Fraction

import pytest

from everyline.diagnostics import Diagnostic, Kind, codes, diagnose, kind, told
from everyline.diagnostics.from_kernel import Asked, from_refuted, from_remarks
from everyline.diagnostics.from_notation import from_notation
from everyline.notation.message import Message, say
from everyline.source import faults
from everyline.source.reading import read_problem
from everyline.source.span import Lines, Place, Span
from everyline.source.traps import TRAPS

SPAN = Span("a/b.md", Place(1, 1), Place(1, 2))
CHOICES = {"kind": "nothing-after", "why": "outside", "what": "file"}


def fact_of(code: str) -> type:
    module = importlib.import_module(f"everyline.diagnostics.kinds.{code.replace('-', '_')}")
    return typing.get_type_hints(module.diagnose)["fact"]


def words(made: Diagnostic) -> list[str]:
    """All that a diagnostic says, in English."""
    return [told(each) for each in (made.headline, *made.notes, made.help)]


def sample(fact: type) -> typing.Any:
    values: dict[type, object] = {str: "x", int: 2, float: 2.0, bool: True, Span: SPAN, tuple[str, ...]: ("x", "y")}
    values |= {Message: say("x"), tuple[Message, ...]: (say("x"), say("y")), Message | None: say("x")}
    hints = typing.get_type_hints(fact)
    given = {f.name: SPAN if "Span" in str(hints[f.name]) else values[hints[f.name]] for f in dataclasses.fields(fact)}
    given |= {name: value for name, value in CHOICES.items() if name in given}
    if fact is faults.YamlTrap:
        given["kind"] = "bar"
    if fact.__name__ == "WrongKey":
        given["kind"] = "definite"
    if fact.__name__ == "PageUnknown":
        given["what"] = "page"
    return fact(**given)


@pytest.mark.parametrize("code", codes())
def test_a_code_explains_itself(code: str) -> None:
    said: Kind = kind(code)
    assert said.code == code
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", code)
    assert said.severity in {"error", "warning", "notice"}
    assert said.title
    assert said.meaning.endswith((".", ")"))
    assert said.mend
    assert fact_of(code).code == code


@pytest.mark.parametrize("code", codes())
def test_a_fact_is_put_into_words(code: str) -> None:
    made = diagnose(sample(fact_of(code)))
    assert made.code == code
    assert made.headline
    assert made.help
    assert made.labels[0].span == SPAN
    said = " ".join([*words(made), kind(code).title, kind(code).meaning, kind(code).mend])
    assert not re.search(r"\b(kernel|claim|route|witness|increment|refuted claim)s?\b", said, re.IGNORECASE), "the code's own words"


FRONT_MATTER = [
    c for c in codes() if fact_of(c).__module__ == faults.__name__ and kind(c).right and not kind(c).wrong.startswith(("let", "```", "["))
]


@pytest.mark.parametrize("code", FRONT_MATTER)
def test_the_example_of_a_front_matter_code_shows_it(code: str) -> None:
    wrong, right = (_file(example, code == "front-matter-missing") for example in (kind(code).wrong, kind(code).right))
    known = {"substitution", "division"}
    assert code in {f.code for f in read_problem("a/b.md", wrong, known).faults}
    assert code not in {f.code for f in read_problem("a/b.md", right, known).faults}


def _file(example: str, kind_without_fields: bool) -> bytes:
    if example.startswith("---") or kind_without_fields:
        return (example + "\n").encode()
    fields = {"question": "question: \\int x \\, dx\n", "key": "key: x + C\n"}
    lines = "".join(text for name, text in fields.items() if not re.search(rf"^{name}:", example, re.MULTILINE))
    return f"---\n{lines}{example}\n---\n".encode()


def test_every_fault_of_the_reader_has_its_module() -> None:
    named = {f.code for f in vars(faults).values() if isinstance(f, type) and issubclass(f, faults.Fault) and f is not faults.Fault}
    assert named <= set(codes())


@pytest.mark.parametrize("trap", TRAPS)
def test_every_trap_has_its_words(trap: str) -> None:
    made = diagnose(faults.YamlTrap(SPAN, "key", trap, '"x"'))
    assert "single quote" in told(made.help)
    assert made.notes


def test_an_unknown_code_is_an_error() -> None:
    with pytest.raises(LookupError):
        kind("no-such-code")


class Outcome:
    def __init__(self, reason: str, witness: Fraction | None = None, place: str = "") -> None:
        self.reason, self.witness, self.place, self.left, self.right, self.kind = reason, witness, place, "1", "2", reason


KEY = Lines("a/b.md", "ln x + C").piece(0, 8)


@pytest.mark.parametrize(
    ("outcome", "code", "said"),
    [
        (Outcome("differs", Fraction(1, 3)), "key-wrong", "Wrong at x = 1/3: there the integrand is 1, the key's derivative is 2."),
        (Outcome("undefined", place="-1"), "key-undefined", "It has no value at x = -1, where the question has one."),
        (Outcome("needs-absolute-value", Fraction(-1)), "key-absolute-value", "At x = -1 the question has a value and this key has none."),
        (Outcome("jump", place="0"), "key-jumps", "It jumps at x = 0, where the integrand is continuous."),
        (Outcome("pole", place="0"), "integral-diverges", "It fails at x = 0."),
    ],
)
def test_a_refuted_key_in_words(outcome: Outcome, code: str, said: str) -> None:
    made = diagnose(from_refuted(KEY, outcome, Asked("indefinite", "x", "1/x", "2/x")))
    assert (made.code, made.severity) == (code, "error")
    assert said in map(told, made.notes)


def test_remarks_beside_a_right_key() -> None:
    made = [
        diagnose(f)
        for f in from_remarks(KEY, [Outcome("jump"), Outcome("removable"), Outcome("window"), Outcome("several-intervals")], "x")
    ]
    assert [(d.code, d.severity) for d in made] == [("key-jumps", "warning"), ("key-removable", "warning"), ("key-window", "notice")]


@pytest.mark.parametrize(
    ("formula", "code", "column"),
    [(r"x + \frac{1}{2", "formula-unreadable", None), ("x + 1/2x", "formula-ambiguous", None), ("x + q", "name-undeclared", 11)],
)
def test_what_the_notation_cannot_read_is_placed_in_the_file(formula: str, code: str, column: int | None) -> None:
    from everyline.notation.context import Context
    from everyline.notation.errors import NotationError
    from everyline.notation.read import parse

    read = read_problem("a/b.md", f"---\nquestion: x\nkey: '{formula}'\n---\n".encode())
    assert read.problem is not None
    with pytest.raises(NotationError) as caught:
        parse(formula, Context().declare("x"))
    made = diagnose(from_notation(read.problem.keys[0], caught.value, "key"))
    start = made.labels[0].span.start
    assert made.code == code
    assert start == Place(3, 7 + caught.value.start)
    if column is not None:
        assert start.column == column


def test_explanations_are_loaded_only_when_needed() -> None:
    probe = "import sys, everyline.diagnostics as d; print([m for m in sys.modules if m.startswith('everyline.diagnostics.kinds.')])"
    run = subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"
