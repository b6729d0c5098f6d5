"""The film of a problem, line by line: links beside the lines of the first worked solution, and beside no other."""

from __future__ import annotations

import re

from everyline.book import build
from everyline.render.site import site
from everyline.source.load import Sources

FERRY = b"""---
question: \\int \\frac{x^2}{x+4} \\, dx
key: \\frac{x^2}{2} - 4x + 16\\ln|x+4| + C
video: https://example.org/ferry
times: ["0:12", "1:05:30"]
---
"""


def page(text: bytes) -> str:
    sources = Sources({"tides/ferry.md": text}, {"tides/index.md": b"---\ntitle: Tides\norder: 1\n---\n"}, b"title: Tides\n")
    return next(made.body for made in site(build(sources), sources).pages if made.path == "tides/ferry.md")


def test_each_line_of_the_first_solution_leads_to_its_place_in_the_film() -> None:
    """`#t=3930`: W3C Media Fragments URI 1.0 (basic), section 4.2.1, temporal dimension in seconds."""
    found = re.findall(r'<li class="ev-line[^>]*>|<a href="(https://example.org/ferry#t=\d+)"|id="(by-[a-z-]+)-line-(\d)"', page(FERRY))
    links = [address for address, _, _ in found if address]
    assert links == ["https://example.org/ferry#t=12", "https://example.org/ferry#t=3930"]
    first = next(solution for _, solution, _ in found if solution)
    before = page(FERRY).index(f'id="{first}-line-2"')
    assert page(FERRY).index("#t=3930") > before


def test_without_a_film_times_lead_nowhere() -> None:
    assert "#t=" not in page(FERRY.replace(b"video: https://example.org/ferry\n", b""))
