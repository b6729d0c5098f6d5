"""Contrast pages: the prompt first, the answer folded, one solution after the other in the page's own order; nothing before its day."""

from __future__ import annotations

import datetime
import re
from dataclasses import replace

import pytest
from made import page

from everyline.book import Book, build
from everyline.book.release import published
from everyline.render.site import Site, site
from everyline.source.load import Sources

FILES = {
    "tides/one.md": b"---\nquestion: \\int \\frac{x}{x^2 + 49} \\, dx\nkey: \\frac12\\ln(x^2 + 49) + C\ntitle: A secret one\n---\n",
    "tides/two.md": b"---\nquestion: \\int \\frac{1}{x^2 + 49} \\, dx\nkey: \\frac17\\arctan\\frac{x}{7} + C\n---\n",
    "tides/both.md": b"---\nquestion: \\int 6x(x^2 + 2)^2 \\, dx\nkey: (x^2 + 2)^3 + C\n---\n",
    "tides/root.md": b"---\nquestion: \\int x\\sqrt{x + 6} \\, dx\nkey: \\frac25(x+6)^{5/2} - 4(x+6)^{3/2} + C\n---\n",
}
CONTRASTS = {
    "contrasts/above.md": b"---\ntitle: What is above\npoint: Look *above* $x$.\nprompt: Which one?\n"
    b"problems: [tides/one, tides/two]\n---\n\nSome prose.\n",
    "contrasts/ways.md": b"---\ntitle: Two ways\npoint: The same.\nproblems: [tides/both]\nmethods: [substitution, expansion]\n---\n",
    "contrasts/roots.md": b"---\ntitle: Two roots\npoint: The same.\nproblems: [tides/root]\n"
    b"methods: [linear-substitution, rationalising]\n---\n",
}


@pytest.fixture(scope="module")
def book() -> Book:
    chapters = {"tides/index.md": b"---\ntitle: Tides\norder: 1\n---\n"}
    return build(Sources(FILES, chapters, b"log: natural\n", (), CONTRASTS))


class _NoLines:
    def line(self, path: str, number: int) -> str | None:
        return None


@pytest.fixture(scope="module")
def made(book: Book) -> Site:
    return site(book, _NoLines())


def test_the_prompt_comes_first_and_what_it_asks_for_is_folded(made: Site) -> None:
    body = page(made, "contrasts/above.md").body
    prompt, answer, beside = body.index("Which one?"), body.index('<details id="answer"'), body.index('<details id="side-by-side"')
    assert prompt < answer < beside
    before = body[:answer]
    assert "Look" not in before
    assert "Substitution" not in before
    assert "<em>above</em>" in body[answer:beside]
    assert "is left over" in body[answer:beside]


def test_solutions_follow_each_other_and_gaps_are_hidden_from_reading_aloud(made: Site) -> None:
    body = page(made, "contrasts/above.md").body
    first, second = body.index('id="side-1"'), body.index('id="side-2"')
    assert first < second
    assert "A: Substitution" in body
    assert "B: Arctangent form" in body
    gaps = re.findall(r'<li class="ev-line ev-line--gap"[^>]*>', body)
    assert gaps
    assert all("aria-hidden" in gap for gap in gaps)
    ids = re.findall(r' id="([^"]+)"', body)
    assert len(ids) == len(set(ids))


def test_two_methods_show_one_question_and_the_constant(made: Site) -> None:
    body = page(made, "contrasts/ways.md").body
    assert body.count('class="ev-question"') == 1
    assert "Both answers are right. They differ by the constant" in body


def test_two_methods_that_end_in_one_answer_say_so(made: Site) -> None:
    assert "Both methods end in the same answer." in page(made, "contrasts/roots.md").body
    assert "same answer" not in page(made, "contrasts/ways.md").body


def test_contrasts_are_listed_in_navigation_on_their_own_page_and_in_the_last_chapter(made: Site) -> None:
    assert ("Contrasts", "contrasts/index.md") in made.navigation
    assert not any(path.startswith("contrasts/") and path != "contrasts/index.md" for _, path in made.navigation)
    listed = page(made, "contrasts/index.md").body
    assert listed.index("They look alike") < listed.index("One question, two methods")
    chapter = page(made, "tides/index.md").body
    assert all(name in chapter for name in ("What is above", "Two ways"))


def test_a_problem_leads_to_its_contrasts(made: Site) -> None:
    one, both = page(made, "tides/one.md").body, page(made, "tides/both.md").body
    assert 'href="../../contrasts/above/"' in one
    assert 'href="../../contrasts/ways/"' not in one
    assert 'href="../../contrasts/ways/"' in both


def test_a_book_without_contrasts_has_no_such_page(book: Book) -> None:
    bare = site(replace(book, contrasts=()), _NoLines())
    assert not any("contrasts" in path for _, path in bare.navigation)
    assert not any(each.kind.startswith("contrast") for each in bare.pages)


def test_nothing_of_a_contrast_is_there_before_the_day_of_its_problems(book: Book) -> None:
    withheld = published(book, datetime.date(2027, 1, 1), answers=False)
    body = page(site(withheld, _NoLines()), "contrasts/above.md").body
    assert "What is above" in body
    for secret in ("Look", "Some prose", "Substitution", "arctan", "left over"):
        assert secret not in body


def test_the_letter_of_a_differential_is_the_one_that_its_function_depends_on(made: Site) -> None:
    """Under u = …, parts may name p and q in terms of u: then dq = … du, also where q itself comes later."""
    from everyline.derive import derive
    from everyline.notation import Context, parse_question
    from everyline.notation.question import Given
    from everyline.render.addresses import Addresses, Here
    from everyline.render.solutions import worked

    found = derive(parse_question(r"\int x^3 e^{-x^2} \, dx", Given(), Context()), methods=("substitution",))
    shown = "".join(worked(found.routes, Here("tides/one.md", Addresses())))
    tex = re.findall(r'data-tex="(dq = [^"]*)"', shown)
    assert tex
    assert all(each.endswith("du") for each in tex)
