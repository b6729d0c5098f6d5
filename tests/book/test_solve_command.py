"""`everyline solve` at a terminal: what is asked for, how wide it is, and the same letters from every run."""

from __future__ import annotations

import functools
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from everyline.cli import main
from everyline.derive import Derivation, derive
from everyline.language import translator
from everyline.notation import Context, parse_question
from everyline.notation.question import Given
from everyline.render.terminal import worked


@functools.cache
def solved(question: str) -> Derivation:
    return derive(parse_question(question, Given(), Context(log="natural")))


def laid_out(question: str, *, width: int = 100, language: str = "en") -> str:
    return worked(solved(question), everything=True, width=width, tell=translator(language))


def test_all_shows_how_two_answers_come_together_and_what_does_not_help() -> None:
    said = laid_out(r"\int \sin x\cos x \, dx")
    assert "When two answers look different" in said
    assert "The two answers differ by the constant 1/4." in said
    assert "What does not help here" in laid_out(r"\int x^2\sin x \, dx")


def test_all_speaks_the_books_language() -> None:
    said = laid_out(r"\int \sin x\cos x \, dx", language="de")
    assert "Wenn zwei Antworten verschieden aussehen" in said or "unterscheiden sich um die Konstante 1/4" in said
    assert not {"Method", "Put", "The", "Use"} & set(said.replace(":", " ").split())


#: Questions whose lines are wider than a small terminal: long sums, integrals between limits, two answers side by side.
WIDE = [
    r"\int x^5e^{2x} \, dx", r"\int \sec x\csc x \, dx", r"\int \frac{x^3+2x}{\sqrt{x^2+1}} \, dx",
    r"\int_0^1 x^4e^x \, dx", r"\frac{d}{dx}\left(\frac{x^2\sin x}{x+1}\right)", r"\lim_{x\to 0}\frac{e^x-1-x}{x^2}",
]  # fmt: skip


@pytest.mark.parametrize("question", WIDE)
@pytest.mark.parametrize("width", [60, 100])
def test_nothing_is_wider_than_the_terminal(question: str, width: int) -> None:
    """A sum is broken before a sign; the reason stands beside or under it."""
    assert max(map(len, laid_out(question, width=width).splitlines())) <= width


def test_a_broken_sum_goes_on_with_its_sign() -> None:
    rows = laid_out(r"\int x^5e^{2x} \, dx", width=60).splitlines()
    assert any(row.startswith("    + ") or row.startswith("    - ") for row in rows)


#: (arguments, exit code, what stands in the output).
ASKED = [
    (["--methods", "division,linear-substitution"], 0, ["Method 1: Polynomial division", "Method 2: Substitution with a linear inside"]),
    (["--u", "x+3"], 0, ["u = x + 3"]),
    (["--methods", "symmetry,division"], 1, ["Polynomial division", "symmetry: This is a method for integrals between limits."]),
    (["--u", r"\sin x"], 1, ["u: The derivative of sin x is cos x;"]),
]  # fmt: skip


@pytest.mark.parametrize(("arguments", "code", "said"), ASKED)
def test_a_method_or_a_substitution_can_be_asked_for(
    arguments: list[str], code: int, said: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["solve", r"\int \frac{x}{x+3} \, dx", *arguments]) == code
    out = capsys.readouterr().out
    assert all(part in out for part in said)
    assert "\x1b" not in out


def test_a_method_that_does_not_exist_is_a_bad_call_with_what_was_meant(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["solve", r"\int x \, dx", "--methods", "pats"]) == 2
    assert "There is no method `pats`. Did you mean `parts`?" in capsys.readouterr().err


ROWS = [
    r"\int \frac{x}{x+3} \, dx", r"\int e^{2x}\sin 3x \, dx", r"\int \frac{7x+7}{x^2+3x-10} \, dx", r"\int \sin^2 x\cos^3 x \, dx",
    r"\int_0^2 xe^{x^2} \, dx", r"\lim_{x\to 0}\frac{e^x-1-x}{x^2}", r"\int \sqrt{9-x^2} \, dx",
]  # fmt: skip


def test_two_processes_give_the_same_lines_to_the_letter(tmp_path: Path) -> None:
    """Also with other seeds of Python's hashes, on which the order of a set depends (docs.python.org, PYTHONHASHSEED)."""
    rows = tmp_path / "rows.jsonl"
    rows.write_text("".join(json.dumps({"question": each, "methods": []}) + "\n" for each in ROWS), "utf-8")
    command = [sys.executable, "-m", "everyline.cli", "solve", "--jsonl", str(rows)]
    outputs = []
    for seed in ("1", "4711"):
        done = subprocess.run(command, env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, text=True, check=True)
        outputs.append([{**json.loads(line), "ms": 0} for line in done.stdout.splitlines()])
    assert len(outputs[0]) == len(ROWS)
    assert all(row["routes"] for row in outputs[0])
    assert outputs[0] == outputs[1]
