"""Hand-written solutions: read in the names in force, each line checked against the one before."""

from __future__ import annotations

import pytest

from everyline.book import build
from everyline.diagnostics import told
from everyline.source.load import load

BOOK = """
content/book.yml
    title: Test
    log: natural
content/one/index.md
    ---
    title: One
    order: 1
    ---
content/one/problem.md
    ---
    question: {question}
    key: {key}
    ---

    ```lines
{lines}
    ```
"""


def faults(plant, question: str, key: str, lines: str) -> list[tuple[str, int, str]]:  # type: ignore[no-untyped-def]
    body = "\n".join("    " + line for line in lines.strip("\n").splitlines())
    root = plant(BOOK.format(question=f"'{question}'", key=f"'{key}'", lines=body))
    made = build(load(root / "content"))
    hand = [e.hand for e in made.examined]
    bad = [(d.code, d.labels[0].span.start.line, told(d.headline)) for d in made.diagnostics if d.severity == "error"]
    assert bad or (hand and hand[0] and all(line.checked for s in hand[0] for line in s.lines if line.kind == "equal"))
    return bad


RIGHT = {
    "division": (
        r"\int \frac{x}{x+3} \, dx",
        r"x - 3\ln|x+3| + C",
        r"""
= \int \left(1 - \frac{3}{x+3}\right) dx ; divide
= x - 3\ln|x+3| + C
""",
    ),
    "substitution": (
        r"\int x^2 \sqrt{x^3+5} \, dx",
        r"\frac{2}{9}(x^3+5)^{3/2} + C",
        r"""
let u = x^3 + 5 ; the inside
du = 3x^2 \, dx
= \frac13 \int \sqrt u \, du
= \frac29 u^{3/2} + C
= \frac29 (x^3+5)^{3/2} + C
""",
    ),
    "a differential with a factor": (
        r"\int x^2 \sqrt{x^3+5} \, dx",
        r"\frac{2}{9}(x^3+5)^{3/2} + C",
        r"""
let u = x^3 + 5
x^2 \, dx = \frac13 du
\int x^2 \sqrt{x^3+5} \, dx = \frac13 \int \sqrt u \, du
= \frac29 (x^3+5)^{3/2} + C
""",
    ),
    "parts": (
        r"\int x \sin 4x \, dx",
        r"-\frac{x\cos 4x}{4} + \frac{\sin 4x}{16} + C",
        r"""
let u = x
dv = \sin 4x \, dx
du = dx
let v = -\frac14 \cos 4x
= uv - \int v \, du
= -\frac{x \cos 4x}{4} + \frac14 \int \cos 4x \, dx
= -\frac{x\cos 4x}{4} + \frac{\sin 4x}{16} + C
""",
    ),
    "an inverse substitution": (
        r"\int \frac{1}{(4+x^2)^{3/2}} \, dx",
        r"\frac{x}{4\sqrt{4+x^2}} + C",
        r"""
x = 2\tan\theta
dx = 2\sec^2\theta \, d\theta
= \int \frac{2\sec^2\theta}{8\sec^3\theta} \, d\theta
= \frac14 \int \cos\theta \, d\theta
= \frac14 \sin\theta + C
= \frac{x}{4\sqrt{4+x^2}} + C
""",
    ),
    "an integral that is given a name": (
        r"\int e^{x}\cos 2x \, dx",
        r"\frac15 e^x(\cos 2x + 2\sin 2x) + C",
        r"""
I = \int e^x \cos 2x \, dx
I = e^x \cos 2x + 2\int e^x \sin 2x \, dx ; by parts
= e^x\cos 2x + 2e^x \sin 2x - 4I ; by parts again
5I = e^x\cos 2x + 2 e^x \sin 2x
I = \frac15 e^x(\cos 2x + 2\sin 2x) + C
""",
    ),
    "a named integral that comes back in the same line": (
        r"\int e^{x}\cos 2x \, dx",
        r"\frac15 e^x(\cos 2x + 2\sin 2x) + C",
        r"""
I = \int e^x \cos 2x \, dx
I = e^x\cos 2x + 2e^x \sin 2x - 4I
I = \frac15 e^x(\cos 2x + 2\sin 2x) + C
""",
    ),
    "a derivative": (
        r"\frac{d}{dx} (x^2 \sin x)",
        r"2x\sin x + x^2\cos x",
        r"""
= \sin x \cdot 2x + x^2 \cos x
= 2x\sin x + x^2\cos x
""",
    ),
}


@pytest.mark.parametrize("name", RIGHT)
def test_a_right_solution_is_checked_to_its_end(plant, name: str) -> None:  # type: ignore[no-untyped-def]
    assert faults(plant, *RIGHT[name]) == []


WRONG = {
    "a wrong sign": (*RIGHT["division"][:2], "= \\int (1 + \\frac{3}{x+3}) dx\n= x - 3\\ln|x+3| + C", "line-wrong", 7),
    "a wrong differential": (*RIGHT["substitution"][:2], "let u = x^3 + 5\ndu = x^2 dx\n= \\frac13 \\int \\sqrt u du", "line-wrong", 8),
    "the second of two lines": (*RIGHT["division"][:2], "= \\int (1 - \\frac{3}{x+3}) dx\n= x - 3\\ln|x-3| + C", "line-wrong", 8),
    "a solution that stops early": (*RIGHT["division"][:2], "= \\int (1 - \\frac{3}{x+3}) dx", "line-ends-elsewhere", 7),
    "an undeclared letter": (*RIGHT["division"][:2], "= \\int (1 - \\frac{3}{w+3}) dx", "name-undeclared", 7),
    "a constant in a derivative": (*RIGHT["a derivative"][:2], r"= 2x\sin x + x^2\cos x + 1", "line-wrong", 7),
}


@pytest.mark.parametrize("name", WRONG)
def test_the_first_wrong_line_is_the_place_of_the_error(plant, name: str) -> None:  # type: ignore[no-untyped-def]
    question, key, lines, code, at = WRONG[name]
    assert [(c, line) for c, line, _ in faults(plant, question, key, lines)] == [(code, at)]
