"""An address as a square of dots that a telephone reads (QR code, ISO/IEC 18004)."""

from __future__ import annotations

import functools
import io

import segno


@functools.lru_cache(maxsize=1000)
def qr(address: str) -> str:
    """The code as SVG, with the quiet zone that the standard asks for."""
    made = io.BytesIO()
    segno.make(address, error="m", micro=False).save(made, kind="svg", border=4, xmldecl=False, svgns=True)
    return made.getvalue().decode("utf-8")
