"""`everyline mark`: files in, files out, nothing lost, nothing run."""

from __future__ import annotations

import csv
import json
import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from everyline.cli import main

BOOK = """
content/book.yml
    title: A small book
    log: natural
content/powers/index.md
    ---
    title: Powers
    order: 1
    ---
content/powers/cube.md
    ---
    question: \\int 12x^2 \\, dx
    key: 4x^3 + C
    level: 2
    ---
content/powers/wave.md
    ---
    question: \\int \\cos 5x \\, dx
    key: \\frac15 \\sin 5x + C
    title: A quick wave, $\\cos 5x$
    ---
class.csv
    Student,Number,Answer
    =HYPERLINK("x"),1,5 sin 5x + C
    Bo,1,sin(5x)/5 + C
    Cy,1,what is this
    \x1b[31mDi,9,x
"""


def test_a_class_is_marked(plant, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:  # type: ignore[no-untyped-def]
    root: Path = plant(BOOK)
    monkeypatch.chdir(root)
    assert main(["mark", "powers", "class.csv", "--workers", "1"]) == 0
    said = capsys.readouterr().out
    assert "4 answers of 4 students" in said
    assert "Multiplied by the inner derivative" in said
    assert "line 4: Cy, what is this: could not be read" in said
    assert "\x1b" not in said
    table = (root / "class-marked.csv").read_text("utf-8-sig")
    assert table.splitlines()[0] == "Student,Number,Answer,Mark,Slip,What was found,Working,First wrong line"
    assert table.splitlines()[1].startswith('"\'=HYPERLINK(""x"")",1,5 sin 5x + C,wrong,')
    assert ",right," in table.splitlines()[2]
    picture = ElementTree.parse(root / "class-summary.svg")
    words = "".join(picture.getroot().itertext())
    assert r"A quick wave, \cos 5x" in words
    assert "$" not in words + said
    assert "Bo" not in words


def test_what_an_earlier_run_wrote_is_not_written_over(plant, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:  # type: ignore[no-untyped-def]
    root: Path = plant(BOOK)
    monkeypatch.chdir(root)
    (root / "class-marked.csv").write_text("remarks that a teacher wrote")
    assert main(["mark", "powers", "class.csv"]) == 2
    assert "class-marked.csv is there already" in capsys.readouterr().err
    assert (root / "class-marked.csv").read_text() == "remarks that a teacher wrote"
    assert main(["mark", "content/powers/wave.md", "class.csv", "--replace", "--workers", "1"]) == 0
    assert "right" in (root / "class-marked.csv").read_text("utf-8-sig")


GERMAN = BOOK.replace("title: A small book", "title: Ein Buch\n    language: de")
HANDED = """\
Student,Number,Answer,Working
Ada,1,5 sin 5x + C,
Bo,1,sin(5x)/5,
Cy,1,what is this,
Di,9,x,
Eve,2,4x^3 + C,= 4x^3 + C
Flo,2,,= 4x^2 + C
Gil,2,3x^3,
Hal,1,01-Feb,
"""
#: Words that a German text has not.
ENGLISH = re.compile(r"\b(?:the|of|and|is|not|line|row|answers?|students?|wrong|right|could|read|written|slips?|missing)\b", re.IGNORECASE)


def test_a_class_is_marked_in_the_language_of_its_book(plant, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:  # type: ignore[no-untyped-def]
    root: Path = plant(GERMAN)
    (root / "class.csv").write_text(HANDED)
    monkeypatch.chdir(root)
    assert main(["mark", "powers", "class.csv", "--workers", "1"]) == 0
    said = capsys.readouterr().out
    wanted = [
        "8 Antworten von 8 Personen",
        "Fehler, die häufigsten zuerst:",
        "Zeile 4: Cy, what is this: war nicht zu lesen",
        "Geschrieben: ",
    ]
    assert [part for part in wanted if part not in said] == []
    columns, *rows = csv.reader((root / "class-marked.csv").read_text("utf-8-sig").splitlines())
    assert columns == ["Student", "Number", "Answer", "Mark", "Slip", "What was found", "Working", "First wrong line"], "stable"
    assert [row[3] for row in rows] == [
        "falsch",
        "richtig",
        *2 * ["war nicht zu lesen"],
        "richtig",
        "falsch",
        "falsch",
        "war nicht zu lesen",
    ]
    assert rows[1][5] == "die Integrationskonstante fehlt"
    assert rows[3][5] == "das Blatt hat keine Aufgabe 9"
    assert rows[4][6] == "die Zeile folgt"
    assert rows[5][6].startswith("Zeile 1 folgt nicht: falsch bei x = 2: davor ")
    assert "der Integrand ist" in rows[6][5]
    assert "sieht wie ein Datum aus" in rows[7][5]
    # Why a formula cannot be read is still said in English, by the reader itself.
    ours = [cell for row in rows for cell in row[3:] if row[0] not in ("Cy", "Hal")]
    assert [cell for cell in ours if ENGLISH.search(cell)] == []
    picture = "".join(ElementTree.parse(root / "class-summary.svg").getroot().itertext())
    assert "So hat die Klasse abgeschnitten" in picture
    assert ENGLISH.findall(picture.replace("A quick wave", "")) == []


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["powers", "nobody.csv"], "nobody.csv is not there"),
        (["nothing", "class.csv"], "nothing is no problem and no chapter of this book"),
        (["powers", "content/book.yml"], "no table was found"),
        (["powers", "class.csv", "--book", "elsewhere"], "elsewhere"),
        (["content/book.json", "class.csv"], "content/book.json is not there"),
        (["../../etc", "class.csv"], "../../etc is no problem"),
    ],
)
def test_a_wrong_call_is_said_in_one_line(
    arguments: list[str],
    said: str,
    plant,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],  # type: ignore[no-untyped-def]
) -> None:
    root: Path = plant(BOOK)
    monkeypatch.chdir(root)
    assert main(["mark", *arguments]) == 2
    error = capsys.readouterr().err
    assert said in error
    assert error.count("\n") == 1
    assert sorted(path.name for path in root.iterdir()) == ["class.csv", "content"]


FAMILY = """
content/powers/many.md
    ---
    question: \\int b x^a \\, dx
    key: \\frac{b x^{a+1}}{a+1} + C
    level: 3
    vary: {a: 2..6, b: 2..9}
    ---
sheet.json
    {"A": [["powers/many.md", {"a": 3, "b": 8}], ["powers/cube.md", null]],
     "B": [["powers/cube.md", null], ["powers/many.md", {"a": 4, "b": 5}]]}
class.csv
    Name,Version,No.,Answer
    Ada,A,1,2x^4 + C
    Bo,B,2,2x^4 + C
    Cy,b,2,x^5 + C
    Di,,1,x^5 + C
    Eve,A,2,4x^3 + C
"""


def test_versions_are_marked_each_by_its_own_numbers(plant, monkeypatch: pytest.MonkeyPatch) -> None:  # type: ignore[no-untyped-def]
    root: Path = plant(BOOK + FAMILY)
    monkeypatch.chdir(root)
    assert main(["mark", "sheet.json", "class.csv", "--workers", "1"]) == 0
    rows = (root / "class-marked.csv").read_text("utf-8-sig").splitlines()
    assert [row.split(",")[4] for row in rows] == ["Mark", "right", "wrong", "right", "could not be read", "right"]


@pytest.mark.parametrize(
    "numbers", ['{"a": 3}', '{"a": 3, "b": "x"}', '{"a": 1e99, "b": 1}', "[3, 8]", '{"a": -1, "b": 8, "c": 1}', '{"a": -1, "b": 8}']
)
def test_numbers_that_the_family_does_not_have_are_said_so(
    numbers: str,
    plant,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],  # type: ignore[no-untyped-def]
) -> None:
    root: Path = plant(BOOK + FAMILY)
    monkeypatch.chdir(root)
    (root / "sheet.json").write_text(f'{{"A": [["powers/many.md", {numbers}]]}}')
    assert main(["mark", "sheet.json", "class.csv"]) == 2
    assert "has no instance with the numbers of the record" in capsys.readouterr().err


def test_a_set_is_a_sheet(plant, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:  # type: ignore[no-untyped-def]
    root: Path = plant(BOOK + "content/sets/week.md\n    ---\n    title: Week\n    problems: [powers/cube, powers/wave]\n    ---\n")
    monkeypatch.chdir(root)
    assert main(["mark", "week", "class.csv", "--workers", "1"]) == 0
    assert "1  Cube" in capsys.readouterr().out


def test_the_record_that_the_printed_sheet_leaves_is_the_sheet_that_is_marked(plant, monkeypatch: pytest.MonkeyPatch) -> None:  # type: ignore[no-untyped-def]
    """The key of each version, as it is printed, is right for that version."""
    root: Path = plant(BOOK + FAMILY)
    monkeypatch.chdir(root)
    assert main(["sheet", "powers", "--versions", "A,B", "--format", "md", "--key", "short", "--out", "week.md", "--workers", "1"]) == 0
    printed = (root / "week.md").read_text()
    keys = re.findall(r"^\d+\. \$(.+)\$$", printed[printed.index("key to version A") :], re.MULTILINE)
    record = json.loads((root / "week.json").read_text())
    numbered = [(version, n) for version, entries in record.items() for n in range(1, len(entries) + 1)]
    assert len(keys) == len(numbered) == 6, printed
    with (root / "class.csv").open("w", newline="") as file:
        writer = csv.writer(file)
        writer.writerows([["Version", "Number", "Answer"], *((v, n, key) for (v, n), key in zip(numbered, keys, strict=True))])
    assert main(["mark", "week.json", "class.csv", "--workers", "1"]) == 0
    with (root / "class-marked.csv").open(encoding="utf-8-sig", newline="") as file:
        assert [row["Mark"] for row in csv.DictReader(file)] == ["right"] * 6
