"""What `everyline check` says about a German book with one of each mistake: all of it in German, whoever reads it where."""

from __future__ import annotations

import json
import re
from argparse import Namespace
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from german_faults import COMPOSED, FAULTY, UNSHOWN
from german_words import english

from everyline.adapters.reporting import tell
from everyline.book import read_and_build
from everyline.book.data import Book
from everyline.cli import main
from everyline.cli.check import written
from everyline.diagnostics import codes, kind
from everyline.language import translator
from everyline.notation import Context, NotationError, parse, plain
from everyline.notation.message import fill
from everyline.render.manual import explanation
from everyline.source.load import Sources

#: What is quoted: names and formulas between backticks, a teacher's name, and what the library that reads YAML says.
QUOTED = re.compile(r"`[^`]*`|R\. Okafor|did not find expected key|int sin\(x\)/2 dx|https?://\S+|'…'|\\\w+")


@pytest.fixture(scope="module")
def found(tmp_path_factory: pytest.TempPathFactory) -> tuple[Book, Sources]:
    root = tmp_path_factory.mktemp("fehler")
    for path, text in (COMPOSED | {f"fluss/{code}.md": text for code, text in FAULTY.items()}).items():
        file = root / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(text.encode("latin-1" if path == "fluss/encoding.md" else "utf-8"))
    return read_and_build(root)


def checked(found: tuple[Book, Sources], form: str) -> str:
    """What `everyline check` prints in one of its formats."""
    return written(*found, Namespace(format=form, quiet=False), "content/", brief=False)


def said(fault: dict[str, Any]) -> list[str]:
    return [fault["headline"], *fault["notes"], fault["help"], *(also["text"] for also in fault["also"])]


def test_every_code_is_shown_and_none_of_its_words_is_english(found: tuple[Book, Sources]) -> None:
    faults = json.loads(checked(found, "json"))["diagnostics"]
    assert {fault["code"] for fault in faults} == set(codes()) - UNSHOWN
    assert [(fault["code"], text) for fault in faults for text in said(fault) if english(QUOTED.sub("", text))] == []


def test_a_terminal_says_it_in_german(found: tuple[Book, Sources]) -> None:
    shown = checked(found, "text")
    assert (
        r"""Falsch · key-wrong
Wo     content/fluss/key-wrong.md:3:6
         key: 3x^3 + C
              ^^^^^^^^
Was    Dieses Ergebnis ist falsch: Seine Ableitung ist nicht der Integrand.
       Die Ableitung des Ergebnisses ist 9x^2; der Integrand ist 6x^2.
"""
        in shown
    )
    assert re.search(r"\d+ Fehler, \d+ Warnungen, \d+ Hinweise\.\n\d+ Aufgaben; \d+ von \d+ Ergebnissen richtig\.\n$", shown)


def test_a_change_on_github_has_stable_codes_and_german_words(found: tuple[Book, Sources]) -> None:
    shown = checked(found, "github").splitlines()
    commands = [line.rpartition("::") for line in shown if line.startswith("::")]
    assert {re.search("title=([a-z-]+)", head)[1] for head, _, _ in commands} <= set(codes())  # type: ignore[index]
    assert [text for _, _, text in commands if english(QUOTED.sub("", text.replace("%0A", " ")))] == []
    assert any(line.startswith("GitHub zeigt von einem Schritt höchstens 10.") for line in shown)


def test_sarif_has_stable_codes_and_german_words(found: tuple[Book, Sources]) -> None:
    (run,) = json.loads(checked(found, "sarif"))["runs"]
    rules = run["tool"]["driver"]["rules"]
    assert {rule["id"] for rule in rules} == set(codes())
    texts = [rule[part]["text"] for rule in rules for part in ("shortDescription", "fullDescription", "help")]
    texts += [result["message"]["text"] for result in run["results"]]
    assert [text for text in texts if english(QUOTED.sub("", text))] == []


def test_a_build_says_it_in_german(found: tuple[Book, Sources], capsys: pytest.CaptureFixture[str]) -> None:
    tell(*found)
    assert "Was    In diesem Buch gibt es kein Kapitel `see`." in capsys.readouterr().err


def test_what_cannot_be_read_is_explained_in_german() -> None:
    table = json.loads((Path(__file__).parents[1] / "notation" / "examples.json").read_text("utf-8"))
    told = {}
    for row in table["rows"]:
        chosen = table["default"] | row.get("context", {})
        try:
            parse(
                row["text"],
                Context(frozenset(chosen["names"]), log=chosen["log"], decimal=chosen["decimal"]),
                answer=row.get("answer", False),
            )
        except NotationError as error:
            told[row["text"]] = [fill(each, plain, translator("de")) for each in (error.message, error.help) if each is not None]
    assert len(told) > 90
    assert [texts for texts in told.values() for text in texts if english(QUOTED.sub("", text))] == []


@pytest.mark.parametrize("code", codes())
def test_the_command_that_explains_a_code_speaks_german(code: str) -> None:
    about = replace(kind(code), wrong="", right="")
    assert english(QUOTED.sub("", explanation(about, translator("de")).replace(code, ""))) == []


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (["prove", r"\int 2x \, dx", "x^2 + q"], "Ergebnis: Bei Zeichen 7: „q“ ist nicht angegeben. Ist q ein Parameter"),
        (["prove", r"\int 2x \, dx", "x^3 + C"], "falsch bei x = 2: der Integrand ist "),
        (["solve", r"\int (2x \, dx"], "Bei Zeichen 13: Dieses dx gehört zu keinem Integral. "),
        (["new", r"\int 2x \, dx", "--chapter", "fluss", "--key", "x^3 + C"], "Nichts geschrieben: Dieses Ergebnis ist falsch: "),
        (["new", r"\int 4x \, dx", "--chapter", "fluss"], "Geschrieben: content/fluss/"),
        (["mend", "--yes"], "1 Datei verbessert. Es bleibt: Nichts zu verbessern."),
        (["suggest"], "Nichts vorzuschlagen: "),
        (["schema"], '"description": "Das Ergebnis; mehrere als Liste, alle richtig."'),
        (["why", "key-wrong"], "key-wrong: Falsches Ergebnis\n\nEin Fehler: "),
    ],
    ids=lambda value: value[0] if isinstance(value, list) else "",
)
def test_commands_speak_the_language_of_the_book(
    call: list[str], said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    fluss = tmp_path / "content" / "fluss"
    fluss.mkdir(parents=True)
    (fluss.parent / "book.yml").write_text("title: Am Hafen\nlanguage: de\n", "utf-8")
    (fluss / "index.md").write_text("---\ntitle: Fluss\norder: 1\n---\n", "utf-8")
    (fluss / "eins.md").write_text("---\nquestion: \\int 6x^2 \\, dx\nkey: 3x^3 + C\n---\n", "utf-8")
    monkeypatch.chdir(tmp_path)
    main(call)
    shown = capsys.readouterr()
    assert said in shown.out + shown.err
