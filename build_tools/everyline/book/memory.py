"""Examinations that were made before, under names that say everything they depend on."""

from __future__ import annotations

import contextlib
import functools
import hashlib
import hmac
import os
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, fields
from pathlib import Path

from .data import Examined
from .examination import Job, examine
from .record import Unkept, decode, encode
from .store import Store, open_store
from .versions import code

#: Where a book's kept things lie, beside its settings and outside the folders that a server watches.
FOLDER = ".everyline"
#: Codes of results that more time, or another machine, might change: they are found out anew each time.
_PASSING = frozenset({"internal", "out-of-time", "key-undecided", "key-vouched", "line-undecided", "method-impossible", "solution-missing"})


@dataclass(frozen=True, slots=True)
class Memory:
    """A store of texts, used for examinations and for the pages made of them."""

    store: Store

    @property
    def _key(self) -> bytes:
        """The key of the receipts: another one for every change of the code."""
        return hmac.digest(self.store.secret, b"receipts " + code().encode(), "sha256")

    def examined(self, jobs: Mapping[str, Job]) -> dict[str, Examined]:
        """Of the named jobs those that were done before. Their trees are read when somebody asks for them."""
        found = self.store.get(jobs)
        key = self._key
        made = {}
        for name, text in found.items():
            head, _, whole = text.partition("\n")
            try:
                made[name] = _unread(jobs[name], name, decode(head, key), functools.partial(_whole, jobs[name], whole, key))
            except ValueError:
                continue
        return made

    def recalled(self, names: Iterable[str]) -> dict[str, object]:
        """What `remember` kept under these names."""
        key = self._key
        found: dict[str, object] = {}
        for name, text in self.store.get(names).items():
            with contextlib.suppress(ValueError):
                found[name] = decode(text, key)
        return found

    def remember(self, things: Mapping[str, object]) -> None:
        """Keep things by name; what no record holds is left out."""
        key = self._key
        texts: dict[str, str] = {}
        for name, thing in things.items():
            with contextlib.suppress(Unkept):
                texts[name] = encode(thing, key)
        if texts:
            self.store.put(texts)

    def keep(self, done: Iterable[Examined]) -> None:
        """Keep examinations that have a name."""
        key = self._key
        texts = {}
        for each in done:
            if each.name and not _passing(each):
                try:
                    instance = None if each.family is None else each.problem
                    head = encode((each.diagnostics, each.methods, each.techniques, each.used, each.seconds, instance), key)
                    texts[each.name] = f"{head}\n{encode(each, key)}"
                except Unkept:
                    continue
        if texts:
            self.store.put(texts)


def _passing(found: Examined) -> bool:
    """Whether another time more may be found out: also where some of a family's questions could not be worked out as the first was."""
    dealt = found.family.instances[1:] if found.family is not None and found.work is not None else ()
    return any(each.work is None for each in dealt) or any(d.code in _PASSING for d in found.diagnostics)


def open_memory(folder: Path) -> Memory | None:
    """What is kept in a folder; None where nothing may be (EVERYLINE_NO_CACHE is set, or the machine has no place for a secret)."""
    store = None if os.environ.get("EVERYLINE_NO_CACHE") else open_store(folder)
    return None if store is None else Memory(store)


def memory_of(content: Path) -> Memory | None:
    """What is kept for the book in a content folder: in `.everyline` beside its `mkdocs.yml`; None where there is no such file."""
    site = next((folder for folder in content.resolve().parents if (folder / "mkdocs.yml").is_file()), None)
    return None if site is None else open_memory(site / FOLDER)


def name(job: Job, data: bytes | None) -> str:
    """A digest of everything that an examination depends on: code, libraries, the file's path and bytes, the rest of the job."""
    if data is None:
        return ""
    rest = tuple(getattr(job, field.name) for field in fields(job) if field.name != "problem")
    try:
        said = (code(), job.problem.path, hashlib.sha256(data).hexdigest(), encode(rest, b""))
    except Unkept:
        return ""
    return hashlib.sha256(repr(said).encode()).hexdigest()


def digest(said: object) -> str:
    """A name for anything that a record can hold, of which the code is a part; empty for what none can hold."""
    try:
        return hashlib.sha256(repr((code(), encode(said, b""))).encode()).hexdigest()
    except Unkept:
        return ""


def _unread(job: Job, name: str, head: tuple[object, ...], recall: Callable[[], Examined]) -> Examined:
    """An examination whose trees have not been read yet."""
    made = object.__new__(Examined)
    diagnostics, methods, techniques, used, seconds, instance = head
    known = {"diagnostics": diagnostics, "methods": methods, "techniques": techniques, "used": used, "seconds": seconds, "withheld": None}
    problem = {"problem": job.problem, "family": None} if instance is None else {"problem": instance}
    for field, value in {**known, **problem, "name": name, "recall": recall}.items():
        object.__setattr__(made, field, value)
    return made


def _whole(job: Job, text: str, key: bytes) -> Examined:
    try:
        found = decode(text, key)
        if isinstance(found, Examined) and found.file == job.problem:
            return found
    except ValueError:
        pass
    return examine(job)
