"""A problem file that is written reads as what was said, or is not written at all."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from everyline.source.reading import read_problem
from everyline.source.writing import Unwritable, file_name, write_problem

WORDS = st.text(max_size=30) | st.sampled_from(
    ["no", "1e3", "yes: no", "- a", "# x", "a # b", "'", '"', "'quoted'", "|x| + C", "[1, 2]", "{a: b}", "*x", "&x", "!x", "%x", "@x",
     "`x`",
     "a\nkey: 7", "---", "...", "\\frac12", "x: ", "~", "null", "0x1F", "2027-03-01",
     "<b>", "a\x00b", "\u202e", "=", "? x", ",", "\ufeff"]
)  # fmt: skip


@given(WORDS, WORDS, st.lists(WORDS, min_size=1, max_size=3))
def test_what_is_written_is_read_back(question: str, title: str, keys: list[str]) -> None:
    try:
        data, problem = write_problem("a/b.md", [("question", question), ("key", keys), ("title", title)])
    except Unwritable:
        return
    again = read_problem("a/b.md", data)
    assert again.faults == ()
    assert again.problem == problem
    assert problem.question.value.split() == "".join(c if c.isprintable() else " " for c in question).split() or not question.isprintable()
    assert len(problem.keys) == len(keys)
    assert data.count(b"\n---\n") == 1


def test_plain_values_stay_plain_and_others_get_quotes() -> None:
    fields = [
        ("question", r"\int \frac{1}{x} \, dx"),
        ("key", r"-\ln|x| + C"),
        ("title", "No: this # is"),
        ("level", "2"),
        ("hints", ["it's", "a"]),
    ]
    data, _ = write_problem("a/b.md", fields)
    assert data.decode() == (
        "---\nquestion: \\int \\frac{1}{x} \\, dx\nkey: '-\\ln|x| + C'\ntitle: 'No: this # is'\nlevel: 2\nhints:\n  - it's\n  - a\n---\n"
    )


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("A cube", "a-cube"), ("../../etc/passwd", "etc-passwd"), ("", "problem"), ("∫", "problem"), ("CON", "problem-con"),
        ("index", "problem-index"),
        ("Élan vital", "elan-vital"), ("a" * 99, "a" * 60), (".hidden", "hidden"), ("a\x00b\\c:d", "a-b-c-d"),
    ],
)  # fmt: skip
def test_a_file_gets_a_name_that_every_system_takes(words: str, name: str) -> None:
    assert file_name(words) == name
