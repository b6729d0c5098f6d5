"""The page that says what “checked” means, in plain words and with figures counted from the checker itself."""

from __future__ import annotations

from collections import Counter
from importlib import metadata, resources

from ..book.data import Book, Examined, Vouched
from ..kernel import Checked
from .badges import weakest
from .markup import element, escape

TITLE = "What “checked” means"


def checker_lines() -> int:
    """How many lines the checker has: every line of its files, remarks and blank ones too."""
    return sum(
        len(file.read_text("utf-8").splitlines())
        for file in (resources.files("everyline") / "kernel").iterdir()
        if file.name.endswith(".py")
    )


def explained_body(book: Book) -> str:
    """The words on badges, what the checker does, and what has to be trusted."""
    parts = (
        element("h1", TITLE),
        element("p", "Anyone can print a wrong answer. Before this book is published a program checks every answer and every line of every "
                "worked solution. If it finds one that is wrong, the book is not published. Beside each answer you see what it found."),
        _word("proved", "Proved",
              "The answer is right, everywhere the question makes sense. For an integral the program differentiates the answer and shows by "
              "exact calculation, without rounding, that the result is the function under the integral sign. It also makes sure that the answer "
              "has no jumps or gaps where the question has none."),
        _word("agrees", "Agrees to N digits at M points",
              "The two sides were calculated at M points, in every part of the domain, with a guaranteed bound on each rounding error, and were the "
              "same to N digits every time. That is strong evidence. It is not a proof, and the book does not call it one."),
        _word("wrong", "Wrong at x = …",
              "At that point the two sides are certainly different: even with the largest possible rounding error they cannot meet. "
              "A page with a wrong answer is never published; you only see this word while a book is being written."),
        _word("undecided", "Could not be decided",
              "The program found neither a proof nor a mistake. Such an answer is published only if a person answers for it by name, and then the "
              "page says who and why."),
        element("h2", "What is checked"),
        element("p", "The answer; each line of each solution against the line before it; and, where two methods lead to answers that look different, the "
                "constant between them. Hints and explanations in words are written by people and are not checked."),
        element("h2", "What you have to trust"),
        element("p", escape(_trust())),
        element("h2", "What it found in this book"),
        element("ul", *(element("li", escape(line)) for line in _figures(book))),
    )  # fmt: skip
    return "".join(parts)


def _word(identity: str, name: str, meaning: str) -> str:
    return element("h2", name, id=identity) + element("p", meaning)


def _trust() -> str:
    return (
        f"The part that decides is kept small so that it can be read: {checker_lines():,} lines, which rely on the Python language and on "
        f"python-flint {metadata.version('python-flint')}, a library for exact and guaranteed arithmetic. The much larger part that looks for "
        "solutions is not trusted: whatever it proposes has to pass the checker. And you have to trust that the question on the page is "
        "the question that was meant."
    )


def _figures(book: Book) -> list[str]:
    count = Counter(_state(examined) for examined in book.examined)
    lines = [line for examined in book.examined for line in _lines(examined)]
    proved = sum(isinstance(line, Checked) and line.grade == "proved" for line in lines)
    return [
        f"{len(book.examined)} questions: {count['proved']} with every answer proved, {count['agrees']} where an answer only agrees to many digits, "
        f"{count['vouched']} that a person answers for.",
        f"{len(lines)} worked lines: {proved} proved, {len(lines) - proved} that agree to many digits.",
    ]


def _state(examined: Examined) -> str:
    outcome = weakest(verdict.outcome for verdict in examined.keys)
    if isinstance(outcome, Checked):
        return "proved" if outcome.grade == "proved" else "agrees"
    return "vouched" if isinstance(outcome, Vouched) else "open"


def _lines(examined: Examined) -> list[Checked]:
    routes = () if examined.derivation is None else examined.derivation.routes
    shown = [
        *examined.checking,
        *(line for route in routes for line in route.lines),
        *(line for hand in examined.hand for line in hand.lines),
    ]
    return [line.checked for line in shown if line.checked is not None]
