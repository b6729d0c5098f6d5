"""The answer box: one text field that the page's script judges by itself. Without a script the page says how to check by hand."""

from __future__ import annotations

import json
from typing import Any

from ..book.data import Examined
from ..book.trying import SCALE, Trap, Trial, Zone
from ..language import Tell
from ..notation import plain
from ..notation.message import sentence
from .addresses import Here
from .markup import element, escape

#: What the script says, by the name it has there; `{named}` places are formulas, numbers or links.
SAYS = {
    "right": sentence("Right."),
    "no-constant": sentence("Add + C: every antiderivative is asked for, and they differ by constants."),
    "constant": sentence("The worked answer differs from yours by the constant {gap}; the + C takes that up."),
    "other-form": sentence("Yours is another form of the answer."),
    "compare": sentence("See how two forms are compared."),
    "tidy": sentence("It can be written more simply."),
    "letter": sentence("Right in {letter}. Now put back what {letter} stands for: the question is asked in {x}."),
    "one-interval": sentence(
        "This fits around {x} = {good}, but not around {x} = {bad}. Is an absolute value missing, or a sign on one side?"
    ),
    "undefined": sentence(
        "This fits where it is defined, but it has no value at {x} = {bad}, and the question does. Is an absolute value missing?"
    ),
    "jump": sentence("The derivative is right, but this formula jumps between {x} = {good} and {x} = {bad}, and the question does not."),
    "decimal": sentence("That is close. Give the exact value: fractions, roots, π, e and logarithms may stay."),
    "value-constant": sentence("The number fits, but a value has no + C."),
    "function-constant": sentence("That fits, but a derivative has no + C."),
    "factor": sentence("Your answer differentiates to {factor} times the integrand."),
    "slope-factor": sentence("Your answer is {factor} times the derivative."),
    "term-factor": sentence("Only the factor of {term} is wrong; the rest stands."),
    "wrong": sentence("Not yet."),
    "wrong-rise": sentence("Not yet: differentiate your answer and compare it with the integrand."),
    "hint": sentence("Take a hint."),
    "large": sentence("The numbers in this are too large to be compared."),
    "empty": sentence("Write your answer first."),
    "ask": sentence("This can be read in two ways. Which one do you mean?"),
    "unread": sentence("not readable yet"),
    "seen": sentence("Read as"),
}

_WITHOUT_SCRIPT = {
    "indefinite": sentence(
        "Write your answer on paper and differentiate it. If the integrand comes out, it is right, whatever constant it ends in."
    ),
    "definite": sentence("Work it out on paper, then compare with the answer below."),
    "derivative": sentence("Work it out on paper, then compare with the answer below: put a number into both."),
    "limit": sentence("Work it out on paper, and put in a number close by: does it come near your answer? The answer is below."),
}
#: The symbols to tap: what the key shows, what it is called, and what it writes; § is where the cursor goes.
_KEYS = (
    ("a/b", sentence("fraction"), "(§)/()"), ("xⁿ", sentence("power"), "^(§)"), ("√", sentence("square root"), "sqrt(§)"),
    ("π", sentence("pi"), "pi"), ("eˣ", sentence("e to the power"), "e^(§)"), ("|x|", sentence("absolute value"), "|§|"),
    ("( )", sentence("brackets"), "(§)"), ("ln", sentence("logarithm"), "ln(§)"), ("sin", sentence("sine"), "sin(§)"),
    ("cos", sentence("cosine"), "cos(§)"), ("tan", sentence("tangent"), "tan(§)"), ("arctan", sentence("arctangent"), "arctan(§)"),
    ("arcsin", sentence("arcsine"), "arcsin(§)"),
)  # fmt: skip
_CONSTANT = sentence("constant of integration")


def box(examined: Examined, here: Here, number: int = 0) -> str:
    """The box of a problem; empty where there is nothing to judge an answer by. Of several on a page each has its `number`."""
    trial = examined.trial
    if trial is None:
        return ""
    # Not a section: the page keeps it out of the search in one, and the index ends that at the first end tag of its name.
    return element(
        "div",
        "" if number else element("h2", here.tell("Try it yourself"), class_="ev-folds-title"),
        element("p", here.tell(_WITHOUT_SCRIPT[trial.kind]), class_="ev-box__plain"),
        _form(trial, f"-{number}" if number else "", here),
        class_="ev-box",
        role="group",
        aria_label=here.tell("Try question {number}", number=number) if number else here.tell("Try it yourself"),
        data_everyline="answer",
        data_problem=examined.problem.path,
        data_trial=compact(trial_data(trial, here.tell)),
        data_say=compact(_says(trial, here)),
    )


def _form(trial: Trial, place: str, here: Here) -> str:
    field = element(
        "input", id=f"try-answer{place}", class_="ev-box__field", type="text", autocomplete="off", autocapitalize="none", autocorrect="off",
        spellcheck="false", enterkeyhint="done", aria_describedby=f"try-said{place}",
    )  # fmt: skip
    keys = (*_KEYS, ("+ C", _CONSTANT, " + C")) if trial.rises else _KEYS
    taps = (
        element("button", escape(face), type="button", aria_label=f"{here.tell(name)} {face}", data_put=text, class_="ev-box__key")
        for face, name, text in keys
    )
    check = element("button", here.tell("Check"), type="submit", class_="md-button md-button--primary")
    return element(
        "form",
        element("label", here.tell("Your answer"), for_=f"try-answer{place}"),
        element("div", field, check, class_="ev-box__row"),
        element("div", *taps, role="group", aria_label=here.tell("Symbols"), class_="ev-box__keys"),
        element("div", class_="ev-box__seen ev-wide", tabindex=0, role="group", aria_label=here.tell("Your answer as it is read")),
        element("p", class_="ev-box__spoken ev-offscreen", aria_live="polite"),
        element("div", id=f"try-said{place}", class_="ev-box__said", role="status"),
        class_="ev-box__form",
        novalidate=True,
        autocomplete="off",
    )


def _says(trial: Trial, here: Here) -> dict[str, str]:
    """The sentences that this kind of question can need."""
    left_out = {"no-constant", "constant", "letter", "one-interval", "jump", "factor", "wrong-rise"} if not trial.rises else set()
    left_out |= {"tidy"} if trial.runs else {"undefined", "term-factor"}
    return {name: here.tell(text) for name, text in SAYS.items() if name not in left_out}


def trial_data(trial: Trial, tell: Tell) -> dict[str, Any]:
    """A trial as the script reads it, its sentences in the language that `tell` speaks.

    Right answers are in it as marks only, from which they cannot be told.
    """
    sentences = list(dict.fromkeys((trap.slip, trap.says, trap.hint) for trap in trial.traps))
    return {
        "kind": trial.kind, "x": trial.variable, "names": trial.names, "log": trial.log, "decimal": trial.decimal,
        "scale": 1 if trial.rises else SCALE, "zones": [_zone(zone, trial) for zone in trial.zones],
        "traps": [_trap(trap, trial, sentences) for trap in trial.traps],
        "sentences": [(slip, tell(says), tell(hint)) for slip, says, hint in sentences],
        "words": [mark(word) for word in trial.words], "forms": [mark(form) for form in trial.forms],
    }  # fmt: skip


def _zone(zone: Zone, trial: Trial) -> dict[str, Any]:
    found: dict[str, Any] = {"at": dict(zone.at), "points": zone.points, "values": zone.values, "bound": float(f"{zone.bound:.3g}")}
    return {**found, "base": zone.base, "letters": dict(zone.letters)} if trial.rises else found


def _trap(trap: Trap, trial: Trial, sentences: list[tuple[str, str, str]]) -> list[Any]:
    """The zone, the values, which sentence, and the part at fault."""
    short = [float(f"{value:.7g}") for value in trap.values]
    return [trap.zone, short, sentences.index((trap.slip, trap.says, trap.hint)), *([] if trap.fault is None else [plain(trap.fault)])]


def mark(text: str) -> int:
    """A number by which a text is known but from which it cannot be read: the 32-bit FNV-1a hash of its code points.

    The function: G. Fowler, L. C. Noll, K.-P. Vo, D. Eastlake, The FNV Non-Cryptographic Hash Algorithm, section 2 (from memory).
    """
    found = 0x811C9DC5
    for letter in text.replace(" ", ""):
        found = (found ^ ord(letter)) * 0x01000193 & 0xFFFFFFFF
    return found


def compact(data: object) -> str:
    """Data for an attribute that a script reads, as JSON without a blank too many."""
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))
