"""Every kind of bad front matter: one clear fault each, at the right line and column."""

from __future__ import annotations

import pytest

from everyline.diagnostics import diagnose, told
from everyline.source.fields import nearest
from everyline.source.front import MAX_FILE
from everyline.source.reading import read_chapter, read_conventions, read_problem

TOP = "---\nquestion: \\int x \\, dx\n"
KEY = "key: \\frac{x^2}{2} + C\n"
TECHNIQUES = {"substitution", "division", "expansion"}


def front(*lines: str) -> bytes:
    return (TOP + KEY + "\n".join(lines) + "\n---\n").encode()


def key(value: str) -> bytes:
    return f"{TOP}key: {value}\n---\n".encode()


def body(text: str) -> bytes:
    return (TOP + KEY + "---\n" + text).encode()


# name, the file, and the faults: (code, line, column) each
BAD = [
    ("nothing at all", b"", [("front-matter-missing", 1, 1)]),
    ("no front matter", b"\\int x dx\n", [("front-matter-missing", 1, 1)]),
    ("front matter too late", b"\n" + front(), [("front-matter-missing", 2, 1)]),
    ("front matter never closed", (TOP + KEY).encode(), [("front-matter-unclosed", 1, 1)]),
    ("empty front matter", b"---\n---\n", [("field-missing", 1, 1), ("field-missing", 1, 1)]),
    ("no key", (TOP + "---\n").encode(), [("field-missing", 1, 1)]),
    ("no question", b"---\nkey: x + C\n---\n", [("field-missing", 1, 1)]),
    ("empty key", key(""), [("field-empty", 3, 1)]),
    ("a remark for a key", key("# later"), [("field-empty", 3, 1)]),
    ("an empty list of keys", key("[]"), [("field-empty", 3, 6)]),
    ("an empty item", key("\n  - x + C\n  -"), [("field-empty", 5, 4)]),
    ("UTF-16", front().decode().encode("utf-16"), [("encoding", 1, 1)]),
    ("Windows-1252", front("author: René").decode().encode("cp1252"), [("encoding", 4, 12)]),
    ("a zero byte", front("title: a\0b"), [("odd-character", 4, 9)]),
    ("a change of direction", front("title: a\u202eb"), [("odd-character", 4, 9)]),
    ("a line separator", front("title: a\u2028b"), [("odd-character", 4, 9)]),
    ("a huge file", front() + b"x" * MAX_FILE, [("too-large", 1, 1)]),
    ("huge front matter", front("title: " + "x" * 20_000), [("too-large", 1, 1)]),
    ("a misspelt field", front("levl: 2"), [("field-unknown", 4, 1)]),
    ("a field in capitals", front("Level: 2"), [("field-unknown", 4, 1)]),
    ("a field of another tool", front("tags: [a]"), [("field-unknown", 4, 1)]),
    ("a merge key", front("<<: x"), [("field-unknown", 4, 1)]),
    ("a field twice", front("level: 1", "level: 2"), [("field-twice", 5, 1)]),
    ("a key twice", front("key: x"), [("field-twice", 4, 1)]),
    ("no space after the colon", front("level:2"), [("front-matter-line", 4, 1)]),
    ("no colon", front("level 2"), [("front-matter-line", 4, 1)]),
    ("a stray list", b"---\n- x\n---\n", [("field-missing", 1, 1), ("field-missing", 1, 1), ("front-matter-line", 2, 1)]),
    ("a tab for spaces", front("hints:", "\t- Divide."), [("tab-indent", 5, 1)]),
    ("a tab before a field", front("\tlevel: 2"), [("tab-indent", 4, 1)]),
    ("a list for a title", front("title: [One, Two]"), [("value-needs-quotes", 4, 8)]),
    ("a written list for a title", front("title:", "  - One", "  - Two"), [("field-shape", 5, 3)]),
    ("a table for an author", front("author:", "  name: R. Quay"), [("field-shape", 5, 3)]),
    ("a word for a table", front("vary: a"), [("field-shape", 4, 7)]),
    ("a level in words", front("level: hard"), [("field-value", 4, 8)]),
    ("a level too high", front("level: 4"), [("field-value", 4, 8)]),
    ("a level as a float", front("level: 1e0"), [("field-value", 4, 8)]),
    ("no day of the calendar", front("release: 2027-02-30"), [("field-value", 4, 10)]),
    ("a day the other way round", front("release: 1.3.2027"), [("field-value", 4, 10)]),
    ("a misspelt method", front("methods: [divison]"), [("method-unknown", 4, 11)]),
    ("two unknown methods", front("methods: [magic, division, luck]"), [("method-unknown", 4, 11), ("method-unknown", 4, 28)]),
    ("an unknown need", front("needs: telepathy"), [("method-unknown", 4, 8)]),
    ("vouched without a reason", front("vouched: {name: R. Quay}"), [("field-missing", 4, 10)]),
    ("vouched with more", front("vouched: {name: R. Quay, reason: by hand, when: now}"), [("field-unknown", 4, 43)]),
    ("a bar", key("|x| + C"), [("value-needs-quotes", 3, 6)]),
    ("a bar alone", key("|x|"), [("value-needs-quotes", 3, 6)]),
    ("an inequality from its sign", front("domain: > 3"), [("value-needs-quotes", 4, 9)]),
    ("an inequality without a space", front("domain: >3"), [("value-needs-quotes", 4, 9)]),
    ("a remark that is none", key("x #2"), [("value-needs-quotes", 3, 6)]),
    ("braces", key("{1,2}"), [("value-needs-quotes", 3, 6)]),
    ("brackets and more", key("[x + 1] + C"), [("value-needs-quotes", 3, 6)]),
    ("a half-open interval", front("domain: [0, 1)"), [("value-needs-quotes", 4, 9)]),
    ("a star", key("*x"), [("value-needs-quotes", 3, 6)]),
    ("an anchor", key("&x y"), [("value-needs-quotes", 3, 6)]),
    ("a type", key("!!python/object:os.system x"), [("value-needs-quotes", 3, 6)]),
    ("a percent sign", key("%x"), [("value-needs-quotes", 3, 6)]),
    ("an at sign", key("@x"), [("value-needs-quotes", 3, 6)]),
    ("a backtick", key("`x`"), [("value-needs-quotes", 3, 6)]),
    ("a dash and a space", key("- x"), [("value-needs-quotes", 3, 6)]),
    ("a question mark", key("? x"), [("value-needs-quotes", 3, 6)]),
    ("a colon in a title", front("title: Halves: a start"), [("value-needs-quotes", 4, 8)]),
    ("TeX between double quotes", key('"\\sin x"'), [("value-needs-quotes", 3, 6)]),
    ("TeX that YAML takes for a tab", key('"\\tan x"'), [("value-needs-quotes", 3, 6)]),
    ("more after a quote", key("'x' + C"), [("value-needs-quotes", 3, 6)]),
    ("a quote never closed", key("'x + C"), [("value-needs-quotes", 3, 6)]),
    ("a bar in a list", key("[x, |y|]"), [("value-needs-quotes", 3, 6)]),
    ("braces in a list", key("[\\frac{1}{2}, x]"), [("value-needs-quotes", 3, 6)]),
    ("two traps in a list", key("\n  - a: b\n  - |x|"), [("value-needs-quotes", 4, 5), ("value-needs-quotes", 5, 5)]),
    ("a list that is never closed", key("[x, y"), [("value-needs-quotes", 3, 6)]),
    ("lists in lists", key("[" * 40 + "]" * 40), [("value-needs-quotes", 3, 6)]),
    ("a table with a name", front("vary: &v {a: 2..9}"), [("value-needs-quotes", 4, 7)]),
    ("a list with a type", front("hints: !!set [x]"), [("value-needs-quotes", 4, 8)]),
    ("lines not indented alike", front("hints:", "  - x", " - y"), [("front-matter-unreadable", 6, 2)]),
    ("a bomb of references", front("hints: &a [x]", "needs: *a"), [("value-needs-quotes", 4, 8), ("value-needs-quotes", 5, 8)]),
    ("HTML in a title", front("title: <b>Halves</b>"), [("raw-html", 4, 8)]),
    ("a script in a title", front("title: x <script>alert(1)</script>"), [("raw-html", 4, 10)]),
    ("an image in a hint", front("hints: ['<img src=x onerror=y>']"), [("raw-html", 4, 10)]),
    ("a script for a film", front("video: 'javascript:alert(1)'"), [("link-refused", 4, 9)]),
    ("a file for a film", front("video: ../film.mp4"), [("link-refused", 4, 8)]),
    ("HTML in the prose", body("Look: <iframe src=x></iframe>\n"), [("raw-html", 5, 7), ("raw-html", 5, 21)]),
    ("a link to a script", body("[x](javascript:alert)\n"), [("link-refused", 5, 5)]),
    ("a link out of the book", body("[x](../../etc/passwd)\n"), [("link-refused", 5, 5)]),
    ("a link out, in disguise", body("[x](%2e%2e/%2e%2e/y)\n"), [("link-refused", 5, 5)]),
    ("a block without an end", body("```lines\n= x\n"), [("lines-unclosed", 5, 1)]),
    ("a block without lines", body("```lines\n\n```\n"), [("lines-empty", 5, 4)]),
    ("an endless line of a block", body("```lines\n" + "a=b=" * 10_000 + "\n```\n"), [("too-large", 6, 1)]),
    ("an endless line of prose", body("x" * 9_000), [("too-large", 5, 1)]),
    ("a misspelt block", body("```Line\n= x\n```\n"), [("lines-misspelt", 5, 4)]),
    ("let without a formula", body("```lines\nlet u ; inside\n```\n"), [("lines-malformed", 6, 1)]),
    ("nothing after =", body("```lines\n  x = ; why\n```\n"), [("lines-malformed", 6, 3)]),
]


@pytest.mark.parametrize(("data", "wanted"), [case[1:] for case in BAD], ids=[case[0] for case in BAD])
def test_a_bad_file_gets_one_clear_fault_at_its_place(data: bytes, wanted: list[tuple[str, int, int]]) -> None:
    faults = read_problem("halves/one.md", data, TECHNIQUES).faults
    assert [(f.code, f.span.start.line, f.span.start.column) for f in faults] == wanted
    for fault in faults:
        said = diagnose(fault)
        assert said.code == fault.code
        assert told(said.headline).endswith((".", "`.")), "a whole sentence"
        assert said.help, "and how to mend it"


def test_the_list_is_long_enough() -> None:
    assert len(BAD) >= 60


def test_all_faults_of_a_file_are_found_at_once() -> None:
    data = front("levl: 2", "title: a: b", "methods: [magic]", "level:3", "hints:", "\t- x", "video: here")
    codes = [f.code for f in read_problem("a/b.md", data, TECHNIQUES).faults]
    wanted = ["field-unknown", "value-needs-quotes", "method-unknown", "front-matter-line", "tab-indent", "link-refused"]
    assert codes == wanted


@pytest.mark.parametrize(
    ("line", "meant"),
    [
        ("levl: 2", "level"),
        ("Level: 2", "level"),
        ("answer: x", "key"),
        ("on: x > 0", "domain"),
        ("licence: own", "license"),
        ("zzz: 1", ""),
    ],
)
def test_the_nearest_field_is_named(line: str, meant: str) -> None:
    (fault,) = read_problem("a/b.md", front(line)).faults
    assert fault.nearest == meant


def test_the_nearest_name_is_found_beside_its_hyphens() -> None:
    known = ("splitting", "split-interval", "table", "limit-value")
    assert [nearest(name, known) for name in ("split-int", "split_interval", "t-value")] == [
        "split-interval",
        "split-interval",
        "limit-value",
    ]


@pytest.mark.parametrize(
    ("typed", "mend"),
    [
        ("|x| + C", "'|x| + C'"),
        ('"\\sin x"', "'\\sin x'"),
        ("x #2", "'x #2'"),
        ("{1,2}", "'{1,2}'"),
        ("f': x", "'f'': x'"),
    ],
)
def test_the_mend_that_is_offered_for_a_trap_works(typed: str, mend: str) -> None:
    (fault,) = read_problem("a/b.md", key(typed)).faults
    assert f"Put it in single quotes: {mend}" in told(diagnose(fault).help)
    mended = read_problem("a/b.md", key(mend))
    assert mended.faults == ()
    assert mended.problem is not None


@pytest.mark.parametrize(
    ("data", "wanted"),
    [
        (b"---\ntitle: Halves\norder: 2\nintroduces: [divisoin]\n---\n", [("method-unknown", 4)]),
        (b"---\ntitle: Halves\norder: first\n---\n", [("field-value", 3)]),
        (b"---\norder: 1\nteaches: [division]\n---\n", [("field-missing", 1), ("field-unknown", 3)]),
    ],
)
def test_a_bad_chapter(data: bytes, wanted: list[tuple[str, int]]) -> None:
    assert [(f.code, f.span.start.line) for f in read_chapter("halves/index.md", data, TECHNIQUES).faults] == wanted


@pytest.mark.parametrize(
    ("data", "wanted"),
    [
        (b"log: ten\n", [("field-value", 1)]),
        (b"title: A\ncoma: x\n", [("field-unknown", 2)]),
        (b"decimal: ','\nconstant: warn\n", [("field-value", 1), ("field-value", 2)]),
    ],
)
def test_a_bad_book_file(data: bytes, wanted: list[tuple[str, int]]) -> None:
    assert [(f.code, f.span.start.line) for f in read_conventions("book.yml", data).faults] == wanted
