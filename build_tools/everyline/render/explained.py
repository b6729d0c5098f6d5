"""The page that says what “checked” means, in plain words and with figures counted from the checker itself."""

from __future__ import annotations

from collections import Counter
from importlib import metadata, resources

from ..book.data import Book, Examined, Vouched
from ..kernel import Checked
from ..notation.message import sentence
from .addresses import Here
from .badges import weakest
from .markup import element, escape, heading

TITLE = sentence("What “checked” means")


def checker_lines() -> dict[str, int]:
    """How many lines each trusted room has: every line of its files, remarks and blank ones too."""
    files = {room: (resources.files("everyline") / room).iterdir() for room in ("arithmetic", "kernel")}
    return {room: sum(len(f.read_text("utf-8").splitlines()) for f in inside if f.name.endswith(".py")) for room, inside in files.items()}


_OPENING = sentence(
    "Anyone can print a wrong answer. Before this book is published a program checks every answer and every line of every worked "
    "solution. If one is wrong, the book is not published. Beside each answer you see what it found."
)

#: What each word on a badge means: its place on the page, the word, and the meaning.
_WORDS = (
    ("proved", sentence("Proved"), sentence(
        "The answer is right, everywhere the question makes sense. For an integral the program differentiates the answer and shows by "
        "exact calculation that the result is the function under the integral sign. It also makes sure that the answer has no jumps or "
        "gaps where the question has none.")),
    ("agrees", sentence("Agrees to N digits at M points"), sentence(
        "Both sides were calculated at M points, in every part of the domain, with a guaranteed bound on each rounding error. They were "
        "the same to N digits every time. That is strong evidence. It is not a proof, and the book does not call it one.")),
    ("wrong", sentence("Wrong at x = …"), sentence(
        "There the two sides are certainly different: even with the largest possible rounding error they cannot meet. You only see these "
        "words while a book is being written.")),
    ("undecided", sentence("Could not be decided"), sentence(
        "The program found neither a proof nor a mistake. Such an answer is published only if a person answers for it by name, and then "
        "the page says who and why.")),
)  # fmt: skip

_COVERED = sentence(
    "The answer; each line of each solution against the line before it; and, where two methods lead to answers that look different, the "
    "constant between them. Hints and explanations in words are written by people and are not checked."
)

_TRUST = sentence(
    "The part that decides is kept small so that you can read it: {lines} lines, {arithmetic} lines that calculate and {kernel} lines "
    "that say what follows. They rely on the Python language and on python-flint {version}, a library for exact and guaranteed "
    "arithmetic. You do not have to trust the much larger part that looks for solutions: whatever it proposes has to pass the checker. "
    "And you have to trust that the question on the page is the question that was meant."
)


def explained_body(book: Book, here: Here) -> str:
    """The words on badges, what the checker does, and what has to be trusted."""
    counted = checker_lines()
    figures = {room: here.number(f"{lines:,}") for room, lines in (*counted.items(), ("lines", sum(counted.values())))}
    parts = (
        heading(here.tell(TITLE)),
        _paragraph(here.tell(_OPENING)),
        *(element("h2", here.tell(name), id=identity) + _paragraph(here.tell(meaning)) for identity, name, meaning in _WORDS),
        element("h2", here.tell("What is checked")) + _paragraph(here.tell(_COVERED)),
        element("h2", here.tell("What you have to trust")),
        _paragraph(here.tell(_TRUST, version=metadata.version("python-flint"), **figures)),
        element("h2", here.tell("What it found in this book")),
        element("ul", *(element("li", line) for line in _figures(book, here))),
    )
    return "".join(parts)


def _paragraph(text: str) -> str:
    return element("p", escape(text))


def _figures(book: Book, here: Here) -> list[str]:
    count = Counter(_state(examined) for examined in book.examined)
    lines = [line for examined in book.examined for line in _lines(examined)]
    proved = sum(line.grade == "proved" for line in lines)
    found = here.tell(
        "{count} questions: {proved} with every answer proved, {agrees} where an answer only agrees to many digits, "
        "{vouched} that a person answers for.",
        count=len(book.examined),
        **{state: count[state] for state in ("proved", "agrees", "vouched")},
    )
    held = here.tell("And {count} more, checked and not published yet.", count=count["withheld"])
    worked = here.tell(
        "{count} worked lines: {proved} proved, {rest} that agree to many digits.",
        count=here.number(f"{len(lines):,}"),
        proved=here.number(f"{proved:,}"),
        rest=here.number(f"{len(lines) - proved:,}"),
    )
    return [f"{found} {held}" if count["withheld"] else found, worked]


def _state(examined: Examined) -> str:
    if examined.withheld is not None:
        return "withheld"
    outcome = weakest(verdict.outcome for verdict in examined.keys)
    if isinstance(outcome, Checked):
        return "proved" if outcome.grade == "proved" else "agrees"
    return "vouched" if isinstance(outcome, Vouched) else "open"


def _lines(examined: Examined) -> list[Checked]:
    routes = () if examined.derivation is None else examined.derivation.routes
    solutions = (examined.checking, *(route.lines for route in routes), *(hand.lines for hand in examined.hand))
    return [line.checked for lines in solutions for line in lines if line.checked is not None]
