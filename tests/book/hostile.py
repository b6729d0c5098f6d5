# ruff: noqa: E501
"""Two hundred problem files that mean harm: code, types, markup, bombs, ways out of the book."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

QUESTION, KEY = r"\int 12x^3 \, dx", "3x^4 + C"
TOUCH = "touch WITNESS"  # what would leave a trace if anything were run
CODE = (
    f"__import__('os').system('{TOUCH}')", f"eval(\"__import__('os').system('{TOUCH}')\")", f"exec('import os; os.system(\"{TOUCH}\")')",
    "open('WITNESS', 'w').write('x')", "().__class__.__bases__[0].__subclasses__()", "lambda x: x", "x if x else open('WITNESS','w')",
    rf"\immediate\write18{{{TOUCH}}}", r"\input{/etc/passwd}", r"\def\x{\x\x}\x", r"\csname end\endcsname", r"\catcode`x=13",
    r"\includegraphics{/etc/passwd}", r"\href{javascript:alert(1)}{x}", f"`{TOUCH}`", f"$({TOUCH})", f"{{{{ cycler.__init__.__globals__.os.popen('{TOUCH}') }}}}",
    "x; import os", "x\\u0000y", "<?php system('x') ?>",
)  # fmt: skip
TYPES = (
    f"!!python/object/apply:os.system ['{TOUCH}']", f"!!python/object/new:os.system ['{TOUCH}']", "!!python/name:os.system",
    "!!python/object/apply:subprocess.check_output [['touch', 'WITNESS']]", "!!python/module:os", "!!binary R0lGODlhDAAMAIQAAP", "!local x", "&a x", "*a",
)  # fmt: skip
MARKUP = (
    "<script>alert(1)</script>", "<img src=x onerror=alert(1)>", "<svg onload=alert(1)>", "<iframe src=/etc/passwd></iframe>", "<a href=javascript:alert(1)>x</a>",
    "<style>*{display:none}</style>", "<b onclick=alert(1)>x</b>", "</main><form action=//e.org>",
)  # fmt: skip
BOMBS = (
    "9^{9^{9^{9^9}}}", "10^{10^{10}}", "2^{2^{100000}}", "1" * 5000, "x^{" * 300 + "2" + "}" * 300, "(" * 4000 + "x" + ")" * 4000, r"\sin " * 3000 + "x",
    "+".join(["x"] * 9000), r"\frac{1}{" * 400 + "x" + "}" * 400, "1e999999999", "0." + "3" * 4000, "x!" * 50, r"\sqrt" * 2000 + "x", "|" * 2001, "x^" * 1999 + "2",
    r"\left(" * 900 + "x" + r"\right)" * 900, "∫" * 500 + "x dx", "{" * 3000, "\\" * 3001, "ﷺ" * 400,
)  # fmt: skip
LINKS = (
    "../../WITNESS", "/etc/passwd", "file:///etc/passwd", "%2e%2e/%2e%2e/etc/passwd", "..\\..\\etc\\passwd", "javascript:alert(1)", "JaVaScRiPt:alert(1)", "data:text/html,x",
    "//example.org/x", "vbscript:x", "a/../../../x", "ftp://example.org/x",
)  # fmt: skip


def problem(question: str = QUESTION, key: str = KEY, more: str = "", prose: str = "") -> str:
    return f"---\nquestion: {question}\nkey: {key}\n{more}---\n{prose}\n"


def quoted(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


def files() -> Iterator[str]:
    """The text of each file; every one of them is wrong."""
    for code, field in product(CODE, ("question", "key", "domain", "u")):
        if field == "question":
            yield problem(question=quoted(code))
        else:
            yield problem(key=quoted(code)) if field == "key" else problem(more=f"{field}: {quoted(code)}\n")
    for kind, field in product(TYPES, ("key", "title", "hints", "methods")):
        yield problem(key=kind) if field == "key" else problem(more=f"{field}: {kind}\n")
    for markup, field in product(MARKUP, ("title", "author", "source")):
        yield problem(more=f"{field}: {quoted(markup)}\n")
    yield from (problem(more=f"hints: [{quoted(markup)}]\n", prose=markup) for markup in MARKUP)
    for bomb in BOMBS:
        yield problem(question=quoted(rf"\int {bomb} \, dx"))
        yield problem(key=quoted(f"{bomb} + C"))
    yield from (problem(prose=f"[look]({link})") for link in LINKS)
    yield from (problem(more=f"video: {quoted(link)}\n") for link in LINKS)
    yield problem(more="hints: &a [&b [x, x], *b, *b]\nneeds: *a\n")
    yield problem(more="<<: {level: 2}\n")
    yield problem(more="vary: {a: 1..999999999999}\n")
    yield problem(more="vary: {a: 0..9999, b: 0..9999, c: 0..9999}\n", key="a b c x + C")
    yield "---\n" * 9000
    yield problem(prose="```lines\n" + "= x\n" * 5000)
