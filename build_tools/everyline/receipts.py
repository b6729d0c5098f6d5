"""A verdict of yesterday: what the checker once said, kept outside and taken back without checking anew.

A receipt is a keyed digest (HMAC-SHA-256, RFC 2104) over the claim and all that was said of it. It is written only for a `Checked`,
and only with its receipt and the same key does a claim become a `Checked` again: what is kept cannot be altered, nor moved to
another claim, by anybody who does not hold the key.
"""

from __future__ import annotations

import hmac

from .kernel.claims import Checked, Claim, Remark, stands


def receipt(checked: Checked, key: bytes) -> str:
    """The receipt of a claim that stands. The key must be secret, and another one whenever the checker changes."""
    said = (checked.claim, checked.grade, checked.digits, checked.points, checked.remarks)
    return _digest(said, key)


def recall(claim: Claim, grade: str, digits: int, points: int, remarks: tuple[Remark, ...], written: str, *, key: bytes) -> Checked | None:
    """The `Checked` that a receipt was `written` for; None where it was written for something else, or with another key."""
    said = (claim, grade, digits, points, remarks)
    return stands(*said) if hmac.compare_digest(_digest(said, key).encode(), written.encode()) else None


def _digest(said: tuple[object, ...], key: bytes) -> str:
    # The text of a tree of frozen dataclasses names every class and every field: two claims never share one.
    return hmac.digest(key, repr(said).encode(), "sha256").hex()
