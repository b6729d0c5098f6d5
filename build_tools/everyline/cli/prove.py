"""`everyline prove`: one answer, or many as lines of JSON."""

from __future__ import annotations

import argparse
from pathlib import Path

from .books import language_of
from .rows import answer_rows
from .shared import MISUSED, RIGHT, WRONG, Commands, common, misused


def add(commands: Commands) -> None:
    prove = commands.add_parser("prove", help="check one answer, or many as lines of JSON")
    prove.add_argument("question", nargs="?", help=r"such as '\int 6x \, dx'; with it, ANSWER")
    prove.add_argument("answer", nargs="?", help="such as '3x^2 + C'")
    prove.add_argument("--domain", help="where the answer is claimed, such as 'x > 0' or '(0, infinity)'")
    prove.add_argument("--book", default="content", metavar="DIR", help="the book whose language is spoken (default: content)")
    common(prove)
    prove.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..book.rows import prove, prove_line
    from ..language import translator

    if options.question is None:
        return answer_rows(options, prove_line, {"verdict": "undecided"})
    if options.answer is None or options.jsonl:
        return misused("prove takes a question and an answer, or --jsonl")
    row = {"question": options.question, "answer": options.answer, "given": options.given, "domain": options.domain}
    result = prove(row, log=options.log, seconds=options.seconds, tell=translator(language_of(Path(options.book))))
    print(result["why"])
    return RIGHT if result["verdict"] in ("proved", "enclosed") else MISUSED if result["verdict"] == "unreadable" else WRONG
