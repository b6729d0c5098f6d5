"""The catalogues of languages against the sentences that the code says."""

from __future__ import annotations

import ast
import re
from importlib.resources import files
from pathlib import Path

import pytest

from everyline.book.words import DETAILS
from everyline.language import ENGLISH, catalogue, day, languages, number, percent, translator
from everyline.language.keeping import brought_up_to_date
from everyline.language.sentences import sentences
from everyline.notation import plain
from everyline.notation.build import power
from everyline.notation.message import fill, say
from everyline.notation.tree import Name

PACKAGE = Path(str(files("everyline")))
OTHERS = [code for code in languages() if code != ENGLISH]


def places(text: str) -> set[str]:
    """The `{named}` places of a sentence; other braces are those of a formula."""
    return set(re.findall(r"\{(\w+)\}", text))


@pytest.fixture(scope="module")
def said() -> dict[str, str]:
    return sentences(PACKAGE)


def test_german_is_there() -> None:
    assert "de" in OTHERS


@pytest.mark.parametrize("code", OTHERS)
def test_every_sentence_is_translated_and_nothing_else(code: str, said: dict[str, str]) -> None:
    assert len(said) > 400
    assert sorted(set(said) - set(catalogue(code))) == []
    assert sorted(set(catalogue(code)) - set(said)) == []


@pytest.mark.parametrize("code", OTHERS)
def test_both_sides_have_the_same_places(code: str) -> None:
    assert [text for text, other in catalogue(code).items() if places(text) != places(other)] == []


@pytest.mark.parametrize("code", OTHERS)
def test_the_file_is_as_the_tool_writes_it(code: str, said: dict[str, str]) -> None:
    written = (PACKAGE / "language" / f"{code}.po").read_bytes()
    assert brought_up_to_date(written, code, said) == written


def test_bringing_up_to_date_keeps_adds_and_drops() -> None:
    before = 'msgid ""\nmsgstr ""\n"Language: de\\n"\n\nmsgid "Old."\nmsgstr "Alt."\n\nmsgid "Gone."\nmsgstr "Weg."\n'
    after = brought_up_to_date(before.encode(), "de", {"Old.": "a.py", "New.": "b.py"}).decode()
    assert 'msgid "Old."\nmsgstr "Alt."' in after
    assert 'msgid "New."\nmsgstr ""' in after
    assert "Gone." not in after


def test_sentences_are_found_where_they_are_said(tmp_path: Path) -> None:
    (tmp_path / "one.py").write_text(
        'say("A {x}.", x=1)\nhere.tell("B" if y else "C")\nsentence("D")\nTechnique(id="e", title="F")\nother("G")\nsay("{0}")\n', "utf-8"
    )
    assert set(sentences(tmp_path)) == {"A {x}.", "B", "C", "D", "F"}


@pytest.mark.parametrize(
    ("code", "shown"),
    [("de", "Produktregel"), ("de-AT", "Produktregel"), ("de_CH", "Produktregel"), ("en", "Product rule"), ("xx", "Product rule")],
)
def test_what_a_language_says(code: str, shown: str) -> None:
    assert translator(code)("Product rule") == shown


def test_a_phrase_in_a_sentence_is_translated_too() -> None:
    message = say("Both have {things}.", things=say("{first} and {last}", first=say("a root"), last=say("a logarithm")))
    assert fill(message, plain) == "Both have a root and a logarithm."
    assert fill(message, plain, translator("de")) == "In beiden steht eine Wurzel und ein Logarithmus."
    assert fill(say("Both hold {part}.", part=power(Name("x"), 2)), plain, translator("de")) == "In beiden steht x^2."


def test_values_go_into_the_places_of_what_is_said() -> None:
    assert translator("de")("Put {name} = {inside} back.", name="u", inside="2x") == "Setze u = 2x wieder ein."
    assert translator("en")("Put {name} = {inside} back.", name="u", inside="2x") == "Put u = 2x back."
    assert translator("de")("{words}") == "{words}"


# Unicode CLDR, `de` and `en_GB`: the long form of a date, the marks in numbers, the pattern of per cent (with a no-break space).
@pytest.mark.parametrize(
    ("code", "date", "large", "share"),
    [
        ("en", "9 March 2027", "-1,234.5", "45%"),
        ("de", "9. März 2027", "-1.234,5", "45\N{NO-BREAK SPACE}%"),
        ("de-AT", "9. März 2027", "-1.234,5", "45\N{NO-BREAK SPACE}%"),
        # A language without a catalogue: our words are English there, so are the figures between them.
        ("xx", "9 March 2027", "-1,234.5", "45%"),
    ],
)
def test_days_and_numbers_are_as_the_language_writes_them(code: str, date: str, large: str, share: str) -> None:
    assert (day("2027-03-09", code), number("-1,234.5", code), percent(0.45, code)) == (date, large, share)


def test_what_the_checker_says_at_its_limits_is_listed_for_the_catalogue() -> None:
    """The trusted rooms cannot mark their sentences themselves: they import nothing but the tree."""
    files = (file for room in ("arithmetic", "kernel") for file in (PACKAGE / room).glob("*.py"))
    nodes = (node for file in files for node in ast.walk(ast.parse(file.read_text("utf-8"))))
    calls = (node for node in nodes if isinstance(node, ast.Call) and ast.unparse(node.func) in ("Budget", "NotSupported", "Undecided"))
    last = (call.args[-1] for call in calls if call.args)
    said = {argument.value for argument in last if isinstance(argument, ast.Constant) and " " in str(argument.value)}
    assert len(said) > 12
    assert said == DETAILS
