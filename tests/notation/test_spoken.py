"""Formulas said aloud in the words of a language, which is a table that is handed in."""

from __future__ import annotations

from dataclasses import asdict, replace

import pytest

from everyline.language import languages, translator
from everyline.notation import ENGLISH, Context, mathml, parse, parse_domain, speech, spoken, words
from everyline.notation.spoken import listed

GERMAN = spoken(translator("de"))
CONTEXT = Context(frozenset("xabn"), log="natural")

#: (formula, aloud, in a title). How formulas are read aloud in German: common practice, no source.
SAID = [
    (r"\int x e^x \, dx", "Integral von x mal e hoch x nach dx", "Integral von x mal e hoch x"),
    (
        r"\int_0^1 \frac{x}{x+3} \, dx",
        "Integral von 0 bis 1 von Bruch x durch x plus 3, Ende Bruch nach dx",
        "Integral von 0 bis 1 von x durch x plus 3",
    ),
    (r"\frac{d}{dx} \sin^2 x", "Ableitung nach x von Sinus hoch 2 von x", "Ableitung von sin hoch 2 x"),
    (r"\frac{d^2}{dx^2} \ln x", "zweite Ableitung nach x von natürlicher Logarithmus von x", "Zweite Ableitung von ln x"),
    (
        r"\lim_{x\to0^+} \frac{\ln x}{x}",
        "Grenzwert für x gegen 0 von rechts von Bruch natürlicher Logarithmus von x durch x, Ende Bruch",
        "Grenzwert von ln x durch x für x gegen 0 von rechts",
    ),
    (r"\sqrt[3]{x+1}", "dritte Wurzel aus x plus 1, Ende Wurzel", "Dritte Wurzel aus x plus 1"),
    (r"\sqrt[12]{a}", "12-te Wurzel aus a", "12-te Wurzel aus a"),
    (r"\frac12 + \frac34", "ein halb plus 3 Viertel", "Ein halb plus 3 Viertel"),
    (r"|x| \le 2", "Betrag von x kleiner oder gleich 2", "Betrag von x kleiner oder gleich 2"),
    (r"\text{diverges}", "divergiert", "Divergiert"),
]


@pytest.mark.parametrize(("text", "aloud", "title"), SAID)
def test_german(text: str, aloud: str, title: str) -> None:
    tree = parse(text, CONTEXT)
    assert speech(tree, GERMAN) == aloud
    assert words(tree, GERMAN) == title


def test_a_decimal_has_the_mark_of_the_language() -> None:
    """DIN 1333 and ISO 80000-1, 7.3.2: the decimal sign is a comma (or a point)."""
    tree = parse("0.5x + 1{,}25", CONTEXT)
    assert speech(tree, GERMAN) == "0,5 x plus 1,25"
    assert "<mn>0,5</mn>" in mathml(tree, said=GERMAN)
    assert "<mn>0.5</mn>" in mathml(tree)


def test_where_a_question_is_asked_in_german() -> None:
    assert speech(parse_domain("0 < x <= 2", "x", CONTEXT), GERMAN) == "Intervall von 0 bis 2, nur das letzte Ende eingeschlossen"


@pytest.mark.parametrize("code", languages())
def test_a_list_has_as_many_parts_as_in_english(code: str) -> None:
    said = asdict(spoken(translator(code)))
    counts = {name: len(listed(text)) for name, text in asdict(ENGLISH).items()}
    assert {name: len(listed(said[name])) for name, count in counts.items() if count > 1} == {n: c for n, c in counts.items() if c > 1}


def test_the_order_of_a_template_is_the_language_s_own() -> None:
    turned = replace(ENGLISH, integral="{variable}, {integrand}: the integral")
    assert speech(parse(r"\int 2x \, dx", CONTEXT), turned) == "x, 2 x: the integral"
