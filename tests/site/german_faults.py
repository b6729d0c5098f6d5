"""A German book with one of each mistake: the file's text for each, by the code of the fault that it is to show."""

from __future__ import annotations

_HEAD = "---\nquestion: \\int x \\, dx\nkey: \\frac{x^2}{2} + C\ntitle: Titel\n"
RIGHT = f"{_HEAD}---\n"


def _problem(question: str, key: str, *fields: str, body: str = "") -> str:
    return "\n".join(("---", f"question: {question}", f"key: {key}", "title: Titel", *fields, "---", body))


def _with(*fields: str, body: str = "") -> str:
    """A right problem with more fields, and with text behind them."""
    return _HEAD + "".join(f"{field}\n" for field in fields) + f"---\n{body}"


def _lines(*lines: str) -> str:
    return "\n".join(("```lines", *lines, "```", ""))


_TWO = "---\ntitle: T\npoint: P\nkind: two methods\n"
_STEPS = "```problem meer/nichts\nminutes: 5\n```\n```problem\n```\n```set ebbe\nleise\n```\n```problm meer/eins\n```\n"
_LESSON = "---\ntitle: Stunde\nminutes: 10\n---\n"
#: Files of chapters, contrasts, sets and lessons.
COMPOSED = {
    "book.yml": "title: Am Hafen\nlanguage: de\nconstant: warning\n",
    "index.md": "---\ntitle: Am Hafen\n---\n",
    "fluss/index.md": "---\ntitle: Fluss\norder: 1\nintroduces: [power, sum, substitution, squeeze]\n---\n",
    "meer/index.md": "---\ntitle: Meer\norder: 2\nintroduces: [parts, table, expansion, division, linear-inside]\n---\n",
    "meer/eins.md": _problem(r"\int (3x+1)e^{x} \, dx", "(3x-2)e^x + C"),
    "meer/zwei.md": _problem(r"\int (2x+5)e^{2x} \, dx", "(x+2)e^{2x} + C"),
    "meer/drei.md": _problem(r"\int x(x^2+2)^2 \, dx", r"\frac{(x^2+2)^3}{6} + C"),
    "meer/vier.md": _problem(r"\int \frac{x^3}{x^2+1} \, dx", r"\frac{x^2}{2} - \frac{\ln(x^2+1)}{2} + C"),
    "contrasts/eins.md": f"{_TWO}problems: [meer/drei]\nmethods: [substitution, partial-fractions]\n---\n",
    "contrasts/zwei.md": f"{_TWO}problems: [meer/drei]\nmethods: [expansion, expansion]\n---\n",
    "contrasts/drei.md": "---\ntitle: T\npoint: P\nproblems: [meer/eins, meer/zwei]\n---\n",
    "contrasts/vier.md": f"{_TWO}problems: [meer/eins, meer/zwei]\n---\n",
    "contrasts/fuenf.md": "---\ntitle: T\npoint: P\nproblems: [meer/drei, meer/vier]\nmethods: [substitution, division]\n---\n",
    "sets/eins.md": "---\ntitle: T\nproblems: [meer/eins, meer/zwei]\n---\n",
    "sets/zwei.md": "---\ntitle: T\nchapters: [see]\ncount: 80\n---\n",
    "sets/drei.md": "---\ntitle: T\nchapters: [meer]\ncount: 80\n---\n",
    "lessons/eins.md": _LESSON + _STEPS,
    "ohne/kapitel.md": RIGHT,
}
#: Problem files: the code that each is there for, and its text.
FAULTY = {
    "encoding": "---\ntitle: Fl\xfcsse\n---\n",
    "family-too-few": _problem(r"\int (ax+1)^2 \, dx", r"\frac{(ax+1)^3}{3a} + C", "vary: {a: 2..4}"),
    "field-empty": "---\nquestion: \\int x \\, dx\nkey:\ntitle: Titel\n---\n",
    "field-missing": "---\nquestion: \\int x \\, dx\nvouched: {name: R. Okafor}\n---\n",
    "field-shape": _with("level:\n  - 1\n  - 2"),
    "field-twice": _with("level: 1", "level: 2"),
    "field-unknown": _with("levl: 2", "farbe: rot"),
    "field-value": _with("level: schwer", "release: morgen", "times: [gleich]"),
    "formula-ambiguous": _problem(r"\int \sin x/2 \, dx", "x + C"),
    "formula-unreadable": _problem(r"\int x \, dx", "'x^2 + (x + C'"),
    "front-matter-line": "---\nquestion: \\int x \\, dx\nkey: x\nlevel 2\nlevel:3\n---\n",
    "front-matter-missing": "question: \\int x \\, dx\n",
    "front-matter-unclosed": "---\nkey: x + C\n",
    "front-matter-unreadable": _with("hints:\n  - Teile.\n - Addiere."),
    "integral-diverges": _problem(r"\int_0^1 \frac{1}{x} \, dx", "1"),
    "key-absolute-value": _problem(r"\int \frac{1}{x} \, dx", r"\ln x + C"),
    "key-constant-missing": _problem(r"\int 3x^2 \, dx", "x^3"),
    "key-jumps": _problem(r"\int \frac{1}{2+\cos x} \, dx", r"\frac{2}{\sqrt3}\arctan\left(\frac{\tan(x/2)}{\sqrt3}\right) + C"),
    "key-leftover-name": _problem(r"\int 2x\cos(x^2) \, dx", r"\sin u + C"),
    "key-no-value": _problem(r"\int_0^1 3x^2 \, dx", "x^3"),
    "key-reading-taken": _problem(r"\int \frac12 \, dx", "1/2x + C"),
    "key-removable": _problem(r"\int \frac{1}{1-\sin x} \, dx", r"\tan x + \sec x + C"),
    "key-undecided": _problem(r"\lim_{x \to 0} \sin\frac{1}{x}", "does not exist"),
    "key-undefined": _problem(r"\int \frac{1}{\sqrt{x+4}} \, dx", r"2\sqrt{x+4} + \sqrt{x} - \sqrt{x} + C"),
    "key-variable": _problem(r"\int t^2 \, dt", r"\frac{x^3}{3} + C"),
    "key-vouched": _problem(r"\lim_{x \to 0} \sin\frac{1}{x}", "does not exist", "vouched: {name: R. Okafor, reason: Er schwankt.}"),
    "key-wrong": _problem(r"\int 6x^2 \, dx", "3x^3 + C"),
    "line-ends-elsewhere": _with(body=_lines(r"= \int x \, dx")),
    "line-undecided": _with(body=_lines("x = t^5 + t", r"= \int (t^5+t)(5t^4+1) \, dt", r"= \frac{x^2}{2} + C")),
    "line-wrong": _with(body=_lines(r"= \int 2x \, dx", r"= \frac{x^2}{2} + C")),
    "lines-empty": _with(body=_lines()),
    "lines-malformed": _with(body=_lines("let u ; innen", "x = ; warum")),
    "lines-misspelt": _with(body="```line\n= x + C\n```\n"),
    "lines-unclosed": _with(body="```lines\n= x + C\n"),
    "link-refused": _with("video: hier", body="[Notizen](../../notizen.md)\n"),
    "method-impossible": _with("methods: [partial-fractions]"),
    "method-unknown": _with("methods: [substitutoin, zauberei]"),
    "name-undeclared": _problem(r"\int ax \, dx", r"\frac{ax^2}{2} + C"),
    "needs-untaught": _problem(r"\int x e^x \, dx", "(x-1)e^x + C"),
    "odd-character": _with("level: 1\N{RIGHT-TO-LEFT OVERRIDE}"),
    "question-shape": _problem("x^2", "x"),
    "raw-html": _with("source: <b>Abendschule</b>", body="<script>1</script>\n"),
    "solution-missing": _problem(r"\int \frac{e^x(x \ln x - 1)}{x (\ln x)^2} \, dx", r"\frac{e^x}{\ln x} + C"),
    "tab-indent": _with("hints:\n\t- Teile."),
    "too-large": _with(body="x" * 9_000),
    "value-needs-quotes": '---\nquestion: \\int x \\, dx\nkey: |x| + C\ntitle: a: b\nhints: {a\nsource: "\\frac"\n---\n',
    "vary-letter": _with("vary: {tempo: 2..9, e: 1..2}"),
    "vary-range": _with("vary: {a: 2 bis 9, b: 9..2}"),
    "vary-unused": _with("vary: {a: 2..9}"),
    "vouch-needless": _with("vouched: {name: R. Okafor, reason: Gerechnet.}"),
}
#: What no file of a small book shows: faults of the program or of the machine.
UNSHOWN = {"internal", "out-of-time", "question-undefined"}
