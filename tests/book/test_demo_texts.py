"""What the demo book says in words: how long its pages are, how they are spelt, and that each chapter has what a chapter has."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

CONTENT = Path(__file__).resolve().parents[2] / "content"
GENERAL = ("how-to-use.md", "two-answers.md", "choosing-a-method.md")
CHAPTERS = sorted(path for path in CONTENT.glob("*/index.md"))
TEXTS = sorted(CONTENT.rglob("*.md"))

#: Spellings of the other side of the Atlantic, and words that exclude or only fill (common practice, no source).
AMERICAN = r"\b(color|center|behavior|favor|favorite|neighbor|labor|analyze|recogni[z]e|organi[z]e|reali[z]e|practicing|canceled|math)\b"
FILLER = (
    r"\b(obviously|clearly|simply|trivial|trivially|basically|of course|easy to see|as we all know|he or she|his or her|mankind|guys)\b"
)


def body(path: Path) -> str:
    return path.read_text("utf-8").split("---\n", 2)[-1]


def words(text: str) -> int:
    """Words as a reader counts them, a formula between dollars as one."""
    return len(re.sub(r"\$[^$]*\$", "x", re.sub(r"\]\([^)]*\)", "]", text)).split())


@pytest.mark.parametrize("name", GENERAL)
def test_a_general_page_is_under_400_words(name: str) -> None:
    assert 100 < words(body(CONTENT / name)) < 400


def test_there_are_twelve_chapter_pages() -> None:
    assert len(CHAPTERS) == 12


@pytest.mark.parametrize("path", CHAPTERS, ids=lambda path: path.parent.name)
def test_a_chapter_page_is_half_a_screen_and_one_worked_example(path: Path) -> None:
    new, *examples = body(path).split("**Worked example.**")
    assert len(examples) == 1
    # Half a screen of a laptop holds about 130 words of the size that the book is set in (measured: 1280 by 800).
    assert 30 < words(new) <= 130
    assert examples[0].lstrip().startswith("Find ")


@pytest.mark.parametrize("path", CHAPTERS, ids=lambda path: path.parent.name)
def test_the_worked_example_is_not_one_of_the_chapters_problems(path: Path) -> None:
    example = re.search(r"Find (?:the area between )?\$(.*?)\$", body(path).split("**Worked example.**")[1])
    assert example is not None
    questions = [re.search(r"^question: (.*)$", other.read_text("utf-8"), re.M) for other in path.parent.glob("*.md") if other != path]
    assert _bare(example[1]) not in {_bare(found[1]) for found in questions if found}


def _bare(formula: str) -> str:
    """A formula without what does not change its kind: spaces, thin spaces, the number in front."""
    return re.sub(r"\\[,;]|\s", "", re.sub(r"\\frac\{\d+\}", r"\\frac{1}", formula))


@pytest.mark.parametrize("unwanted", [AMERICAN, FILLER], ids=["spelling", "filler"])
def test_the_spelling_is_british_and_no_word_fills_or_excludes(unwanted: str) -> None:
    texts = {str(path.relative_to(CONTENT)): re.sub(r"\$[^$]*\$", "", path.read_text("utf-8")) for path in TEXTS}
    assert len(texts) > 300
    assert {name: found for name, text in texts.items() if (found := re.findall(unwanted, text, re.I))} == {}
