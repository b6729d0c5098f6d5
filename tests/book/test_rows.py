"""`everyline prove` and `everyline solve` on rows of JSON: a row for a row, never stopping at a bad one."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from commands import everyline

from everyline.book.rows import prove, solve

VERDICTS = [
    ({"kind": "indefinite", "integrand": "6*x^2", "variable": "x", "answer": "2*x^3"}, "proved"),
    ({"kind": "indefinite", "integrand": "6*x^2", "variable": "x", "answer": "2*x^3 + C"}, "proved"),
    ({"kind": "indefinite", "integrand": "6*x^2", "answer": "3*x^3"}, "refuted"),
    ({"kind": "indefinite", "integrand": "1/t", "variable": "t", "answer": "ln(t)", "domain": "(0, infinity)"}, "proved"),
    ({"kind": "indefinite", "integrand": "1/t", "variable": "t", "answer": "ln(t)"}, "refuted"),
    ({"kind": "indefinite", "integrand": "1/t", "variable": "t", "answer": "ln(t)", "domain": "t > 0"}, "proved"),
    ({"kind": "indefinite", "integrand": "1/x", "answer": "ln(-x)", "domain": "(-infinity, -1) or (-1, 0)"}, "proved"),
    ({"kind": "derivative", "integrand": "x*e^(5*x)", "answer": "(1 + 5*x)*e^(5*x)"}, "proved"),
    ({"kind": "derivative", "integrand": "sin(3*x)", "answer": "-9*sin(3*x)", "order": 2}, "proved"),
    ({"kind": "derivative", "integrand": "sin(3*x)", "answer": "9*sin(3*x)", "order": 2}, "refuted"),
    ({"kind": "indefinite", "integrand": "x^3", "answer": "1/4x^4"}, "proved"),
    ({"kind": "indefinite", "integrand": "a*x", "answer": "a*x^2/2", "given": "a > 0"}, "proved"),
    ({"question": r"\int 4\cos 2x \, dx", "answer": r"2\sin 2x + C"}, "proved"),
    ({"kind": "indefinite", "integrand": "2*y", "answer": "y^2"}, "unreadable"),
    ({"kind": "indefinite", "integrand": "log(x)", "answer": "x"}, "unreadable"),
    ({"kind": "indefinite", "integrand": "2*x"}, "unreadable"),
    ({"kind": "indefinite", "integrand": ["2*x"], "answer": "x^2"}, "unreadable"),
    ({"kind": "riddle", "integrand": "2*x", "answer": "x^2"}, "unreadable"),
    ({"kind": "derivative", "integrand": "x", "answer": "1", "order": 0}, "unreadable"),
    ({"kind": "indefinite", "integrand": "2*x", "answer": "x^2", "domain": "somewhere"}, "unreadable"),
    ({"kind": "indefinite", "integrand": "9^(9^(9^9))", "answer": "x"}, "unreadable"),
    ({"kind": "indefinite", "integrand": "__import__('os')", "answer": "x"}, "unreadable"),
]


@pytest.mark.parametrize(("row", "verdict"), VERDICTS)
def test_a_row_is_judged(row: dict[str, object], verdict: str) -> None:
    answer = prove({"id": 7, "unknown field": 1, **row})
    assert (answer["id"], answer["verdict"]) == (7, verdict), answer["why"]
    assert set(answer) == {"id", "verdict", "why", "ms"}
    assert answer["why"]


def test_log_without_a_base_is_what_the_caller_says() -> None:
    row = {"kind": "derivative", "integrand": "log(x)", "answer": "1/x"}
    assert prove(row, log="natural")["verdict"] == "proved"
    assert prove(row, log="10")["verdict"] == "refuted"


def test_a_question_is_solved_with_every_line_checked_and_an_answer_that_others_can_evaluate() -> None:
    answer = solve({"id": "q", "question": r"\int 12 x (x^2+1)^5 \, dx"})
    assert answer["id"] == "q"
    assert answer["routes"]
    for route in answer["routes"]:
        assert all(line["verdict"] in ("proved", "enclosed") for line in route["lines"] if line["text"].startswith("="))
        claimed = prove({"kind": "indefinite", "integrand": "12*x*(x^2+1)^5", "answer": route["answer"]})
        assert claimed["verdict"] == "proved"
        assert "C" not in route["answer"]


def test_a_question_that_cannot_be_read_has_no_solution_and_says_why() -> None:
    answer = solve({"id": 1, "question": r"\int 2y \, dx"})
    assert answer["routes"] == []
    assert "declared" in answer["why"]


def test_a_wrong_value_says_by_how_much() -> None:
    assert prove({"question": r"\int_0^1 \sqrt{x} \, dx", "answer": "1/2"})["why"] == "wrong: off by 0.16666667"


def _run(command: str, text: str, *more: str) -> list[dict[str, object]]:
    ran = everyline(Path.cwd(), command, "--jsonl", "-", *more, given=text, seconds=60)
    assert (ran.returncode, ran.stderr) == (0, "")
    return [json.loads(line) for line in ran.stdout.splitlines()]


def test_rows_are_answered_in_order_and_a_bad_one_stops_nothing() -> None:
    rows = [{"id": n, "integrand": f"{n}*x", "answer": f"{n}*x^2/2"} for n in range(1, 40)]
    text = "\n".join([*map(json.dumps, rows[:20]), "no JSON", "[1]", *map(json.dumps, rows[20:])])
    answers = _run("prove", text, "--workers", "2")
    assert [a["id"] for a in answers] == [*range(1, 21), None, None, *range(21, 40)]
    assert {a["verdict"] for a in answers} == {"proved", "unreadable"}


def test_checking_a_claim_imports_nothing_that_takes_longer_than_the_check() -> None:
    code = (
        "import sys; from everyline.cli import main; main(['prove', r'\\int 2x \\, dx', 'x^2 + C']);"
        "sys.exit(any(m.partition('.')[0] in ('sympy', 'mkdocs', 'mpmath', 'babel') for m in sys.modules))"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, timeout=60, check=False).returncode == 0


@pytest.mark.parametrize("integrand", [r"x*\lim_{t \to 0} t", "x > 0", "infinity", r"x+\int_0^1 t \, dt", r"\frac{d}{dx} x^2"])
def test_an_integrand_that_is_no_plain_function_does_no_harm(integrand: str) -> None:
    """Found by mutated rows: the search for an antiderivative raised."""
    row = {"kind": "definite", "integrand": integrand, "lower": "0", "upper": "1", "answer": "7"}
    assert prove(row)["verdict"] in ("refuted", "undecided", "unreadable")
