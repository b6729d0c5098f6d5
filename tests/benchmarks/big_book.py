"""Books of any size for benchmarks: no two questions alike, each key right by construction."""

from __future__ import annotations

from pathlib import Path

PER_CHAPTER = 100
SETTINGS = """\
site_name: A big book
docs_dir: content
site_dir: site
theme: {name: material, font: false, features: [navigation.prune]}
plugins: [search, everyline]
markdown_extensions: [md_in_html, attr_list]
validation: {nav: {omitted_files: ignore}}
"""


def problem(number: int) -> str:
    """One of ten kinds of question, its numbers from `number` alone."""
    a, b = 2 + number // 10 % 37, 3 + number // 370
    question, key = (
        (rf"\int {a}x^{{{b}}} \, dx", rf"\frac{{{a}}}{{{b + 1}}}x^{{{b + 1}}} + C"),
        (rf"\int ({a}x + {b})^5 \, dx", rf"\frac{{({a}x+{b})^6}}{{{6 * a}}} + C"),
        (rf"\int \frac{{{a}}}{{x + {b}}} \, dx", rf"{a}\ln|x + {b}| + C"),
        (rf"\int {b}\cos({a}x) \, dx", rf"\frac{{{b}}}{{{a}}}\sin({a}x) + C"),
        (rf"\int {b}e^{{{a}x}} \, dx", rf"\frac{{{b}}}{{{a}}}e^{{{a}x}} + C"),
        (rf"\int_0^1 ({a}x^2 + {b}x) \, dx", rf"\frac{{{a}}}{{3}} + \frac{{{b}}}{{2}}"),
        (rf"\frac{{d}}{{dx}} ({a}x^3 + {b}x)", rf"{3 * a}x^2 + {b}"),
        (rf"\lim_{{x\to {b}}} ({a}x^2 + 1)", f"{a * b * b + 1}"),
        (rf"\int ({a}\sin x + {b}x) \, dx", rf"-{a}\cos x + \frac{{{b}}}{{2}}x^2 + C"),
        (rf"\int \frac{{{a}}}{{x^2 + {b * b}}} \, dx", rf"\frac{{{a}}}{{{b}}}\arctan\left(\frac{{x}}{{{b}}}\right) + C"),
    )[number % 10]
    level = 1 + number % 3
    front = f"question: {question}\nkey: {key}\ntitle: Number {number}\nlevel: {level}\nhints: [Look at the form first.]"
    return f"---\n{front}\n---\nA word about it.\n"


def write(folder: Path, count: int) -> None:
    """A book of `count` problems in chapters of a hundred."""
    content = folder / "content"
    content.mkdir(parents=True, exist_ok=True)
    (folder / "mkdocs.yml").write_text(SETTINGS, "utf-8")
    (content / "book.yml").write_text("title: A big book\nlog: natural\n", "utf-8")
    (content / "index.md").write_text("# A big book\n", "utf-8")
    for number in range(count):
        chapter = content / f"chapter-{number // PER_CHAPTER:03}"
        if number % PER_CHAPTER == 0:
            chapter.mkdir(exist_ok=True)
            front = f"title: Chapter {number // PER_CHAPTER + 1}\norder: {number // PER_CHAPTER}"
            (chapter / "index.md").write_text(f"---\n{front}\n---\n", "utf-8")
        (chapter / f"n{number:05}.md").write_text(problem(number), "utf-8")
