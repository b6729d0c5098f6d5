"""“Finish the solution”: the last line left out, then the last two, and so on; the page's script judges what is filled in.

The lines themselves come from the worked solution on the same page; here are only the formulas with their gaps and the numbers for
the script. Without a script the fold says how to do the same with a sheet of paper.
"""

from __future__ import annotations

from dataclasses import replace

from ..book.blanks import Blank
from ..book.data import Work
from ..derive.route import Line
from ..notation.build import replace as put
from ..notation.message import sentence
from ..notation.tree import Name
from .addresses import Here
from .box import compact, trial_data
from .markup import element, escape, fold
from .solutions import line_formula

NAME = "finish"
#: A name for the gap, which the page then sets as a box.
_GAP = "blank"
_SAYS = {
    "right": sentence("Right."),
    "wrong": sentence("Not yet. Look at the line before: what does the reason beside this one do to it?"),
    "decimal": sentence("That is close. Give the exact value."),
    "ask": sentence("This can be read in two ways. Which one do you mean?"),
    "label": sentence("What stands in the gap of line {line}"),
    "check": sentence("Check"),
    "show": sentence("Show this line"),
    "more": sentence("Leave out one line more"),
    "done": sentence("That is the whole end of the solution."),
}
_WITHOUT_SCRIPT = sentence(
    "Cover the last line of the first worked solution with a sheet of paper, write it yourself, and look. "
    "Then cover the last two, and so on."
)


def finish(work: Work | None, source: str, here: Here, before: str = "") -> str:
    """The fold with the gaps; empty where no line can be left out. `source` is the id of the solution, `before` begins the fold's own."""
    if work is None or not work.blanks:
        return ""
    count = len(work.blanks)
    note = here.tell("{count} line to fill in" if count == 1 else "{count} lines to fill in", count=count)
    summary = element("span", here.tell("Finish the solution"), class_="ev-fold__title") + element("span", note, class_="ev-fold__note")
    gaps = "".join(_gap(blank, work.lines, here) for blank in work.blanks)
    says = compact({name: here.tell(text) for name, text in _SAYS.items()})
    place = element("div", gaps, class_="ev-finish__work", data_of=source, data_say=says)
    plain = element("p", escape(here.tell(_WITHOUT_SCRIPT)), class_="ev-finish__plain")
    return fold(f"{before}{NAME}", summary, plain, place, kind="ev-finish")


def _gap(blank: Blank, lines: tuple[Line, ...], here: Here) -> str:
    """The formula of a line with a gap in it."""
    line = lines[blank.line]
    holed = replace(line, shown=put(line.shown, blank.part, Name(_GAP)))
    made = line_formula(holed, here).replace(f">{_GAP}<", ' class="ev-gap">□<', 1)
    return element("div", made, class_="ev-gapped", data_line=blank.line, data_trial=compact(trial_data(blank.trial, here.tell)))
