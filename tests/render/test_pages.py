"""Pages made from a book: what is on them, and that the same book makes the same page to the letter.

A picture of each page is kept in `pages/`; `EVERYLINE_KEEP=1 pytest tests/render` draws them anew after a change that was meant.
"""

from __future__ import annotations

import os
import re
from dataclasses import replace
from pathlib import Path
from textwrap import dedent
from urllib.parse import urljoin

import pytest
from made import page

from everyline.book import Book, build
from everyline.derive.route import Line, Reconciliation
from everyline.diagnostics import codes
from everyline.kernel import Checked, Equal, Setting, check
from everyline.notation import Context, parse
from everyline.notation.message import say
from everyline.notation.tree import Inequality, Name, Node
from everyline.render.addresses import Addresses, Here
from everyline.render.explained import checker_lines
from everyline.render.formula_sheet import FILE
from everyline.render.site import Site, site
from everyline.render.solutions import Named, Unchecked, line_list, reconciled, worked
from everyline.source.load import Sources

KEPT = Path(__file__).parent / "pages"
HERE = Here("tides/ferry.md", Addresses())

FILES = {
    "tides/index.md": "---\ntitle: Tides & locks\norder: 1\n---\n",
    "tides/ferry.md": """\
        ---
        question: \\int \\frac{x^2}{x+4} \\, dx
        key: \\frac{x^2}{2} - 4x + 16\\ln|x+4| + C
        title: A ferry that divides
        level: 2
        methods: [division]
        hints: ["Divide first: $x^2 = (x+4)(x-4) + 16$."]
        author: R. Okafor
        source: https://example.org/ferry
        license: CC BY 4.0
        ---

        See [the lock](lock.md).
        """,
    "tides/given.md": """\
        ---
        question: \\int \\cos ax \\, dx
        key: \\frac{\\sin ax}{a} + C
        given: a > 0
        domain: 0 < x < 3
        ---
        """,
    "tides/lock.md": """\
        ---
        question: \\int \\frac{e^x}{(e^x+5)^3} \\, dx
        key: "-\\\\frac{1}{2(e^x+5)^2} + C"
        level: 3
        ---
        """,
    "tides/wrong.md": """\
        ---
        question: \\int (2x+7)^5 \\, dx
        key: \\frac{(2x+7)^6}{6} + C
        ---
        """,
    "tides/unread.md": "---\nquestion: \\int x \\, dx\n---\n",
}


def sources(files: dict[str, str]) -> Sources:
    data = {path: dedent(text).encode() for path, text in files.items()}
    chapters = {path: text for path, text in data.items() if path.endswith("index.md")}
    return Sources({path: text for path, text in data.items() if path not in chapters}, chapters, b"title: Tides and timetables\n")


@pytest.fixture(scope="module")
def read() -> Sources:
    return sources(FILES)


@pytest.fixture(scope="module")
def book(read: Sources) -> Book:
    return build(read)


@pytest.fixture(scope="module")
def made(book: Book, read: Sources) -> Site:
    return site(book, read)


def drawn(html: str) -> str:
    """A page with each element of some size on a line of its own, so that a change can be read; the numbers of the answer box left out."""
    html = re.sub(r" data-(trial|say)='[^']*'", r' data-\1="…"', html)
    return re.sub(r"(?=<(?:/?(?:div|ol|ul|nav|section|details)|li|p|h\d|summary|math|tr)\b)", "\n", html).strip() + "\n"


@pytest.mark.parametrize(
    "path", ["index.md", "tides/index.md", "tides/ferry.md", "tides/given.md", "topics/index.md", "topics/division.md"]
)
def test_a_page_is_drawn_as_before(made: Site, path: str) -> None:
    kept = KEPT / f"{path.removesuffix('.md').replace('/', '-')}.html"
    seen = drawn(page(made, path).body)
    if os.environ.get("EVERYLINE_KEEP"):
        kept.parent.mkdir(exist_ok=True)
        kept.write_text(seen, "utf-8")
    assert seen == kept.read_text("utf-8")


def test_every_file_has_its_page_and_nothing_is_made_twice(made: Site) -> None:
    paths = [page.path for page in made.pages]
    assert len(paths) == len(set(paths))
    assert set(FILES) <= set(paths)
    last = ["topics/index.md", "formulas.md", "progress/index.md", "checked.md", "errata.md"]
    assert [path for _, path in made.navigation] == ["index.md", "tides/index.md", *last]


def test_ids_are_unique_on_every_page(made: Site) -> None:
    for each in made.pages:
        ids = re.findall(r'\sid="([^"]*)"', each.body)
        assert len(ids) == len(set(ids)), each.path


def test_two_solutions_by_one_method_share_no_id_with_each_others_lines(book: Book) -> None:
    derivation = next(e for e in book.examined if e.problem.slug == "lock").derivation
    assert derivation is not None
    route = derivation.routes[0]
    first, second = worked((route, route), HERE)
    ids = re.findall(r'\sid="([^"]*)"', first + second)
    assert len(ids) > 6
    assert len(ids) == len(set(ids))
    assert ", way 2" in second


@pytest.mark.parametrize("folders", [True, False])
def test_every_link_leads_to_a_page(book: Book, read: Sources, folders: bool) -> None:
    addresses = Addresses(folders)
    built = site(book, read, folders=folders)
    pages = built.pages
    known = {addresses.of(page.path).removesuffix("/") for page in pages} | {FILE}
    known |= {f"{each.file}{end}.pdf" for each in built.worksheets for end in ("", "-key")}
    for each in pages:
        base = "http://host/" + addresses.of(each.path)
        for target in re.findall(r'<a href="([^"#]*)', each.body):
            if not target.startswith("https://example.org"):
                assert urljoin(base, target).removeprefix("http://host/").removesuffix("/") in known, (each.path, target)


def test_a_wrong_key_shows_its_fault_and_neither_answer_nor_solutions(made: Site) -> None:
    body = page(made, "tides/wrong.md").body
    assert "tides/wrong.md:3:6" in body
    assert "ev-fault" in body
    assert "ev-question" in body
    assert "ev-answer" not in body
    assert "ev-solution" not in body
    assert "proved" not in body


def test_a_file_that_cannot_be_read_has_a_page_that_says_so(made: Site) -> None:
    unread = page(made, "tides/unread.md")
    assert "ev-fault" in unread.body
    assert unread.lean


def test_what_is_assumed_is_said_plainly(made: Site) -> None:
    text = re.sub(r"<annotation.*?</annotation>|<[^>]+>", "", page(made, "tides/given.md").body)
    assert "for 0&lt;x&lt;3, where a&gt;0" in text


def test_the_search_gets_words(made: Site) -> None:
    ferry = page(made, "tides/ferry.md")
    assert ferry.title == "A ferry that divides"
    assert ferry.words == "Integral of x squared over x plus 4"
    assert ferry.tags == ("Polynomial division",)
    assert all(len(each.words) <= 160 for each in made.pages)


def test_the_page_about_checking_counts_the_checker(made: Site) -> None:
    """The figures on the page are the numbers of lines of the trusted rooms' files as they are now."""
    import everyline

    home = Path(everyline.__file__).parent
    counted = {
        room: sum(len(file.read_text("utf-8").splitlines()) for file in (home / room).glob("*.py")) for room in ("arithmetic", "kernel")
    }
    assert checker_lines() == counted
    for figure in (sum(counted.values()), *counted.values()):
        assert f"{figure:,} lines" in " ".join(page(made, "checked.md").body.split())


def tree(text: str) -> Node:
    return parse(text, Context(names=frozenset("xu")))


def equal(left: str, right: str) -> Checked:
    verdict = check(Equal(tree(left), tree(right), Setting("x")))
    assert isinstance(verdict, Checked)
    return verdict


def test_a_line_that_nothing_vouches_for_is_never_set() -> None:
    with pytest.raises(Unchecked):
        line_list((Line("equal", tree("x+1"), say("Trust me."), None),), tree("x"), Named("a", "A"), HERE)


def test_a_line_that_is_only_enclosed_says_so(book: Book) -> None:
    proved = equal("x+x", "2x")
    near = object.__new__(Checked)
    for name in Checked.__slots__:
        object.__setattr__(near, name, getattr(proved, name))
    object.__setattr__(near, "grade", "enclosed")
    object.__setattr__(near, "digits", 60)
    object.__setattr__(near, "points", 24)
    made = line_list((Line("equal", tree("2x"), say("Add."), near),), tree("x+x"), Named("a", "A"), HERE)
    assert "agrees to 60 digits at 24 points" in made
    assert "#agrees" in made
    plain = line_list((Line("equal", tree("2x"), say("Add."), proved),), tree("x+x"), Named("a", "A"), HERE)
    assert "ev-badge" not in plain


@pytest.mark.parametrize(
    ("left", "right", "tex"),
    [
        ("u", "2x", r"du = 2x \, dx"), ("u", "1", "du = dx"), ("u", "-\\frac{1}{2}", r"du = -\frac{1}{2} \, dx"),
        ("u", "2x + 3", r"du = (2x + 3) \, dx"), ("u", "-2x", r"du = -2x \, dx"),
    ],
)  # fmt: skip
def test_differentials_are_written_as_on_a_board(left: str, right: str, tex: str) -> None:
    lines = (
        Line("let", tree("x+3"), say(""), None, Name(left)),
        Line("differential", tree(right), say(""), None, Name(left), variable="x"),
    )
    made = line_list(lines, None, Named("a", "A"), HERE)
    assert f'data-tex="{tex}"' in made


@pytest.mark.parametrize(
    ("constant", "said"), [("0", "the same function, written in two ways"), ("\\frac{1}{2}", "differ by the constant")]
)
def test_two_answers_are_reconciled_in_words(constant: str, said: str) -> None:
    line = Line("equal", tree("x^2+2x+1"), say("Multiply out."), equal("(x+1)^2", "x^2+2x+1"))
    pair = Reconciliation(tree("(x+1)^2"), tree("x^2+2x"), (line,), ((None, tree(constant)),), equal("x", "x"))
    made = reconciled(pair, 1, True, HERE)
    assert said in made
    assert 'id="different-1"' in made
    assert "ev-line--start" in made


def test_two_constants_are_each_said_with_their_interval() -> None:
    line = Line("equal", tree("x^2+2x+1"), say("Multiply out."), equal("(x+1)^2", "x^2+2x+1"), tree("(x+1)^2"))
    apart = tuple((Inequality(Name("x"), sign, tree("0")), tree(value)) for sign, value in (("<", "-1"), (">", "1")))
    made = reconciled(Reconciliation(tree("(x+1)^2"), tree("x^2+2x"), (line,), apart, equal("x", "x")), 1, False, HERE)
    assert made.count("They differ by the constant") == 2
    assert 'data-tex="x &lt; 0"' in made or 'data-tex="x < 0"' in made
    assert "Two methods" not in made  # one of them is the key


def test_a_line_that_says_both_sides_needs_no_line_above_it() -> None:
    line = Line("equal", tree("x^2+2x+1"), say("Multiply out."), equal("(x+1)^2", "x^2+2x+1"), tree("(x+1)^2"))
    pair = Reconciliation(tree("(x+1)^2"), tree("x^2+2x+1"), (line,), (), equal("x", "x"))
    assert "ev-line--start" not in reconciled(pair, 1, True, HERE)


def test_words_in_a_reason_are_escaped_and_formulas_set() -> None:
    line = Line("equal", tree("2x"), say("{what} by {x} & 'so' on", what="<b>Add</b>", x=Name("x")), equal("x+x", "2x"))
    made = line_list((line,), None, Named("a", "A"), HERE)
    assert "&lt;b&gt;Add&lt;/b&gt; by <math" in made
    assert "&amp; ’so’ on" in made


def test_the_page_on_what_was_checked_is_under_400_words(made: Site) -> None:
    said = re.sub(r"<[^>]+>", " ", page(made, "checked.md").body)
    assert 200 < len(re.findall(r"[A-Za-z’-]+", said)) < 400


def test_a_book_without_problems_has_pages_all_the_same(book: Book, read: Sources) -> None:
    empty = site(replace(book, chapters=(), examined=(), diagnostics=()), read)
    assert [each.kind for each in empty.pages if each.kind != "manual"] == ["home", "topics", "formulas", "explained", "errata", "progress"]


def test_every_code_of_a_fault_has_a_page_that_no_search_finds(made: Site) -> None:
    manual = {each.path: each for each in made.pages if each.kind == "manual"}
    assert set(manual) == {"manual/index.md", *(f"manual/{code}.md" for code in codes())}
    assert all("data-search-exclude" in each.body and each.lean for each in manual.values())
    assert not any("manual" in path for _, path in made.navigation)
    assert "key: 2x^3 + C" in manual["manual/key-wrong.md"].body
