"""Text from strangers: a clear error in milliseconds, never a crash (a pull request is data: design, section 7)."""

from __future__ import annotations

from collections.abc import Callable
from time import process_time
from timeit import timeit

import pytest
from hostile_texts import HOSTILE
from hypothesis import given, settings
from hypothesis import strategies as st

from everyline.notation import Context, NotationError, parse, parse_domain, parse_given, parse_question
from everyline.notation.question import Given

CONTEXT = Context(frozenset("xabn"), log="ask")


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_hostile_text_is_a_clear_error_in_milliseconds(text: str) -> None:
    found: list[NotationError | None] = []
    # timeit keeps the garbage collector out, which takes a second where many other tests have run before
    seconds = timeit(lambda: found.append(refusal(lambda: parse(text, CONTEXT))), timer=process_time, number=1)
    assert seconds < 0.5  # milliseconds; room for a slow machine
    (error,) = found
    assert error is not None
    assert str(error).endswith(".")
    assert 0 <= error.start <= error.end <= len(text)


SIGNS = r"\{}()|[]^_/*-+=<>,.;!'& xabne12dUπθ√²∞→" + '"'
PIECES = st.sampled_from([
    r"\frac", r"\sqrt", r"\int", "dx", r"\sin", r"\ln", r"\left", r"\right", r"\lim_{x\to 0}", "d/dx", "sin", "asin", "log", "int", "lim",
    r"\,", "{", "}", "(", ")", "|", "^", "_", "/", "1", "x", "e", "C", "or", "and", "oo", "1,000", r"\mathrm{d}x", "^{-1}", "a real",
])  # fmt: skip
soup = st.one_of(st.text(max_size=60), st.text(SIGNS, max_size=40), st.lists(PIECES, max_size=14).map("".join))


def refusal(read: Callable[[], object]) -> NotationError | None:
    try:
        read()
    except NotationError as error:
        return error
    return None


@settings(deadline=None, max_examples=1_500)
@given(soup)
def test_any_text_is_read_or_refused_but_never_crashes(text: str) -> None:
    for read in (
        lambda: parse(text, CONTEXT, answer=True),
        lambda: parse_question(text, Given(), CONTEXT),
        lambda: parse_domain(text, "x", CONTEXT),
        lambda: parse_given(text, Context()),
    ):
        error = refusal(read)
        assert error is None or 0 <= error.start <= error.end <= max(len(text), 1)
