"""The words that the build puts into the script: every name is known, every word is used, no language is left half said."""

from __future__ import annotations

import re

import pytest

from everyline.language import languages, translator
from everyline.render.script_words import SCRIPT_WORDS, with_words
from everyline.render.scripts import PARTS, script
from everyline.resources import site_source

FILES = {name: site_source().joinpath("script", *name.split("/")).read_text("utf-8") for names in PARTS.values() for name in names}
NAMED = set(re.findall(r"\bWORDS\.(\w+)", "\n".join(FILES.values())))
#: Words that only the build says: of intervals, and in titles.
BUILD_ONLY = re.compile("interval|brief_")


def test_the_script_names_every_word_and_no_other() -> None:
    assert {name for name in SCRIPT_WORDS if not BUILD_ONLY.match(name)} == NAMED


@pytest.mark.parametrize("name", FILES)
def test_no_file_says_a_sentence_of_its_own(name: str) -> None:
    """A text of two or more plain words, the first with a capital, is a sentence that no catalogue would find."""
    code = re.sub(r"/\*.*?\*/|^\s*//.*$|\s//[^\"\'`]*$", "", FILES[name], flags=re.DOTALL | re.MULTILINE)
    texts = re.findall(r"\"([A-Z][a-z]+(?: [a-z]+)+[^\"]*)\"", code)
    assert texts == []


@pytest.mark.parametrize("code", languages())
def test_no_name_and_no_english_place_is_left_in_the_script(code: str) -> None:
    text = script(code).decode()
    assert "WORDS" not in text
    assert not re.search(r"\{(inside|variable|place|exponent)\}", text)


def test_places_are_numbered_as_english_has_them() -> None:
    turned = {"the integral of {integrand} with respect to {variable}": "{variable}: {integrand}"}
    assert with_words("say(WORDS.integral)", lambda text: turned.get(text, text)) == 'say("②: ①")'


@pytest.mark.parametrize(
    ("there", "here"),
    [("New numbers", "Neue Zahlen"), ("the square root of ①", "Wurzel aus ①"), ("“①” is never closed.", "„①“ wird nicht geschlossen.")],
)
def test_german_is_in_the_script_of_a_german_book(there: str, here: str) -> None:
    english, german = script("en").decode(), script("de-AT").decode()
    assert (there in english, there in german) == (True, False)
    assert (here in english, here in german) == (False, True)


def test_nothing_is_said_for_a_name_that_is_not_known() -> None:
    with pytest.raises(KeyError):
        with_words("WORDS.nowhere", translator("de"))
