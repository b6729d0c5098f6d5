"""What a good file says, and where each character of it stands."""

from __future__ import annotations

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from everyline.source.blocks import read_lines
from everyline.source.reading import read_chapter, read_conventions, read_problem
from everyline.source.span import Lines, Text

FULL = r"""---
question: \int \frac{x}{x+3} \, dx   # in the notation below
key: x - 3\ln|x+3| + C               # the answer key
title: "A fraction that \"divides\""
level: 2
methods: [division, substitution]
domain: x > -3
given: a > 0, n a positive integer
hints:
  - Divide first.
  - 'It''s a linear inside.'
u: x + 3
needs: expansion
vary: {a: 2..9, where: a > 1}
vouched:
  name: R. Quay
  reason: worked by hand
release: 2027-03-01
author: R. Quay
video: https://example.org/film?x=1
times: ["0:12", "1:05"]
---

Some *prose* with $a<b$ and a [link](https://example.org).

```lines
\int \frac{x}{x+3} \, dx = \int \left(1 - \frac{3}{x+3}\right) dx ; divide
let u = x + 3, du = dx
= x - 3\ln|x+3| + C ; each term\; apart
```

More prose.
"""


def test_a_full_file() -> None:
    read = read_problem("algebra/fraction.md", FULL.encode(), {"division", "substitution", "expansion"})
    assert read.faults == ()
    problem = read.problem
    assert problem is not None
    assert (problem.chapter, problem.slug, problem.level) == ("algebra", "fraction", 2)
    assert problem.question.value == r"\int \frac{x}{x+3} \, dx"
    assert [k.value for k in problem.keys] == [r"x - 3\ln|x+3| + C"]
    assert problem.title is not None
    assert problem.title.value == 'A fraction that "divides"'
    assert [m.value for m in problem.methods] == ["division", "substitution"]
    assert [h.value for h in problem.hints] == ["Divide first.", "It's a linear inside."]
    assert [n.value for n in problem.needs] == ["expansion"]
    assert [t.value for t in problem.times] == ["0:12", "1:05"]
    assert problem.vary is not None
    assert [(letter.name, letter.values) for letter in problem.vary.letters] == [("a", tuple(range(2, 10)))]
    assert problem.vary.where is not None
    assert problem.vary.where.value == "a > 1"
    assert problem.vouched is not None
    assert [t.value for t in problem.vouched] == ["R. Quay", "worked by hand"]
    assert problem.prose == "Some *prose* with $a<b$ and a [link](https://example.org).\n\n\nMore prose."
    (block,) = problem.blocks
    assert [(h.kind, h.left.value if h.left else "", h.formula.value, h.reason) for h in block.lines] == [
        ("formula", "", r"\int \frac{x}{x+3} \, dx", ""),
        ("continued", "", r"\int \left(1 - \frac{3}{x+3}\right) dx", "divide"),
        ("let", "u", "x + 3", ""),
        ("differential", "du", "dx", ""),
        ("continued", "", r"x - 3\ln|x+3| + C", r"each term\; apart"),
    ]
    assert (block.span.start.line, block.span.end.line) == (26, 30)


@pytest.mark.parametrize(
    "typed", ["no", "yes", "on", "1:30", "010", "1e3", "null", "~", "2027-01-01", "0x1f", "-3", ".5", "1_000", "=", "x: "[:1]]
)
def test_values_stay_what_was_typed(typed: str) -> None:
    read = read_problem("a/b.md", f"---\nquestion: {typed}\nkey: [{typed}, {typed}]\ntitle: {typed}\n---\n".encode())
    assert read.problem is not None
    assert {t.value for t in (read.problem.question, *read.problem.keys, read.problem.title) if t} == {typed}
    assert read.faults == ()


@pytest.mark.parametrize("newline", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_line_ends_and_byte_order_mark_move_nothing(newline: str, mark: bytes) -> None:
    read = read_problem("a/b.md", mark + "---\nquestion: ∫ x dx\nkey: x²/2\n---\n\n```lines\n= x\n```\n".replace("\n", newline).encode())
    assert read.problem is not None
    key = read.problem.keys[0]
    assert (key.span.start.line, key.span.start.column, key.span.end.column) == (3, 6, 10)
    assert read.problem.blocks[0].lines[0].formula.span.start.line == 7


WAYS = {
    "plain": ("key: {}", lambda s: s),
    "plain, with a remark": ("key: {}   # why", lambda s: s),
    "single quotes": ("key: '{}'", lambda s: s.replace("'", "''")),
    "double quotes": ('key: "{}"', lambda s: s.replace("\\", "\\\\").replace('"', '\\"')),
    "a list": ("key: [ '{}' ]", lambda s: s.replace("'", "''")),
    "a list below": ("key:\n    - '{}'", lambda s: s.replace("'", "''")),
    "literal": ("key: |\n    {}", lambda s: s),
    "folded": ("key: >-\n  {}", lambda s: s),
    "over two lines": ("key:\n  {}", lambda s: s.replace(" + ", "\n    + ")),
    "quoted, over two lines": ("key: '{}'", lambda s: s.replace("'", "''").replace(" + ", "\n    + ")),
}
PLAIN = st.text(alphabet="xyé∫π😀漢12()+-^/\\_", min_size=1, max_size=12)
QUOTED = st.text(alphabet="xyé∫😀12'\"\\ {}[]|:#", min_size=1, max_size=12).map(lambda s: f"x{s}x")


def _places_agree(way: str, value: str) -> None:
    template, dress = WAYS[way]
    text = "---\nquestion: x\n" + template.replace("{}", dress(value), 1) + "\n---\n"
    read = read_problem("a/b.md", text.encode())
    assert read.problem is not None, (text, read.faults)
    (key,) = read.problem.keys
    assert key.value == value
    lines = text.split("\n")
    for offset, char in enumerate(value):
        place = key.at(offset)
        typed = lines[place.line - 1][place.column - 1 : place.column] or " "
        assert typed == char or (char in '"\\' and typed == "\\"), (text, offset, place)
        assert key.part(offset, offset + 1).start == place
        assert key.cut(offset).at(0) == place
    places = [key.at(k) for k in range(len(value) + 1)]
    assert places == sorted(set(places)), "each character has a place of its own, in order"


@pytest.mark.parametrize("way", list(WAYS))
@settings(max_examples=40, deadline=None)
@given(parts=st.lists(PLAIN, min_size=1, max_size=3))
def test_every_character_of_a_formula_knows_its_place(way: str, parts: list[str]) -> None:
    _places_agree(way, "x" + " + ".join(parts))


@pytest.mark.parametrize("way", ["single quotes", "double quotes", "a list", "a list below"])
@settings(max_examples=60, deadline=None)
@given(value=QUOTED)
def test_every_character_between_quotes_knows_its_place(way: str, value: str) -> None:
    _places_agree(way, value)


@given(text=st.text(alphabet="ab \n\r😀é", max_size=30), data=st.data())
def test_offset_to_place_and_back(text: str, data: st.DataObject) -> None:
    lines = Lines("a", text)
    offset = data.draw(st.integers(0, len(text)))
    place = lines.place(offset)
    assert lines.bounds(place.line)[0] + place.column - 1 == offset


@settings(max_examples=300, deadline=None)
@given(st.binary(max_size=300))
def test_no_bytes_make_a_reader_raise(data: bytes) -> None:
    for made in (data, b"---\n" + data + b"\n---\n" + data):
        assert read_problem("a/b.md", made).faults
        read_chapter("a/index.md", made)
        read_conventions("book.yml", made)


FIELDS = ("---\n", "question: ", "key: ", "hints:\n", "title: ", "vouched: ", "vary: ", "level: ", "  - ", "- ", "? ")
MARKS = ("'", '"', "\\", "[", "]", "{", "}", "&a ", "*a", "!t ", ": ", " #", "# ", "\t", "x", "|x|", "|\n", ">\n", ",", "\x00", "é😀")
BODY = ("\n", "\r", "\r\n", "```lines\n", "```\n", "let u", " = ", ";", "du", "<b>", "](../..)")
SNIPPETS = st.lists(st.sampled_from((*FIELDS, *MARKS, *BODY)), max_size=25).map("".join)


@settings(max_examples=400, deadline=None)
@given(SNIPPETS)
def test_no_front_matter_makes_a_reader_raise_and_every_place_is_in_the_file(text: str) -> None:
    for whole in (text, f"---\nquestion: x\nkey: x\n{text}\n---\n{text}"):
        lines = Lines("a/b.md", whole)
        for fault in read_problem("a/b.md", whole.encode()).faults:
            start, end = fault.span.start, fault.span.end
            assert start <= end
            for place in (start, end):
                assert 1 <= place.line <= len(lines)
                low, high = lines.bounds(place.line)
                assert 1 <= place.column <= high - low + 2


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("= x + C", [("continued", "", "x + C")]),
        ("x = 2\\tan\\theta", [("let", "x", "2\\tan\\theta")]),
        ("I = \\int e^x \\sin x\\,dx", [("let", "I", "\\int e^x \\sin x\\,dx")]),
        ("let u = x^2", [("let", "u", "x^2")]),
        ("Let \\theta = \\arctan x", [("let", "\\theta", "\\arctan x")]),
        ("du = 2x\\,dx", [("differential", "du", "2x\\,dx")]),
        ("\\mathrm{d}u = 2x\\,dx", [("differential", "\\mathrm{d}u", "2x\\,dx")]),
        ("x\\,dx = \\frac12 du", [("differential", "x\\,dx", "\\frac12 du")]),
        ("u = \\ln x, dv = dx", [("let", "u", "\\ln x"), ("differential", "dv", "dx")]),
        ("u = x \\quad v = \\sin x", [("let", "u", "x"), ("let", "v", "\\sin x")]),
        ("u = x and dv = e^x dx", [("let", "u", "x"), ("differential", "dv", "e^x dx")]),
        ("2I = e^x", [("formula", "", "2I"), ("continued", "", "e^x")]),
        ("\\int x dx = \\frac{x^2}{2} + C", [("formula", "", "\\int x dx"), ("continued", "", "\\frac{x^2}{2} + C")]),
        ("a = b = c", [("let", "a", "b"), ("continued", "", "c")]),
        ("\\sum_{n=0} x", [("formula", "", "\\sum_{n=0} x")]),
        ("x <= 3", [("formula", "", "x <= 3")]),
        ("; only words", [("note", "", "")]),
    ],
)
def test_lines_of_a_hand_written_solution(line: str, wanted: list[tuple[str, str, str]]) -> None:
    made, faults = read_lines((Lines("a/b.md", line).piece(0, len(line)),))
    assert faults == ()
    assert [(h.kind, h.left.value if h.left else "", h.formula.value) for h in made] == wanted
    for hand in made:
        for text in (hand.formula, hand.left):
            if text is not None and text.value:
                column = text.span.start.column - 1
                assert line[column : column + len(text.value)] == text.value


def test_the_interval_of_a_domain_is_no_list() -> None:
    read = read_problem("a/b.md", b"---\nquestion: x\nkey: x\ndomain: [0, 1]\n---\n")
    assert read.problem is not None
    assert read.problem.domain is not None
    assert read.problem.domain.value == "[0, 1]"


def test_a_chapter_and_a_book() -> None:
    chapter = read_chapter("a/b/index.md", b"---\ntitle: Halves\norder: 3\nintroduces:\n- division\n---\nHello\n", {"division"})
    assert chapter.faults == ()
    assert chapter.chapter is not None
    assert (chapter.chapter.folder, chapter.chapter.order, [t.value for t in chapter.chapter.introduces]) == ("a/b", 3, ["division"])
    book = read_conventions("book.yml", b"# ours\ntitle: Tides\nlog: 10\nconstant: error\n")
    assert book.faults == ()
    assert (book.conventions.title, book.conventions.log, book.conventions.constant) == ("Tides", "10", "error")


def test_a_cut_of_a_cut() -> None:
    text = Text("a'b c", Lines("p", "'a''b c'").span(1, 7), ((0, Lines("p", "x").place(1)),)).cut(1).cut(1, 3)
    assert text.value == "b "


LONG = ("a=b=" * 15_000, "(a=b=" * 12_000, " " * 60_000 + "= 1", "`" * 30_000 + "x" + "`" * 29_000, "<a " * 20_000, ", u = x" * 8_000)


@pytest.mark.parametrize("line", LONG, ids=range(len(LONG)))
@pytest.mark.parametrize("fence", ["```lines\n", ""])
def test_long_lines_take_no_long_time(line: str, fence: str) -> None:
    start = time.process_time()
    read_problem("a/b.md", f"---\nquestion: x\nkey: x\n---\n{fence}{line}\n".encode())
    assert time.process_time() - start < 2
