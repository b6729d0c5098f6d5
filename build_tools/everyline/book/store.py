"""Results kept from one run to the next: one file of rows, each sealed with a secret of this machine.

A row that this machine did not write, or that is damaged, or that was written for another name, is as if it were not there. So is a
file that is no store at all. Several runs may use one store at once, and a run that is killed leaves it whole (SQLite in WAL mode,
https://www.sqlite.org/wal.html).
"""

from __future__ import annotations

import contextlib
import hmac
import os
import secrets
import sqlite3
import stat
import sys
import time
import zlib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

FILE = "results.sqlite"
_TABLE = "CREATE TABLE IF NOT EXISTS kept (name TEXT PRIMARY KEY, day INTEGER, seal BLOB, content BLOB) WITHOUT ROWID"
_DAYS, _SECRET_BYTES, _AT_ONCE = 30, 32, 500


@dataclass(frozen=True, slots=True)
class Store:
    """Texts by name. `secret` seals the rows; it is not kept beside them."""

    path: Path
    secret: bytes

    def get(self, names: Iterable[str]) -> dict[str, str]:
        """The texts of those names that are here, unaltered."""
        wanted = list(dict.fromkeys(names))
        found: dict[str, str] = {}

        def read(database: sqlite3.Connection) -> None:
            for start in range(0, len(wanted), _AT_ONCE):
                part = wanted[start : start + _AT_ONCE]
                rows = database.execute(f"SELECT name, seal, content FROM kept WHERE name IN ({','.join('?' * len(part))})", part)
                for name, seal, content in rows:
                    if isinstance(seal, bytes) and isinstance(content, bytes) and hmac.compare_digest(seal, self._seal(name, content)):
                        found[name] = zlib.decompress(content).decode()

        if wanted and self.path.is_file():
            self._with_database(read)
        return found

    def put(self, texts: Mapping[str, str]) -> None:
        """Keep the texts under their names. What cannot be kept (a full or read-only disk) is not."""
        packed = {name: zlib.compress(text.encode(), 1) for name, text in texts.items()}
        today = int(time.time() // 86400)
        rows = [(name, today, self._seal(name, content), content) for name, content in packed.items()]
        with contextlib.suppress(OSError):
            self.path.parent.mkdir(parents=True, exist_ok=True)
        self._with_database(lambda database: database.executemany("INSERT OR REPLACE INTO kept VALUES (?, ?, ?, ?)", rows))

    def tidy(self) -> None:
        """Let go of what was written long ago; it is made again where it is still wanted."""
        before = int(time.time() // 86400) - _DAYS
        if self.path.is_file():
            self._with_database(lambda database: database.execute("DELETE FROM kept WHERE day < ?", [before]))

    def _with_database(self, work: Callable[[sqlite3.Connection], object]) -> None:
        """One piece of work as one transaction; whatever goes wrong with the file only means that nothing is kept."""
        try:
            for wait in (0.02, 0.1, 0.5, 2.0):
                try:
                    return self._once(work)
                except sqlite3.OperationalError as error:
                    # While another run opens or closes the file, SQLite says so at once and does not wait for it.
                    if error.sqlite_errorcode & 0xFF not in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
                        return None  # read-only, full: this time without
                    time.sleep(wait)
        except sqlite3.DatabaseError:  # not a database, or a damaged one
            for end in ("", "-wal", "-shm"):
                with contextlib.suppress(OSError):
                    self.path.with_name(self.path.name + end).unlink()

    def _once(self, work: Callable[[sqlite3.Connection], object]) -> None:
        with contextlib.closing(sqlite3.connect(self.path, timeout=5.0)) as database:
            if database.execute("PRAGMA journal_mode").fetchone() != ("wal",):
                database.execute("PRAGMA journal_mode=WAL")
            database.execute("PRAGMA synchronous=NORMAL")
            database.execute(_TABLE)
            with database:
                work(database)

    def _seal(self, name: str, content: bytes) -> bytes:
        return hmac.digest(self.secret, b"%d %s " % (len(name), name.encode()) + content, "sha256")


def open_store(folder: Path) -> Store | None:
    """The store in a folder; None where this machine has no place for a secret."""
    secret = machine_secret(_state() / "everyline" / "secret")
    return None if secret is None else Store(folder / FILE, secret)


def _state() -> Path:
    """Where programs keep what belongs to one person on one machine (XDG Base Directory Specification 0.8; `%LOCALAPPDATA%`)."""
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
    return Path(os.environ.get("XDG_STATE_HOME") or Path.home() / ".local" / "state")


def machine_secret(file: Path) -> bytes | None:
    """Random bytes that only this person can read, made at the first use; None where that cannot be had."""
    try:
        if not file.exists():
            file.parent.mkdir(parents=True, exist_ok=True)
            fresh = file.with_name(f"{file.name}.{os.getpid()}")
            with open(os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as stream:
                stream.write(secrets.token_bytes(_SECRET_BYTES))
            with contextlib.suppress(FileExistsError):  # another run was first: its secret counts
                os.link(fresh, file)
            fresh.unlink()
        seen = file.stat()
        if sys.platform != "win32" and (seen.st_uid != os.geteuid() or stat.S_IMODE(seen.st_mode) & 0o077):
            return None
        found = file.read_bytes()
    except (OSError, RuntimeError):
        return None
    return found if len(found) == _SECRET_BYTES else None
