"""Formulas and sentences of ours on a page: our tree's own MathML, with its LaTeX beside it for the clipboard."""

from __future__ import annotations

from dataclasses import replace

from ..notation import latex, mathml, plain, speech
from ..notation.build import as_inequality, intervals
from ..notation.mathml import worded
from ..notation.message import Message, fill
from ..notation.question import Given, Question
from ..notation.spoken import Spoken, marked
from ..notation.tree import Interval, Name, Node, Region
from .addresses import Here
from .markup import element, escape, scrolling

#: From this many characters of plain text on, a formula may be wider than a small phone.
WIDE = 20


def formula(node: Node, here: Here, *, display: bool = False) -> str:
    """One formula as MathML; `data-tex` is what a copy puts on the clipboard, `alttext` what it says aloud."""
    return _with_text(mathml(node, display, here.said), latex(node), speech(node, here.said), here.said)


def annotated(before: str, node: Node, here: Here, after: str = "", tex: str = "{}", spoken: str = "{}") -> str:
    """A formula in a row with MathML before and after it (`= …`, `du = … dx`), set as on a line of its own.

    `tex` is the LaTeX of the whole row and `spoken` its words; `{}` at its end stands for the formula's own.
    """
    made = mathml(node, True, here.said)
    start, end = made.index(">") + 1, made.rindex("<")
    return row(f"{before}{made[start:end]}{after}", _end(tex, latex(node)), _end(spoken, speech(node, here.said)), here.said)


def _end(text: str, last: str) -> str:
    return text.removesuffix("{}") + last if text.endswith("{}") else text


def row(content: str, tex: str, spoken: str, said: Spoken) -> str:
    """A row of MathML as a whole formula, set as on a line of its own, with numbers as the page's language writes them."""
    return _with_text(f'<math displaystyle="true">{worded(content, said)}</math>', tex, spoken, said)


def _with_text(made: str, tex: str, spoken: str, said: Spoken) -> str:
    opening = made[: made.index(">")]
    alt = "" if "alttext=" in opening else f' alttext="{escape(spoken)}"'
    return made.replace("<math", f'<math data-tex="{escape(_tex(tex, said))}"{alt}', 1)


def _tex(tex: str, said: Spoken) -> str:
    return marked(tex, said.decimal, "{,}")


def within(node: Node, here: Here) -> str:
    """A formula in a sentence; one that may be wider than a small phone scrolls in a box of its own."""
    made = formula(node, here)
    if len(plain(node)) < WIDE:
        return made
    return element(
        "span",
        made,
        class_="ev-wide ev-wide--inline",
        tabindex=0,
        role="group",
        aria_label=here.tell("Formula {tex}", tex=_tex(latex(node), here.said)),
    )


def wide(node: Node, label: str, here: Here, kind: str = "") -> str:
    """A formula on a line of its own that scrolls when it is wider than the page."""
    return scrolling(formula(node, here, display=True), label, kind)


def sentence(message: Message, here: Here) -> str:
    """A sentence in the language of the page with its formulas set; the words in it are escaped, apostrophes and minus signs are
    printer's ones."""
    return fill(_safe(message), lambda node: within(node, here), lambda text: escape(_printed(here.tell(text))))


def _safe(message: Message) -> Message:
    """The message with every plain word in it escaped, in the phrases in it too."""
    values: list[tuple[str, Node | str | int | Message]] = []
    for name, value in message.values:
        if isinstance(value, Message):
            values.append((name, _safe(value)))
        else:
            values.append((name, value if isinstance(value, Node) else escape(_printed(value))))
    return replace(message, values=tuple(values))


def _printed(value: str | int) -> str:
    return str(value).replace("-", "−", 1) if isinstance(value, int) else value.replace("'", "’")


def region(domain: Region, variable: str, here: Here) -> str:
    """Where a question is asked, said as inequalities: `0 < x < 3`, `x < −1 or x > 1`."""
    return f" {here.tell('or')} ".join(_interval(part, variable, here) for part in intervals(domain))


def _interval(part: Interval, variable: str, here: Here) -> str:
    said = as_inequality(part, variable)
    return here.tell("every real {name}", name=formula(Name(variable), here)) if said is None else formula(said, here)


def given(what: Given, here: Here) -> str:
    """What is assumed of the letters: `a > 0, n a whole number`. Empty when nothing is."""
    said = [formula(condition, here) for condition in what.conditions]
    for parameter in what.in_words:
        name = formula(Name(parameter.name), here)
        said.append(here.tell("{name} a whole number" if parameter.integer else "{name} a constant", name=name))
    return ", ".join(said)


def conditions(question: Question, here: Here) -> str:
    """Where the question is asked and for which letters, as one plain sentence; empty when there is nothing to say."""
    where = "" if question.domain is None else here.tell("for {region}", region=region(question.domain, question.variable, here))
    letters = given(question.given, here)
    return ", ".join(part for part in (where, here.tell("where {letters}", letters=letters) if letters else "") if part)
