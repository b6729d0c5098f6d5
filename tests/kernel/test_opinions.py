"""The checker's verdicts beside those of SymPy, mpmath at 50 digits and, where it is, Debian's Maxima. Any disagreement fails."""

from __future__ import annotations

import re
import shutil
import subprocess
from functools import cache
from typing import Any

import mpmath
import pytest
import sympy
from published import OWN, asked, rows
from wrong_keys import POINTS, is_real, seems_wrong

from everyline.book.rows import prove

KINDS = ("indefinite", "derivative")


@cache
def opinions() -> list[tuple[dict[str, Any], bool]]:
    """Right and wrong rows of the tables, and whether the checker proves each."""
    right = [row for row in rows(OWN / "tables.jsonl") if row["kind"] in KINDS]
    wrong = [{**row, "answer": row["wrong_answer"]} for row in rows(OWN / "wrong_tables.jsonl") if row["kind"] in KINDS]
    return [(row, prove(row, log="natural")["verdict"] == "proved") for row in right + wrong]


def test_mpmath_agrees() -> None:
    assert [row["id"] for row, proved in opinions() if proved == seems_wrong(*asked(row))] == []


def difference(row: dict[str, Any]) -> Any:
    """Integrand less derivative of the key (or the like), by SymPy."""
    x = sympy.Symbol(row["variable"], real=True)
    f, key = (sympy.sympify(row[name], locals={row["variable"]: x}) for name in ("integrand", "answer"))
    return sympy.diff(key, x) - f if row["kind"] == "indefinite" else sympy.diff(f, x) - key


def test_sympy_agrees() -> None:
    """SymPy differentiates; mpmath only adds up what it finds."""
    compared = 0
    for row, proved in opinions():
        found = [abs(gap) for gap in map(_gap_by(difference(row), row["variable"]), points(row)) if gap is not None]
        assert blind(row) or not found or all(gap < 1e-30 for gap in found) == proved, row["id"]
        compared += bool(found)
    assert compared > 0.9 * len(opinions())


def points(row: dict[str, Any]) -> list[Any]:
    """Where both sides have real values: elsewhere there is nothing to compare."""
    question, key = asked(row)
    return [x for x in POINTS if is_real(question.body, question, x) and is_real(key, question, x)]


def blind(row: dict[str, Any]) -> bool:
    """Wrong only because it is undefined on a part of the domain, which no difference shows."""
    return "missing absolute value" in row.get("mistake", "")


def _gap_by(gap: Any, variable: str) -> Any:
    by_mpmath = sympy.lambdify(sympy.Symbol(variable, real=True), gap, "mpmath")

    def at(x: Any) -> Any:
        with mpmath.workdps(50):
            try:
                here = by_mpmath(mpmath.mpf(x.numerator) / x.denominator)
            except (ValueError, ZeroDivisionError):
                return None
            return here if mpmath.isfinite(here) and mpmath.im(here) == 0 else None

    return at


def in_maxima(text: str) -> str:
    text = re.sub(r"\bAbs\b", "abs", re.sub(r"\bE\b", "%e", re.sub(r"\bpi\b", "%pi", text)))
    return text.replace("infinity", "inf")


def test_maxima_agrees() -> None:
    """One batch: at points of the domain, the value (50 digits) of Maxima's derivative of the key less the integrand; its own limits."""
    maxima = shutil.which("maxima")
    if maxima is None:
        pytest.skip("Maxima is not here")
    script = ["display2d:false$ fpprec:50$ domain:real$ linel:100000$"]
    for place, (row, _) in enumerate(opinions()):
        f, key, x = in_maxima(row["integrand"]), in_maxima(row["answer"]), row["variable"]
        left, right = (f, key) if row["kind"] == "indefinite" else (key, f)
        script.append(f"gap:errcatch(diff({right},{x})-({left}))$")
        values = ",".join(f"errcatch(bfloat(subst({x}={p},gap[1])))" for p in points(row)[:5])
        script.append(f'print("ROW",{place},[{values}])$')
    limits = [row for row in rows(OWN / "tables.jsonl") if row["kind"] == "limit"]
    for place, row in enumerate(limits):
        f, point, answer = map(in_maxima, (row["integrand"], row["lower"], row["answer"]))
        side = {"+": ",plus", "-": ",minus"}.get(row.get("side") or "", "")
        script.append(f'print("LIMIT",{place},errcatch(bfloat(limit({f},{row["variable"]},{point}{side})-({answer}))))$')
    said = subprocess.run([maxima, "--very-quiet"], input="\n".join(script), capture_output=True, text=True, timeout=120, check=True).stdout
    told = dict(re.findall(r"ROW (\d+) (.*)", said))
    compared = 0
    for place, (row, proved) in enumerate(opinions()):
        found = [abs(float(number.replace("b", "e"))) for number in re.findall(r"\[(-?[\d.]+b[+-]?\d+)\]", told[str(place)])]
        assert blind(row) or not found or (max(found) < 1e-30) == proved, (row["id"], told[str(place)])
        compared += bool(found)
    assert compared > 0.8 * len(opinions())
    zeros = re.findall(r"LIMIT \d+ \[(\S+)\]", said)
    assert len(zeros) >= len(limits) - 1
    assert all(prove(row, log="natural")["verdict"] == "proved" for row in limits)
    assert all(abs(float(zero.replace("b", "e"))) < 1e-30 for zero in zeros if re.fullmatch(r"-?[\d.]+b?[+-]?\d*", zero))
