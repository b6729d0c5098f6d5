"""What pages need besides their text: templates, style, script, and the part of a mathematics font that the site uses."""

from __future__ import annotations

import hashlib
import io
import re
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont

from ..language import ENGLISH
from ..resources import site_source
from .scripts import SCRIPT, script

#: Where these files are on the site.
FOLDER = "assets/everyline"
#: Part of the name of a kept font: a new one when the way of cutting changes.
_CUT = b"2"
_RANGE = re.compile(r"([0-9A-F]{4,5})(?:-([0-9A-F]{4,5}))?\s")


@dataclass(frozen=True, slots=True)
class Asset:
    """A file of the site: its address relative to the root, and what is in it."""

    path: str
    content: bytes


def templates() -> Path:
    """The folder of page templates.

    Raises:
        RuntimeError: the package is inside an archive, where a template engine cannot read it.
    """
    folder = site_source() / "templates"
    if not isinstance(folder, Path):
        raise RuntimeError("everyline must be installed as files, not inside an archive")
    return folder


def assets(cache: Path, language: str = ENGLISH) -> tuple[Asset, ...]:
    """Style, script (in the book's language), font and the font's licence. The font is cut once and kept in the folder `cache`."""
    source = site_source()
    kept = (("styles/everyline.css", "everyline.css"), ("styles/mark.svg", "mark.svg"), ("font/OFL.txt", "OFL.txt"))
    plain = tuple(Asset(f"{FOLDER}/{name}", source.joinpath(*path.split("/")).read_bytes()) for path, name in kept)
    return (*plain, Asset(f"{FOLDER}/{SCRIPT}", script(language)), Asset(f"{FOLDER}/math.woff2", mathematics_font(cache)))


def characters(recipe: str) -> frozenset[int]:
    """The code points that a font recipe names: lines of `first-last  why` in hexadecimal; `#` starts a remark."""
    found: set[int] = set()
    for first, last in _RANGE.findall("\n".join(line for line in recipe.splitlines() if not line.startswith("#"))):
        found.update(range(int(first, 16), int(last or first, 16) + 1))
    return frozenset(found)


def mathematics_font(cache: Path) -> bytes:
    """STIX Two Math from the `ziamath` package, cut to the recipe's characters, as WOFF2 with its MATH table.

    The table is what lets a browser stretch brackets and integral signs. The file in `cache` is named after everything it depends
    on, so a changed recipe or font makes a new one.
    """
    recipe = (site_source() / "font" / "characters.txt").read_bytes()
    full = (resources.files("ziamath") / "fonts" / "STIXTwoMath-Regular.ttf").read_bytes()
    kept = cache / f"math-{hashlib.sha256(_CUT + recipe + full).hexdigest()[:16]}.woff2"
    if kept.is_file():
        return kept.read_bytes()
    made = _cut(full, characters(recipe.decode()))
    cache.mkdir(parents=True, exist_ok=True)
    part = kept.with_suffix(".part")
    part.write_bytes(made)
    part.replace(kept)
    return made


def _cut(font: bytes, wanted: frozenset[int]) -> bytes:
    options = subset.Options(layout_features=["ccmp", "kern"], notdef_outline=True, hinting=False)
    with TTFont(io.BytesIO(font), lazy=True) as opened:
        cutter = subset.Subsetter(options)
        cutter.populate(unicodes=wanted)
        cutter.subset(opened)
        _narrow_roots(opened)
        made = io.BytesIO()
        opened.flavor = "woff2"
        opened.save(made)
    return made.getvalue()


def _narrow_roots(font: TTFont) -> None:
    """Make every size of the root sign as wide as the smallest one.

    Chromium (seen in 156) gives a root the room of the widest sign that the font has, whichever it draws: without this, a gap of
    0.4 em follows each root. The SIL Open Font License allows a changed version under another name.
    """
    variants = font["MATH"].table.MathVariants
    sign = (font.getBestCmap() or {})[0x221A]
    found = variants.VertGlyphConstruction[variants.VertGlyphCoverage.glyphs.index(sign)]
    glyphs = {record.VariantGlyph for record in found.MathGlyphVariantRecord} | {part.glyph for part in found.GlyphAssembly.PartRecords}
    room = font["hmtx"][sign][0]
    for name in sorted(glyphs - {sign}):
        glyph = font["glyf"][name]
        glyph.coordinates.scale((room / font["hmtx"][name][0], 1.0))
        glyph.coordinates.toInt()
        glyph.recalcBounds(font["glyf"])
        font["hmtx"][name] = (room, glyph.xMin)
