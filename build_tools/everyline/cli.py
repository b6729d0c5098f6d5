"""The command line: arguments in, exit codes out. What a command does lives in the rooms below."""

from __future__ import annotations

import argparse
import functools
import json
import os
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .book.data import Book
    from .book.workers import Overrun

RIGHT, WRONG, MISUSED = 0, 1, 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the exit code says whether all is right (0), something is wrong (1) or the call was (2)."""
    options = _parser().parse_args(arguments)
    try:
        return int(options.run(options))
    except BrokenPipeError:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - what reads our output has gone
        return WRONG
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)
        return 130


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="everyline", description="A practice book for calculus whose every line is checked.")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    check = commands.add_parser("check", help="check the problem files of a book")
    check.add_argument("paths", nargs="*", metavar="PATH", help="a book's folder, or files and folders in it (default: content)")
    check.add_argument("--format", choices=("text", "json"), default="text")
    check.add_argument("--workers", type=_count, default=os.cpu_count() or 1, metavar="N", help="processes that work at once")
    check.set_defaults(run=_check)

    prove = commands.add_parser("prove", help="check one answer, or many as lines of JSON")
    prove.add_argument("question", nargs="?", help=r"such as '\int 6x \, dx'; with it, ANSWER")
    prove.add_argument("answer", nargs="?", help="such as '3x^2 + C'")
    prove.add_argument("--domain", help="where the answer is claimed, such as 'x > 0' or '(0, infinity)'")
    _common(prove)
    prove.set_defaults(run=_prove)

    solve = commands.add_parser("solve", help="work a question out, or many as lines of JSON")
    solve.add_argument("question", nargs="?", help=r"such as '\int 6x \, dx'")
    _common(solve)
    solve.set_defaults(run=_solve)
    return parser


def _common(command: argparse.ArgumentParser) -> None:
    command.add_argument("--given", help="parameters and what is assumed of them, such as 'a > 0'")
    command.add_argument("--jsonl", metavar="FILE", help="rows of JSON, one a line (- is standard input, also when nothing else is given)")
    command.add_argument("--log", choices=("natural", "10", "ask"), default="ask", help="what log without a base means")
    command.add_argument("--seconds", type=float, default=10.0, help="the most that one row may take (default: 10)")
    command.add_argument("--workers", type=_count, default=1, metavar="N", help="processes that work at once")


def _count(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= 256:
        raise argparse.ArgumentTypeError("a whole number from 1 to 256")
    return int(text)


def _check(options: argparse.Namespace) -> int:
    from .book import build
    from .diagnostics.formats import json as as_json
    from .diagnostics.formats import text as as_text
    from .source.load import load

    try:
        root, only = _book_of([Path(path) for path in options.paths])
        sources = load(root)
    except (OSError, ValueError) as error:
        return _misused(str(error))
    made = build(sources, workers=options.workers, only=only)
    shown = root.relative_to(Path.cwd()).as_posix() + "/" if root.is_relative_to(Path.cwd()) else root.as_posix() + "/"
    problems, keys, right = _counts(made)
    if options.format == "json":
        print(as_json.render(made.diagnostics, summary={"problems": problems, "keys": keys, "right": right}), end="")
    else:
        colour = sys.stdout.isatty() and "NO_COLOR" not in os.environ
        print(as_text.render(made.diagnostics, sources, colour=colour, root=shown), end="")
        print(f"{problems} problem{'' if problems == 1 else 's'}; {right} of {keys} keys right.")
    return RIGHT if made.sound else WRONG


def _book_of(paths: Sequence[Path]) -> tuple[Path, list[str] | None]:
    """The content folder that the paths belong to, and the files in it that they name (None: the whole book).

    Raises:
        ValueError: a path that is not there, or that lies in no book, or in another one.
    """
    if not paths:
        paths = [Path("content")]
    for path in paths:
        if not path.exists():
            raise ValueError(f"{path} is not there")
    roots = {_root_of(path.resolve()) for path in paths}
    if len(roots) > 1:
        raise ValueError("these paths belong to different books; check them one after the other")
    root = roots.pop()
    if any(path.resolve() == root for path in paths):
        return root, None
    files = [f for path in paths for f in (sorted(path.rglob("*.md")) if path.is_dir() else [path])]
    return root, [file.resolve().relative_to(root).as_posix() for file in files]


def _root_of(path: Path) -> Path:
    """The nearest folder at or above a path that has a book.yml; without one, the path's own folder, or its parent for a chapter."""
    folder = path if path.is_dir() else path.parent
    for above in (folder, *folder.parents):
        if (above / "book.yml").is_file():
            return above
    return folder.parent if (folder / "index.md").is_file() and any(folder.parent.glob("*/index.md")) and path.is_file() else folder


def _counts(made: Book) -> tuple[int, int, int]:
    """Problems, keys, and keys that are right."""
    verdicts = [verdict for examined in made.examined for verdict in examined.keys]
    return len(made.examined), len(verdicts), sum(verdict.right for verdict in verdicts)


def _prove(options: argparse.Namespace) -> int:
    from .book.rows import prove, prove_line

    if options.question is None:
        return _answer_rows(options, prove_line, {"verdict": "undecided"})
    if options.answer is None or options.jsonl:
        return _misused("prove takes a question and an answer, or --jsonl")
    row = {"question": options.question, "answer": options.answer, "given": options.given, "domain": options.domain}
    result = prove(row, log=options.log, seconds=options.seconds)
    print(result["why"])
    return RIGHT if result["verdict"] in ("proved", "enclosed") else MISUSED if result["verdict"] == "unreadable" else WRONG


def _solve(options: argparse.Namespace) -> int:
    if options.question is None:
        from .book.rows import solve_line

        return _answer_rows(options, solve_line, {"routes": []})
    if options.jsonl:
        return _misused("solve takes a question, or --jsonl")
    from .book.rows import Unreadable, derived, explain, posed
    from .notation import NotationError
    from .render.terminal import worked

    try:
        question = posed({"question": options.question, "given": options.given}, options.log)
    except (NotationError, Unreadable) as error:
        return _misused(explain(error) if isinstance(error, NotationError) else str(error))
    found = derived(question, options.seconds)
    print(worked(found))
    return RIGHT if found.routes else WRONG


def _answer_rows(options: argparse.Namespace, answer: Callable[..., dict[str, Any]], failed: dict[str, Any]) -> int:
    """Answer every row with a row, in order, as soon as it is ready; a bad row never stops the others."""
    from .book.workers import Limits, Overrun, run

    try:
        lines = _lines(options.jsonl)
    except OSError as error:
        return _misused(f"{options.jsonl} could not be read: {error.strerror}")
    work = functools.partial(answer, log=options.log, seconds=options.seconds)
    seen: list[str] = []  # only the rows that are still being worked on: each is dropped as it is answered

    def noted() -> Iterator[str]:
        for line in lines:
            seen.append(line)
            yield line

    for count, result in enumerate(run(work, noted(), workers=options.workers, limits=Limits(options.seconds * 1.5 + 1, 2**30 * 3)), 1):
        line = seen.pop(0)
        print(json.dumps(_overrun(line, result, failed) if isinstance(result, Overrun) else result, ensure_ascii=False), flush=True)
        _progress(count)
    return RIGHT


def _overrun(line: str, overrun: Overrun, failed: dict[str, Any]) -> dict[str, Any]:
    why = {"time": "ran out of time", "memory": "ran out of memory"}.get(overrun.what, "the checker stopped")
    row = json.loads(line)
    return {"id": row.get("id") if isinstance(row, dict) else None, **failed, "why": f"could not be decided: {why}", "ms": None}


def _lines(file: str | None) -> Iterable[str]:
    stream = sys.stdin.buffer if file in (None, "-") else Path(file).open("rb")  # noqa: SIM115 - read to its end below
    return (text for line in stream if (text := line.decode("utf-8", "replace").strip()))


def _progress(count: int) -> None:
    if sys.stderr.isatty() and count % 20 == 0:
        print(f"\r{count} rows", end="", file=sys.stderr, flush=True)


def _misused(why: str) -> int:
    print(f"everyline: {why}", file=sys.stderr)
    return MISUSED


if __name__ == "__main__":
    sys.exit(main())
