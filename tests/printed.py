"""What a formula looks like on paper, to be compared sign by sign."""

from __future__ import annotations

import unicodedata
from collections import Counter


def signs(text: str) -> Counter[str]:
    """The characters of a formula, whatever their order, their letter form and the space between them. Roots are drawn, not written."""
    plain = unicodedata.normalize("NFKD", "".join(text.split())).translate({0x2212: "-", 0x2061: None, 0x2062: None, 0x221A: None})
    return Counter(plain)
