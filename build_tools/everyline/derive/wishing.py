"""What a book allows and a file asks for, of an integral between limits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..techniques import catalogue
from .refusing import meant
from .route import Route


@dataclass(frozen=True, slots=True)
class Wish:
    """What may be used and what was asked for: the ids of methods in order, and whether a substitution was."""

    allowed: frozenset[str]
    methods: tuple[str, ...] = ()
    u: bool = False

    @property
    def own(self) -> tuple[str, ...]:
        """The wanted methods that are for integrals between limits alone."""
        every = moves(None)
        return tuple(m for m in self.methods if m in every)

    @property
    def moves(self) -> frozenset[str]:
        """The moves that are tried: all, or those alone that were asked for."""
        return self.allowed & frozenset(self.own) if self.methods or self.u else self.allowed


def moves(allowed: frozenset[str] | None) -> frozenset[str]:
    """The moves for integrals between limits that may be used: a book that teaches none of them takes them for known."""
    own = frozenset(t.id for t in catalogue().values() if t.kinds == ("definite",))
    return own if allowed is None or not own & allowed else own & allowed


def chosen(method: str, routes: Sequence[Route]) -> Route | None:
    """The first solution that uses a wanted method, named after it."""
    route = next((r for r in routes if r.used.intersection(meant(method))), None)
    if route is None or any(name in route.techniques for name in meant(method)):
        return route
    return replace(route, techniques=(method, *route.techniques))
