"""The cut font and the other files of the site."""

from __future__ import annotations

import io
import re
from pathlib import Path

from fontTools.ttLib import TTFont

from everyline.render.assets import FOLDER, assets, characters, mathematics_font, templates
from everyline.render.scripts import PARTS, SCRIPT
from everyline.resources import site_source


def test_the_font_keeps_what_mathematics_needs(tmp_path: Path) -> None:
    """The MATH table (OpenType specification, chapter “MATH: The mathematical typesetting table”) makes brackets stretch."""
    made = mathematics_font(tmp_path)
    assert len(made) < 60_000
    font = TTFont(io.BytesIO(made))
    assert "MATH" in font
    known = set(font.getBestCmap())
    assert set(map(ord, "∫√∞πθ−·×±≤≥≠→|()[]{}ab0189𝑥𝑑𝜃")) <= known
    variants = font["MATH"].table.MathVariants
    for sign in "∫√(|":
        assert font.getBestCmap()[ord(sign)] in variants.VertGlyphCoverage.glyphs


def test_every_root_sign_is_as_wide_as_the_smallest(tmp_path: Path) -> None:
    """Chromium leaves the room of the widest one after each root; fails with the signs as the font's designers made them."""
    font = TTFont(io.BytesIO(mathematics_font(tmp_path)))
    variants = font["MATH"].table.MathVariants
    found = variants.VertGlyphConstruction[variants.VertGlyphCoverage.glyphs.index(font.getBestCmap()[0x221A])]
    signs = [record.VariantGlyph for record in found.MathGlyphVariantRecord] + [part.glyph for part in found.GlyphAssembly.PartRecords]
    assert len(signs) > 4
    assert len({font["hmtx"][name][0] for name in signs}) == 1


def test_the_font_is_cut_once(tmp_path: Path) -> None:
    first = mathematics_font(tmp_path)
    kept = list(tmp_path.iterdir())
    assert len(kept) == 1
    kept[0].write_bytes(b"kept")
    assert mathematics_font(tmp_path) == b"kept" != first


def test_a_recipe_is_ranges_in_hexadecimal() -> None:
    assert characters("# 0041-0043 not this\n0061-0062  letters\n2211  a sum\n") == {0x61, 0x62, 0x2211}


def test_every_part_of_the_site_is_there(tmp_path: Path) -> None:
    names = {asset.path for asset in assets(tmp_path)}
    assert names == {f"{FOLDER}/{name}" for name in ("everyline.css", SCRIPT, "mark.svg", "math.woff2", "OFL.txt")}
    assert (templates() / "problem.html").is_file()


def test_nothing_of_ours_names_another_host() -> None:
    source = site_source()
    for folder, name in (("styles", "everyline.css"), *(("script", part) for files in PARTS.values() for part in files)):
        text = (source / folder / name).read_text("utf-8")
        assert not re.search(r"https?:|[\"'(]//", text)
        assert "@import" not in text
        assert "eval(" not in text
