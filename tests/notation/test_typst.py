"""Formulas for paper: snapshots, and every readable row of the shared table set by the compiler and read back from the PDF."""

from __future__ import annotations

import io
import json
import re
from collections import Counter
from html import unescape
from pathlib import Path

import pypdf
import pytest
import typst as compiler
from printed import signs

from everyline.notation import Context, mathml, parse
from everyline.notation.tree import Node
from everyline.notation.typst import typst

CONTEXT = Context(frozenset("xau") | {"theta", "x_1"}, log="natural")

SET = [
    ("2πx", "2 pi x"),
    ("-x - 1", "- x - 1"),
    ("x(x-1)", "x lr(paren.l x - 1 paren.r)"),
    ("x^{3/2}", r"x^(3 \/ 2)"),
    (r"\frac{1}{x}", "frac(1, x)"),
    (r"\sqrt[3]{x}", "root(3, x)"),
    (r"\sin^2 3x", "sin^(2) 3 x"),
    (r"\sin x\,x", "sin x thin x"),
    (r"2\cdot 3", "2 dot.op 3"),
    (r"\ln|x+3| + C", "ln abs(x + 3) + C"),
    (r"\operatorname{artanh} x", 'op("artanh") x'),
    (r"\int_0^{\pi/2}\sqrt{x}\,dx", r"integral_(0)^(pi \/ 2) sqrt(x) thin d x"),
    (r"\lim_{x\to 0^+}\frac{\sin x}{x}", "lim_(x arrow.r 0^(+)) frac(sin x, x)"),
    (r"\frac{d^2}{dx^2}(x^3)", "frac(d^(2), d x^(2)) lr(bracket.l x^(3) bracket.r)"),
    (r"\left[x^2\right]_0^1", "lr(bracket.l x^(2) bracket.r)_(0)^(1)"),
    (r"x_1 + \theta", 'x_("1") + θ'),
    ("does not exist", '"does not exist"'),
]


@pytest.mark.parametrize(("text", "made"), SET, ids=[row[0] for row in SET])
def test_a_formula_is_set_for_paper(text: str, made: str) -> None:
    assert typst(parse(text, CONTEXT)) == made


def on_a_page(node: Node) -> Counter[str]:
    return signs(unescape(re.sub(r"<[^>]+>", "", mathml(node))))


def test_every_formula_of_the_table_is_in_the_pdf_sign_by_sign() -> None:
    """The page's own printer (MathML) is the second opinion."""
    table = json.loads((Path(__file__).parent / "examples.json").read_text(encoding="utf-8"))
    trees = []
    for row in (row for row in table["rows"] if "tree" in row):
        chosen = table["default"] | row.get("context", {})
        context = Context(frozenset(chosen["names"]), log=chosen["log"], decimal=chosen["decimal"])
        trees.append(parse(row["text"], context, answer=row.get("answer", False)))
    pages = "#pagebreak()\n".join(f"$ {typst(tree)} $\n" for tree in trees)
    made = compiler.compile(("#set page(width: 20cm, height: 4cm)\n" + pages).encode(), format="pdf", ignore_system_fonts=True)
    read = pypdf.PdfReader(io.BytesIO(made)).pages
    assert len(read) == len(trees) > 300
    assert [tree for tree, page in zip(trees, read, strict=True) if signs(page.extract_text()) != on_a_page(tree)] == []
