"""The scripts that pages load: nothing changes its meaning when they are made small."""

from __future__ import annotations

import re

import minify
import pytest

from everyline.render.scripts import PARTS, shortened, source

TARGET = r"(?:[\w$]+|\[[^\]=]*\]|\{[^}=]*\}) = "
DECLARATION = re.compile(r"^ *(?:const|let) (.*);$", re.MULTILINE)
RUN = re.compile(r"(?:^ *(?:const|let) .*;\n)+", re.MULTILINE)
WRONG = "function f() {\n  const a = take();\n  const [b, c] = scripts(), d = 1;\n  return [a, b, c, d];\n}\n"


def moved(text: str) -> list[str]:
    """Places where the tool that makes scripts small would exchange two calls: a plain declaration, then one that takes a value apart.

    Only declarations on one line each are looked at; one that needs a name of those before it stays behind them.
    """
    found = []
    for run in RUN.findall(text):
        calls: list[str] = []
        for part in (part for line in DECLARATION.findall(run) for part in re.split(rf", (?={TARGET})", line)):
            target, _, value = part.partition(" = ")
            needs = any(re.search(rf"(?<![\w.$]){re.escape(name)}\b", value) for name in calls)
            if target[0] not in "[{":
                calls += [target] if "(" in value and "=>" not in value else []
            elif "(" in value and calls and not needs:
                found.append(part)
    return found


@pytest.mark.parametrize("name", PARTS)
def test_no_call_is_moved_before_another(name: str) -> None:
    assert not moved(source(name)), "put the declaration that takes something apart first, or a statement between the two"


def test_such_a_place_is_found_and_is_still_wrong() -> None:
    """When this fails, the fault is mended in minify-go and this file can go."""
    made = minify.string("application/javascript", WRONG)
    assert made.index("scripts") < made.index("take")
    assert moved(WRONG)


@pytest.mark.parametrize("name", PARTS)
def test_scripts_ask_nobody_and_evaluate_no_text(name: str) -> None:
    text = shortened(name)
    assert not re.search(r"\beval\(|\bFunction\(|https?:|fetch\(|XMLHttpRequest|import\(", text)
    assert len(text) < len(source(name)) * 0.8
