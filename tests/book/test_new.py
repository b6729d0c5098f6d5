"""`everyline new`: a problem from its formula, and a teacher's old worksheet made into a checked book."""

from __future__ import annotations

import builtins
import csv
import io
import json
from pathlib import Path

import pytest

from everyline.book import read_and_build
from everyline.cli import main

BOOK = """
content/book.yml
    title: A small book
    log: natural
content/powers/index.md
    ---
    title: Powers
    order: 4
    introduces: [power, sum]
    ---
content/powers/cube.md
    ---
    question: \\int 12x^2 \\, dx
    key: 4x^3 + C
    title: A cube
    ---
"""


@pytest.fixture
def book(plant, monkeypatch: pytest.MonkeyPatch) -> Path:  # type: ignore[no-untyped-def]
    root: Path = plant(BOOK)
    monkeypatch.chdir(root)
    return root


def files(root: Path) -> dict[str, str]:
    return {path.relative_to(root).as_posix(): path.read_text("utf-8-sig") for path in sorted(root.rglob("*")) if path.is_file()}


def test_a_key_is_worked_out_shown_and_written(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", r"\int (6x^2 + 8x) \, dx", "--chapter", "powers", "--title", "A cube", "--level", "2", "--author", "R. Quay"]) == 0
    said = capsys.readouterr().out
    assert "Method 1" in said
    assert "Written: content/powers/a-cube.md" in said
    written = (book / "content/powers/a-cube.md").read_text()
    assert written.startswith(
        "---\nquestion: \\int (6x^2 + 8x) \\, dx\nkey: 2x^{3} + 4x^{2} + C\ntitle: A cube\nlevel: 2\nauthor: R. Quay\n"
    )
    made, _ = read_and_build(book / "content")
    assert made.sound
    assert len(made.examined) == 2


def test_no_file_is_written_over(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = files(book)
    assert main(["new", r"\int 5x^4 \, dx", "--chapter", "powers", "--title", "Cube"]) == 0
    assert "content/powers/cube-2.md" in capsys.readouterr().out
    assert before.items() <= files(book).items()


@pytest.mark.parametrize(
    ("arguments", "said", "code"),
    [
        ([r"\int \cos 5x \, dx", "--key", r"5\sin 5x + C", "--chapter", "powers"], "This key is wrong", 1),
        ([r"\int 12 x^2 \, dx", "--chapter", "powers"], "the book asks this question already", 1),
        ([r"\int e^{x^2} \, dx", "--chapter", "powers"], "no key was given, and none was found", 1),
        (["what is this", "--chapter", "powers"], "the question could not be read", 1),
        ([r"\int 2x \, dx", "--chapter", "powers", "--level", "hard"], "`level` cannot be `hard`", 1),
        ([r"\int 2x \, dx", "--chapter", "powers", "--title", "<b>x</b>"], "`title` holds HTML", 1),
        ([r"\int 2x \, dx"], "name a chapter with --chapter; there are: powers", 2),
        ([r"\int 2x \, dx", "--chapter", "power"], "no chapter 'power'; did you mean powers?", 2),
        ([r"\int 2x \, dx", "--chapter", "powers", "--book", "elsewhere"], "elsewhere is not the folder of a book", 2),
        (["--from", "nothing.csv"], "nothing.csv is not there", 2),
    ],
)  # fmt: skip
def test_what_is_not_proved_is_not_written(
    book: Path, arguments: list[str], said: str, code: int, capsys: pytest.CaptureFixture[str]
) -> None:
    before = files(book)
    assert main(["new", *arguments]) == code
    assert said in capsys.readouterr().err
    assert files(book) == before


@pytest.mark.parametrize(("last", "written"), [("y", True), ("n", False), (None, False)])
def test_a_person_is_asked(book: Path, monkeypatch: pytest.MonkeyPatch, last: str | None, written: bool) -> None:
    replies = iter(["powers", r"\int 20x^3 \, dx", "", "A fifth of a hundred", "1", *([last] if last else [])])

    def reply(_: str = "") -> str:
        try:
            return next(replies)
        except StopIteration:
            raise EOFError from None

    monkeypatch.setattr(builtins, "input", reply)
    assert main(["new"]) == (0 if last else 2)
    assert (book / "content/powers/a-fifth-of-a-hundred.md").exists() is written


WORKSHEET = [
    # what stands in the row; the file that is written, or what is said instead
    ({"question": r"\int 6x^2 dx", "answer": "2x^3 + C", "title": "Six squares"}, "old/six-squares.md"),
    ({"Question": r"\int 8x^3 dx", "Key": "2x^4", "chapter": "powers"}, "powers/integral-of-8-x-cubed.md"),
    ({"question": r"\int \frac{1}{x} dx", "key": ["ln|x| + C", r"\ln|4x| + C"], "title": "no: # 'really'"}, "old/no-really.md"),
    ({"question": r"\int \cos 5x dx", "answer": "5 sin 5x + C"}, "This key is wrong"),
    ({"question": r"\int 6 x^2 dx", "answer": "2x^3 + C"}, "asks this question already"),
    ({"question": "import os; os.system('touch pwned')", "answer": "1"}, "could not be read"),
    ({"question": r"\int x dx", "answer": "x^2/2 + C\nvouched: {name: me, reason: me}"}, "The key still holds `v`"),
    ({"question": "\\int 3 dx\n---\n# out", "answer": "3x + C"}, "could not be read"),
    ({"question": r"\int 7x dx", "title": "<script>alert(1)</script>"}, "holds HTML"),
    ({"question": r"\int 9x dx", "chapter": "../../outside"}, "outside/"),
    ({"question": r"\int 11x dx", "chapter": "assets"}, "chapter-assets/"),
    ({"question": r"\int 13x dx", "chapter": "/etc"}, "etc/"),
    ({"question": "(" * 3000}, "could not be read"),
    ({"question": "x" * 9000}, "is too long"),
    ({"question": r"\int 9^{9^{9^{9}}} dx"}, "not written"),
    ({"question": {"$where": "1"}}, "must be text"),
    ({"question": True}, "must be text"),
    ({"answer": "1"}, "there is no question"),
    ("[1, 2", "not a JSON object"),
    ("[]", "not a JSON object"),
    ("[" * 20000, "not a JSON object"),
    ({"question": r"\int 15x dx", "level": "=1+1"}, "`level` cannot be"),
    ({"question": r"\int 17x dx", "level": 2, "license": "CC0 1.0", "__proto__": {"x": 1}}, "old/"),
    ({"question": "\x00\x1b[2J", "title": "\u202e"}, "could not be read"),
]  # fmt: skip


def test_a_list_becomes_files_where_it_is_proved_and_the_rest_is_said_row_by_row(
    book: Path, tmp_path_factory: pytest.TempPathFactory, capsys: pytest.CaptureFixture[str]
) -> None:
    lists = tmp_path_factory.mktemp("lists")
    text = "\n".join(row if isinstance(row, str) else json.dumps(row) for row, _ in WORKSHEET)
    (lists / "old.jsonl").write_text(text)
    before = files(book)
    assert main(["new", "--from", str(lists / "old.jsonl"), "--workers", "2", "--seconds", "4", "--author", "R. Quay"]) == 1
    printed = capsys.readouterr().out.splitlines()
    report = list(csv.DictReader(io.StringIO((lists / "old-report.csv").read_text("utf-8-sig"), newline="")))
    assert len(report) == len(WORKSHEET) == len(printed) - 1
    for (row, expected), line, said in zip(WORKSHEET, report, printed[:-1], strict=True):
        told = line["File"] or f"not written {line['What was found']}"
        assert expected in told, (row, line)
        assert (line["Result"] == "written") == bool(line["File"]) == ("written as" in said)
        assert "\x1b" not in said
    after = files(book)
    assert before.items() <= after.items()
    new = after.keys() - before.keys()
    assert {f"content/{line['File']}" for line in report if line["File"]} == {path for path in new if not path.endswith("index.md")}
    assert sorted(path.name for path in lists.iterdir()) == ["old-report.csv", "old.jsonl"]
    made, _ = read_and_build(book / "content", workers=2)
    assert [d for d in made.diagnostics if d.severity == "error"] == []
    assert {verdict.outcome.grade for each in made.examined for verdict in each.keys} == {"proved"}  # type: ignore[union-attr]

    assert main(["new", "--from", str(lists / "old.jsonl"), "--workers", "2", "--seconds", "2"]) == 1
    assert files(book) == after, "a second run writes nothing new"
    assert (lists / "old-report-2.csv").exists()


def test_a_spreadsheet_becomes_a_new_book_in_one_command(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "Week 3.csv").write_bytes("\ufeffQUESTION;Answer;Level\r\n\\int 6x^2 dx;2x^3 + C;2\r\n\\int 10x dx;5x^2 + C;\r\n".encode())
    assert main(["new", "--from", "Week 3.csv", "--workers", "1"]) == 0
    made, _ = read_and_build(tmp_path / "content")
    assert made.sound
    assert [chapter.title for chapter in made.chapters] == ["Week 3"]
    assert len(made.examined) == 2


def test_a_chapter_that_is_a_link_to_another_place_is_not_written_to(book: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    outside = tmp_path_factory.mktemp("outside")
    (book / "content" / "linked").symlink_to(outside)
    assert main(["new", r"\int 14x \, dx", "--chapter", "linked"]) == 2
    assert list(outside.iterdir()) == []
