"""`everyline check`: what is right passes, what is wrong is named with its place, and the exit code says which."""

from __future__ import annotations

import json

import pytest
from commands import everyline

BOOK = """
content/book.yml
    title: A small book
    log: natural
content/powers/index.md
    ---
    title: Powers
    order: 1
    ---
content/powers/right.md
    ---
    question: \\int 12x^3 \\, dx
    key: 3x^4 + C
    ---
content/powers/{name}.md
    ---
    question: {question}
    key: {key}
    ---
"""


def test_a_right_book_passes(plant) -> None:  # type: ignore[no-untyped-def]
    ran = everyline(plant(BOOK.format(name="also", question=r"\int \cos 5x \, dx", key=r"\frac15 \sin 5x + C")), "check")
    assert (ran.returncode, ran.stderr) == (0, "")
    assert ran.stdout == "Nothing to mend.\n2 problems; 2 of 2 keys right.\n"


def test_a_wrong_key_is_shown_with_its_place_what_it_gives_where_it_fails_and_the_mend(plant) -> None:  # type: ignore[no-untyped-def]
    ran = everyline(plant(BOOK.format(name="wrong", question=r"\int \cos 5x \, dx", key=r"5\sin 5x + C")), "check")
    assert ran.returncode == 1
    shown = ran.stdout
    assert "content/powers/wrong.md:3:6" in shown
    assert "key: 5\\sin 5x + C\n              ^^^^^^^^^^^^\n" in shown
    assert "25cos(5x)" in shown
    assert "Wrong at x = 2" in shown
    assert "1/5*sin(5x) + C" in shown or "sin(5x)/5 + C" in shown


@pytest.mark.parametrize(
    ("question", "key", "said"),
    [
        (r"\frac{d}{dx} (x^2)", "3x", "The key is 3x; the derivative is 2x."),
        (r"\int_0^1 x \, dx", "3", "The key is 3; the integral is 1/2."),
        (r"\lim_{x\to 0} \frac{\sin x}{x}", "3", "The key is 3; the limit is 1."),
        (r"\int_{-1}^1 \frac{1}{x^2} \, dx", "-2", "not the value of the integral.\n       Between the limits"),  # it has none
    ],
)
def test_a_wrong_key_stands_beside_the_right_value(plant, question: str, key: str, said: str) -> None:  # type: ignore[no-untyped-def]
    assert said in everyline(plant(BOOK.format(name="wrong", question=f"'{question}'", key=key)), "check").stdout


CODES = [
    (r"\int \frac{1}{x} \, dx", r"\ln x + C", "key-absolute-value"),
    (r"\int 6x \, dx", r"3u^2 + C", "key-leftover-name"),
    (r"\int 6x \, dx", r"3y^2 + C", "key-variable"),
    (r"\int 6x \, dx", r"3x^2 + ", "formula-unreadable"),
    (r"\int 6x \, dx", r"3x^2", "key-constant-missing"),
    (r"\int 6x^3 \, dx", r"3/2x^4 + C", "key-reading-taken"),
    (r"\int 6x^3 \, dx", r"5/2x^4 + C", "formula-ambiguous"),
    (r"\int 6x \, dy", r"3x^2 + C", "name-undeclared"),
    (r"6x", r"3x^2 + C", "question-shape"),
    (r"\int 6x", r"3x^2 + C", "formula-unreadable"),
    (r"\int_0^2 6x \, dx", r"3x^2", "key-no-value"),
    (r"\int_0^2 6x \, dx", r"12 + C", "key-no-value"),
    (r"\lim_{x \to 0} \frac{\sin 3x}{x}", r"3x", "key-no-value"),
]


@pytest.mark.parametrize(("question", "key", "code"), CODES)
def test_each_fault_has_its_own_code(plant, question: str, key: str, code: str) -> None:  # type: ignore[no-untyped-def]
    ran = everyline(plant(BOOK.format(name="wrong", question=f"'{question}'", key=f"'{key}'")), "check", "--format", "json")
    document = json.loads(ran.stdout)
    assert [d["code"] for d in document["diagnostics"]] == [code]
    assert document["diagnostics"][0]["where"]["path"] == "powers/wrong.md"
    assert ran.returncode == (1 if document["diagnostics"][0]["severity"] == "error" else 0)


def test_only_the_named_files_are_checked(plant) -> None:  # type: ignore[no-untyped-def]
    root = plant(BOOK.format(name="wrong", question=r"\int 6x \, dx", key="x^2 + C"))
    assert everyline(root, "check", "content/powers/right.md").returncode == 0
    assert everyline(root, "check", "content/powers/wrong.md").returncode == 1
    assert everyline(root, "check", "content/powers").returncode == 1


def test_a_call_that_cannot_be_meant_is_said_to_be_so(plant) -> None:  # type: ignore[no-untyped-def]
    root = plant(BOOK.format(name="also", question=r"\int 6x \, dx", key="3x^2 + C"))
    for arguments in (["check", "nowhere"], ["check", "--format", "poem"], ["prove", r"\int 2x \, dx"], []):
        ran = everyline(root, *arguments)
        assert ran.returncode == 2, arguments
        assert "Traceback" not in ran.stderr


def test_an_undecided_key_needs_a_person_and_then_the_book_says_who(plant) -> None:  # type: ignore[no-untyped-def]
    picture = BOOK.format(name="vouched", question=r"\lim_{x\to 0} \sin\frac{1}{x}", key="does not exist")
    root = plant(picture.replace("key: does not exist\n", "key: does not exist\n    vouched: {name: A. Teacher, reason: it oscillates}\n"))
    ran = everyline(root, "check", "--format", "json")
    codes = [d["code"] for d in json.loads(ran.stdout)["diagnostics"]]
    assert ran.returncode == 0
    assert set(codes) & {"key-vouched", "vouch-needless"}


@pytest.mark.parametrize("u", ["x + 3", "u = x + 3"])
def test_a_wanted_substitution_may_be_written_in_full(plant, u: str) -> None:  # type: ignore[no-untyped-def]
    picture = BOOK.format(name="divided", question=r"\int \frac{x}{x+3} \, dx", key=r"x - 3\ln|x+3| + C")
    picture = picture.replace("|x+3| + C\n", f"|x+3| + C\n    u: {u}\n")
    assert everyline(plant(picture), "check").stdout == "Nothing to mend.\n2 problems; 2 of 2 keys right.\n"
