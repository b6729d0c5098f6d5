"""The film of a problem: from each line of the first worked solution to the place where the film comes to it."""

from __future__ import annotations

from ..source.problem import Problem
from .addresses import Here
from .markup import element, escape


def film(problem: Problem, here: Here) -> tuple[str, ...]:
    """A link for each line of the first solution, as HTML; none without a film or times.

    The place is written as W3C Media Fragments URI 1.0, section 4.2.1, has it: `#t=65`.
    """
    if problem.video is None or "#" in problem.video.value:
        return ()
    return tuple(_link(problem.video.value, text.value, number, here) for number, text in enumerate(problem.times, 1))


def _link(address: str, time: str, number: int, here: Here) -> str:
    seconds = 0
    for part in time.split(":"):
        seconds = 60 * seconds + int(part)
    said = here.tell("Line {number} in the film, at {time}", number=number, time=time)
    return element("a", escape(time), href=f"{address}#t={seconds}", rel="noopener", aria_label=said, title=said, class_="ev-line__time")
