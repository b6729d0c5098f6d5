"""Print → read gives the tree back, for every tree that can be written (property, no outside source)."""

from __future__ import annotations

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from strategies import NAMES, expressions, formulas

from everyline.notation import Context, NotationError, calculator_form, latex, mathml, outline, parse, plain, speech, words
from everyline.notation.tree import Node

CONTEXT = Context(NAMES, log="natural")


def read(text: str) -> Node:
    """Numbers too large to be read are no canonical trees."""
    try:
        return parse(text, CONTEXT)
    except NotationError as error:
        assume(error.code != "limit")
        raise


@settings(deadline=None, max_examples=400)
@given(formulas)
def test_latex_is_read_back_as_the_same_tree(tree: Node) -> None:
    assert read(latex(tree)) == tree


@settings(deadline=None, max_examples=400)
@given(formulas)
def test_plain_text_is_read_back_as_the_same_tree(tree: Node) -> None:
    assert read(plain(tree)) == tree


@settings(deadline=None, max_examples=400)
@given(formulas)
def test_plain_text_with_every_operator_is_read_back_without_what_calculators_lack(tree: Node) -> None:
    assert read(plain(tree, every_operator=True)) == calculator_form(tree)


@settings(deadline=None, max_examples=200)
@given(expressions)
def test_every_operator_is_written_so_that_a_program_can_evaluate_it(tree: Node) -> None:
    text = plain(tree, every_operator=True).replace("^", "**").replace("infinity", "inf")
    compile(text, "formula", "eval")  # compiled, never run: no sign is left out


@settings(deadline=None, max_examples=200)
@given(formulas)
def test_every_tree_can_be_said_and_outlined(tree: Node) -> None:
    assert speech(tree).strip()
    assert words(tree)[0].isupper() or not words(tree)[0].isalpha()
    assert outline(tree)


@settings(deadline=None, max_examples=200)
@given(formulas, st.booleans())
def test_mathml_is_well_formed_and_carries_its_spoken_text(tree: Node, display: bool) -> None:
    import xml.etree.ElementTree as ET

    element = ET.fromstring(mathml(tree, display))
    assert element.tag == "math"
    assert element.get("alttext") == speech(tree)
    assert (element.get("display") == "block") is display
    children = {"mfrac": 2, "msup": 2, "msub": 2, "mroot": 2, "munder": 2, "msubsup": 3}
    for part in element.iter():
        assert len(part) == children.get(part.tag, len(part)), part.tag
