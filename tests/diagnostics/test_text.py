"""How diagnostics look in a terminal: snapshots."""

from __future__ import annotations

import json
import unicodedata

import pytest

from everyline.diagnostics import Diagnostic, Label, diagnose, in_order
from everyline.diagnostics.formats import json as as_json
from everyline.diagnostics.formats import text as as_text
from everyline.diagnostics.kinds.key_wrong import WrongKey
from everyline.notation.message import say, verbatim
from everyline.source.reading import read_problem
from everyline.source.span import Place, Span


class Files(dict[str, str]):
    def line(self, path: str, number: int) -> str | None:
        lines = self.get(path, "").split("\n")
        return lines[number - 1] if 1 <= number <= len(lines) else None


def shown(text: str, **options: object) -> str:
    faults = read_problem("a/b.md", text.encode()).faults
    return as_text.render([diagnose(f) for f in faults], Files({"a/b.md": text}), **options)  # type: ignore[arg-type]


def test_three_faults_of_one_file() -> None:
    text = "---\nquestion: \\int x \\, dx\nkey: |x| + C\nlevl: 2\nkey: x\n---\n"
    assert (
        shown(text, root="content/")
        == r"""Wrong · value-needs-quotes
Where  content/a/b.md:3:6
         key: |x| + C
              ^^^^^^^
What   The value of `key` is not read as it is written.
       In front matter a `|` at the start means that a longer text follows on the next lines.
Try    Put it in single quotes: '|x| + C'

Wrong · field-unknown
Where  content/a/b.md:4:1
         levl: 2
         ^^^^
What   There is no field `levl`.
Try    Did you mean `level`?

Wrong · field-twice
Where  content/a/b.md:5:1
         key: x
         ^^^
and    content/a/b.md:3:1  (the first time)
         key: |x| + C
         ^^^
What   The field `key` is given twice.
Try    Take one of the two lines out. Several keys are given as a list.

3 errors.
"""
    )


def test_a_wrong_key() -> None:
    line = "key: 3x^3 + C"
    span = Span("powers/six.md", Place(1, 6), Place(1, 14))
    fact = WrongKey(span, "indefinite", "6x^2", "9x^2", "x", "1", "6", "9", say("The power was raised but not divided by."), "2x^3 + C")
    assert (
        as_text.render([diagnose(fact)], Files({"powers/six.md": line}))
        == r"""Wrong · key-wrong
Where  powers/six.md:1:6
         key: 3x^3 + C
              ^^^^^^^^
What   This key is wrong: its derivative is not the integrand.
       The key differentiates to 9x^2; the integrand is 6x^2.
       Wrong at x = 1: there the integrand is 6, the key's derivative is 9.
       The power was raised but not divided by.
Try    This key would be right:
       2x^3 + C

1 error.
"""
    )


@pytest.mark.parametrize(
    ("line", "column", "length", "before", "marks"),
    [
        ("漢字 x", 4, 1, 5, 1),
        ("漢字 x", 1, 2, 0, 4),
        ("e\u0301x", 3, 1, 1, 1),
        ("\tx", 2, 1, 1, 1),
        ("x", 2, 0, 1, 1),
    ],
)
def test_the_mark_stands_under_the_place(line: str, column: int, length: int, before: int, marks: int) -> None:
    made = Diagnostic("c", "error", say("H."), (Label(Span("p", Place(1, column), Place(1, column + length))),))
    drawn = as_text.render_one(made, Files({"p": line})).split("\n")[3]
    assert drawn == " " * (9 + before) + "^" * marks


def test_a_long_line_is_cut_around_its_place() -> None:
    line = "key: " + "x + " * 80 + "WRONG" + " + x" * 80
    start = line.index("WRONG") + 1
    made = Diagnostic("c", "error", say("H."), (Label(Span("p", Place(1, start), Place(1, start + 5))),))
    excerpt, mark = as_text.render_one(made, Files({"p": line})).split("\n")[2:4]
    assert len(excerpt) <= 100
    assert excerpt[mark.index("^") : mark.index("^") + 5] == "WRONG"
    assert mark.count("^") == 5
    assert excerpt.strip().startswith("…")
    assert excerpt.endswith("…")


def test_nothing_in_a_file_can_write_to_the_terminal() -> None:
    made = Diagnostic("c", "error", say("H \x1b[2J."), (Label(Span("p", Place(1, 1), Place(1, 2))),), (say("n\u202e"),))
    drawn = as_text.render_one(made, Files({"p": "a\x1b[31m\u202eb"}))
    assert not [c for c in drawn if unicodedata.category(c) in {"Cc", "Cf"} and c != "\n"]


def test_colour_only_when_asked() -> None:
    text = "---\nquestion: x\n---\n"
    assert "\033[" not in shown(text)
    assert "\033[31m" in shown(text, colour=True)
    assert shown(text, colour=True).replace("\033[31m", "").replace("\033[0m", "") == shown(text)


def test_nothing_to_say() -> None:
    assert as_text.render([], Files()) == "Nothing to mend.\n"


def many(code: str, severity: str, places: dict[str, int]) -> list[Diagnostic]:
    spans = [Span(path, Place(n, 1), Place(n, 2)) for path, count in places.items() for n in range(1, count + 1)]
    return [Diagnostic(code, severity, verbatim(f"Number {span.start.line}."), (Label(span),)) for span in spans]


def test_a_brief_list_says_many_notices_of_a_kind_in_one_line() -> None:
    notices = many("key-window", "notice", {"a.md": 1, "b.md": 41})
    assert as_text.render(notices, Files(), brief=True) == (
        "Note · key-window: Checked on a part, 42 times (shown one by one with -v)\n\n42 notices.\n"
    )
    assert as_text.render(notices[:2], Files(), brief=True) == as_text.render(notices[:2], Files())


def test_a_brief_list_shows_the_first_faults_of_a_kind_in_a_file_and_counts_the_others() -> None:
    faults = many("raw-html", "error", {"a.md": 16, "b.md": 2})
    said = as_text.render(faults, Files(), brief=True, root="content/")
    assert said.count("Wrong · raw-html") == as_text.MOST + 2
    assert "What   Number 4.\n       … and 12 more `raw-html` in content/a.md\n\nWrong" in said
    assert said.endswith("\n\n18 errors.\n")
    assert as_text.render(faults, Files()).count("Wrong · raw-html") == 18


def test_a_brief_list_never_leaves_out_a_kind_of_fault() -> None:
    faults = [*many("raw-html", "error", {"a.md": 30}), *many("link-refused", "warning", {"a.md": 1, "c.md": 1})]
    said = as_text.render(faults, Files(), brief=True)
    assert said.count("link-refused") == 2


def test_order_and_repeats() -> None:
    def at(path: str, line: int, severity: str = "error") -> Diagnostic:
        return Diagnostic("c", severity, say("H."), (Label(Span(path, Place(line, 1), Place(line, 2))),))

    mixed = [at("b", 1), at("a", 10), at("a", 2), at("a", 2), at("a", 2, "warning")]
    assert in_order(mixed) == (at("a", 2), at("a", 2, "warning"), at("a", 10), at("b", 1))


def test_json_is_one_document() -> None:
    text = "---\nquestion: é\nkey: |x|\n---\n"
    faults = read_problem("a/b.md", text.encode()).faults
    document = json.loads(as_json.render([diagnose(f) for f in faults], summary={"problems": 1}))
    assert document["summary"] == {"error": 1, "warning": 0, "notice": 0, "problems": 1}
    (one,) = document["diagnostics"]
    assert one["code"] == "value-needs-quotes"
    assert one["where"] == {"path": "a/b.md", "start": {"line": 3, "column": 6}, "end": {"line": 3, "column": 9}}
