"""Diagnosis as a whole: right keys corrupted by every slip and every mutation, places of the fault, and what is never offered."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from everyline.kernel import Checked, check
from everyline.notation import Context, parse, parse_given, parse_question, plain
from everyline.notation.build import walk
from everyline.notation.question import Given, Question
from everyline.notation.tree import Node
from everyline.slips import corruptions, diagnose, wrong_answers
from everyline.slips.compare import same
from everyline.slips.diagnose import claim_of

NUMBERS = st.integers(2, 9)

#: Forms of questions with their right keys; the numbers are drawn.
FORMS: tuple[tuple[str, str], ...] = (
    (r"\int {a}x^{n} \, dx", r"\frac{{a}x^{m}}{{m}} + C"),
    (r"\int ({a}x + {b})^{n} \, dx", r"\frac{({a}x + {b})^{m}}{{m} \cdot {a}} + C"),
    (r"\int \cos {a}x \, dx", r"\frac{1}{{a}} \sin {a}x + C"),
    (r"\int \sin({a}x + {b}) \, dx", r"-\frac{\cos({a}x + {b})}{{a}} + C"),
    (r"\int x^{n} + {b}e^{{a}x} \, dx", r"\frac{x^{m}}{{m}} + \frac{{b}}{{a}} e^{{a}x} + C"),
    (r"\int \frac{1}{{a}x + {b}} \, dx", r"\frac{1}{{a}} \ln|{a}x + {b}| + C"),
    (r"\int \frac{1}{x^2 + {a}^2} \, dx", r"\frac{1}{{a}} \arctan\frac{x}{{a}} + C"),
    (r"\int \sec^2 {a}x - {b} \, dx", r"\frac{1}{{a}} \tan {a}x - {b}x + C"),
    (r"\int x\sin {a}x \, dx", r"\frac{\sin {a}x}{{a}^2} - \frac{x\cos {a}x}{{a}} + C"),
    (r"\int \cos^{n} x \sin x \, dx", r"-\frac{\cos^{m} x}{{m}} + C"),
    (r"\int \frac{x}{\sqrt{x^2 + {a}}} \, dx", r"\sqrt{x^2 + {a}} + C"),
    (r"\frac{d}{dx} (x^{n} \sin {a}x)", r"{n}x^{l} \sin {a}x + {a}x^{n} \cos {a}x"),
    (r"\frac{d}{dx} \frac{x^{n}}{x + {b}}", r"\frac{{n}x^{l} (x + {b}) - x^{n}}{(x + {b})^2}"),
)


def filled(text: str, a: int, b: int, n: int) -> str:
    for name, value in (("{a}", a), ("{b}", b), ("{n}", n), ("{m}", n + 1), ("{l}", n - 1)):
        wrapped = name[0] + name + name[1]
        text = text.replace(wrapped, "{" + str(value) + "}").replace(name, str(value) if value < 10 else "{" + str(value) + "}")
    return text


def posed(form: tuple[str, str], a: int, b: int, n: int) -> tuple[Question, Node]:
    question = parse_question(filled(form[0], a, b, n), Given(), Context())
    return question, parse(filled(form[1], a, b, n), Context().of(question), answer=True)


def by_the_slips(question: Question, right: Node) -> tuple[Node, ...]:
    return tuple(wrong for _, wrong in wrong_answers(question, right))


def by_mutation(question: Question, right: Node) -> tuple[Node, ...]:
    return corruptions(right, question.variable)


MAKERS: dict[str, Callable[[Question, Node], tuple[Node, ...]]] = {"slips": by_the_slips, "mutations": by_mutation}


@settings(max_examples=60, deadline=None)
@given(
    form=st.sampled_from(FORMS),
    numbers=st.tuples(NUMBERS, NUMBERS, st.integers(2, 7)),
    maker=st.sampled_from(sorted(MAKERS)),
    data=st.data(),
)
def test_what_is_offered_for_a_corrupted_key_is_always_right(
    form: tuple[str, str], numbers: tuple[int, int, int], maker: str, data: st.DataObject
) -> None:
    question, right = posed(form, *numbers)
    wrong = data.draw(st.sampled_from(MAKERS[maker](question, right)), label="wrong")
    found = diagnose(question, wrong, right=right)
    assert found is not None or maker == "mutations"
    if found is not None:
        assert isinstance(check(claim_of(question, found.repaired)), Checked)
        assert same(question, found.repaired, right)
        assert not same(question, found.repaired, wrong)


@pytest.mark.parametrize("maker", sorted(MAKERS))
@pytest.mark.parametrize("known", [False, True], ids=["from the wrong key alone", "with a right answer known"])
def test_at_least_19_in_20_corrupted_keys_are_diagnosed(maker: str, known: bool) -> None:
    found = tried = 0
    missed = []
    for form in FORMS:
        question, right = posed(form, 3, 5, 4)
        for wrong in MAKERS[maker](question, right)[:: 3 if known else 1]:  # every third of the easier ones, for the sake of time
            if isinstance(check(claim_of(question, wrong)), Checked):
                continue
            tried += 1
            if diagnose(question, wrong, right=right if known else None) is None:
                missed.append(plain(wrong))
            else:
                found += 1
    assert found >= 0.95 * tried, missed


@pytest.mark.parametrize(
    ("question", "claimed", "slip", "fault", "repaired"),
    [
        (
            r"\int x^4 + \cos 6x \, dx",
            r"\frac{x^5}{5} + \sin 6x + C",
            "inner-derivative-lost",
            r"\sin 6x",
            r"\frac{x^5}{5} + \frac{\sin 6x}{6} + C",
        ),
        (
            r"\int x^2 \sqrt{x^3 + 1} \, dx",
            r"\frac{2}{3} (x^3 + 1)^{3/2} + C",
            "constant-lost",
            r"\frac{2}{3} (x^3 + 1)^{3/2}",
            r"\frac{2(x^3 + 1)^{3/2}}{9} + C",
        ),
        (
            r"\int x^2 \sqrt{x^3 + 1} \, dx",
            r"-\frac{2}{9} (x^3 + 1)^{3/2} + C",
            "overall-sign",
            r"-\frac{2}{9} (x^3 + 1)^{3/2}",
            r"\frac{2(x^3 + 1)^{3/2}}{9} + C",
        ),
        (r"\int 7x^6 - \sin x \, dx", r"x^7 - \cos x + C", "sine-cosine-sign", r"-\cos x", r"x^7 + \cos x + C"),
        (r"\int \frac{2}{x - 9} \, dx", r"2\ln(x - 9) + C", "absolute-value-missing", r"x - 9", r"2\ln|x - 9| + C"),
    ],
)
def test_the_place_of_the_fault_is_a_part_of_the_key(question: str, claimed: str, slip: str, fault: str, repaired: str) -> None:
    asked = parse_question(question, Given(), Context())
    context = Context().of(asked)
    key = parse(claimed, context, answer=True)
    found = diagnose(asked, key)
    assert found is not None
    assert found.slip == slip
    assert found.fault == parse(fault, context)
    assert found.fault in set(walk(key))
    assert plain(found.repaired) == plain(parse(repaired, context, answer=True))
    assert "{" not in found.message.text or found.message.values


def test_a_key_with_a_parameter_is_mended_for_every_value_of_it() -> None:
    assumed = parse_given("a > 0", Context())
    question = parse_question(r"\int e^{ax} \, dx", assumed, Context(names=frozenset("a")))
    found = diagnose(question, parse(r"e^{ax} + C", Context().of(question), answer=True))
    assert found is not None
    assert found.slip == "inner-derivative-lost"
    assert plain(found.repaired) == plain(parse(r"\frac{e^{ax}}{a} + C", Context().of(question), answer=True))


@pytest.mark.parametrize("claimed", [r"\tan(x^3) + C", r"x e^{\sin x} + C", r"\arctan(\ln|x|) + C"])
def test_nothing_is_offered_where_no_slip_explains_the_key(claimed: str) -> None:
    question = parse_question(r"\int x^2 \sin 4x \, dx", Given(), Context())
    assert diagnose(question, parse(claimed, Context().of(question), answer=True)) is None
