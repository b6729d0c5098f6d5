"""What an earlier run found out is taken back whole, or not at all: never from another hand, never for another claim."""

from __future__ import annotations

import dataclasses
import json
import multiprocessing
import os
import sqlite3
import stat
import zlib
from collections.abc import Sequence
from pathlib import Path

import pytest

from everyline.book import build
from everyline.book.data import Book, Examined
from everyline.book.examination import Job, examine
from everyline.book.memory import Memory, open_memory
from everyline.book.record import BadReceipt, Unkept, decode, encode
from everyline.book.store import FILE, Store, machine_secret
from everyline.kernel import Checked, Equal, Setting, check
from everyline.notation import Context, parse
from everyline.notation.tree import Derivative
from everyline.receipts import recall, receipt
from everyline.source.load import Sources

CHAPTER = b"---\ntitle: Powers\norder: 1\n---\n"
FILES = {
    "powers/a.md": b"---\nquestion: \\int 12x^3 \\, dx\nkey: 3x^4 + C\n---\n",
    "powers/b.md": b"---\nquestion: \\int x e^{5x} \\, dx\nkey: (5x-1)e^{5x}/25 + C\n---\n",
    "powers/c.md": b"---\nquestion: \\int_0^2 (3x^2 + 1) \\, dx\nkey: '10'\n---\n",
    "powers/f.md": b"---\nquestion: \\int a x \\, dx\nkey: a x^2/2 + C\nvary: {a: 2..30}\n---\n",
    "powers/d.md": b"---\nquestion: \\int 6x \\, dx\nkey: 2x^2 + C\n---\n",
}


def sources(**changed: bytes) -> Sources:
    return Sources(
        {**FILES, **{f"powers/{name}.md": data for name, data in changed.items()}}, {"powers/index.md": CHAPTER}, b"log: natural\n"
    )


@pytest.fixture
def memory(tmp_path: Path) -> Memory:
    return Memory(Store(tmp_path / "kept" / FILE, b"s" * 32))


def counted(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The paths of the problems that are examined from now on."""
    seen: list[str] = []

    def work(function: object, jobs: Sequence[Job], **_: object) -> list[Examined]:
        seen.extend(job.problem.path for job in jobs)
        return [examine(job) for job in jobs]

    monkeypatch.setattr("everyline.book.assembly.run", work)
    return seen


def test_a_family_that_a_busy_machine_left_half_worked_out_is_worked_out_again(memory: Memory, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as busy:
        counted(busy)
        busy.setattr("everyline.book.families.by_method", lambda *_: None)
        build(sources(), memory=memory)
    seen = counted(monkeypatch)
    build(sources(), memory=memory)
    assert seen == ["powers/f.md"]


def test_a_second_run_examines_nothing_and_knows_the_same(memory: Memory, monkeypatch: pytest.MonkeyPatch) -> None:
    seen = counted(monkeypatch)
    first = build(sources(), memory=memory)
    assert sorted(seen) == sorted(FILES)
    seen.clear()
    again = build(sources(), memory=memory)
    assert seen == []
    assert again.diagnostics == first.diagnostics
    assert again == first  # reads every tree


def test_only_what_changed_is_examined(memory: Memory, monkeypatch: pytest.MonkeyPatch) -> None:
    build(sources(), memory=memory)
    seen = counted(monkeypatch)
    made = build(sources(d=FILES["powers/d.md"].replace(b"2x^2", b"3x^2")), memory=memory)
    assert seen == ["powers/d.md"]
    assert made.sound == build(sources(d=FILES["powers/d.md"].replace(b"2x^2", b"3x^2"))).sound


@pytest.mark.parametrize(
    "change",
    [
        {"conventions": b"log: '10'\n"},
        {"chapters": {"powers/index.md": CHAPTER.replace(b"order: 1", b"order: 1\nintroduces: [power, sum]")}},
    ],
    ids=["conventions", "what is taught"],
)
def test_a_result_counts_only_under_the_conditions_it_was_found_under(
    memory: Memory, monkeypatch: pytest.MonkeyPatch, change: dict[str, object]
) -> None:
    build(sources(), memory=memory)
    seen = counted(monkeypatch)
    build(dataclasses.replace(sources(), **change), memory=memory)  # type: ignore[arg-type]
    assert sorted(seen) == sorted(FILES)


def test_other_code_or_another_machine_begins_anew(memory: Memory, monkeypatch: pytest.MonkeyPatch) -> None:
    build(sources(), memory=memory)
    seen = counted(monkeypatch)
    build(sources(), memory=Memory(Store(memory.store.path, b"t" * 32)))
    assert len(seen) == len(FILES)
    monkeypatch.setattr("everyline.book.memory.code", lambda: "another kernel")
    seen.clear()
    build(sources(), memory=memory)
    assert len(seen) == len(FILES)


def rows(memory: Memory) -> list[tuple[str, bytes, bytes]]:
    with sqlite3.connect(memory.store.path) as database:
        return database.execute("SELECT name, seal, content FROM kept ORDER BY name").fetchall()


def spoil(memory: Memory, name: str, seal: bytes, content: bytes) -> None:
    with sqlite3.connect(memory.store.path) as database:
        database.execute("UPDATE kept SET seal = ?, content = ? WHERE name = ?", [seal, content, name])


def test_a_row_that_was_altered_or_moved_is_as_if_it_were_not_there(memory: Memory, monkeypatch: pytest.MonkeyPatch) -> None:
    right = build(sources(), memory=memory)
    kept = rows(memory)
    (first, seal, content), (second, _, _) = kept[0], kept[1]
    spoil(memory, first, seal, zlib.compress(zlib.decompress(content).replace(b"error", b"notice") + b" "))
    spoil(memory, second, seal, content)
    seen = counted(monkeypatch)
    assert build(sources(), memory=memory).diagnostics == right.diagnostics
    assert len(seen) == 2


@pytest.mark.parametrize(
    "garbage", [b"", b"SQLite format 3\0" + b"x" * 5000, os.urandom(9000), b'{"a": 1}'], ids=["empty", "torn", "noise", "json"]
)
def test_a_file_that_is_no_store_is_ignored(memory: Memory, garbage: bytes) -> None:
    memory.store.path.parent.mkdir()
    memory.store.path.write_bytes(garbage)
    assert codes(build(sources(), memory=memory)) == ["key-wrong"]
    assert codes(build(sources(), memory=memory)) == ["key-wrong"]
    build(sources(), memory=memory)
    assert len(rows(memory)) == len(FILES)


def codes(book: Book) -> list[str]:
    return [d.code for d in book.diagnostics if d.severity == "error"]


def test_a_folder_that_cannot_be_written_costs_nothing_but_time(tmp_path: Path) -> None:
    (tmp_path / "kept").write_text("a file, not a folder")
    assert codes(build(sources(), memory=Memory(Store(tmp_path / "kept" / FILE, b"s" * 32)))) == ["key-wrong"]


def _puts(path: Path, start: int) -> None:
    store = Store(path, b"s" * 32)
    for number in range(40):
        store.put({f"{start}-{number}": "x" * 1000})


def test_two_runs_share_one_store(tmp_path: Path) -> None:
    path = tmp_path / FILE
    context = multiprocessing.get_context("fork" if os.name == "posix" else "spawn")
    processes = [context.Process(target=_puts, args=(path, start)) for start in (1, 2)]
    for process in processes:
        process.start()
    for process in processes:
        process.join(60)
    assert len(Store(path, b"s" * 32).get([f"{s}-{n}" for s in (1, 2) for n in range(40)])) == 80


# -- verdicts and claims ------------------------------------------------------------------------------------------------


def claim(function: str, answer: str) -> Equal:
    context = Context(names=frozenset("x"))
    return Equal(Derivative(parse(function, context), "x"), parse(answer, context), Setting("x"))


def test_a_verdict_comes_back_for_its_own_claim_only() -> None:
    right = check(claim("x^2", "2x"))
    assert isinstance(right, Checked)
    said = (right.grade, right.digits, right.points, right.remarks)
    written = receipt(right, b"key")
    assert recall(right.claim, *said, written, key=b"key") == right
    assert recall(claim("x^2", "3x"), *said, written, key=b"key") is None
    assert recall(right.claim, "enclosed", *said[1:], written, key=b"key") is None
    assert recall(right.claim, *said, written, key=b"yek") is None
    assert recall(right.claim, *said, "", key=b"key") is None


def test_a_record_whose_claim_was_changed_does_not_open() -> None:
    right = check(claim("x^2", "2x"))
    text = encode(right, b"key")
    assert decode(text, b"key") == right
    table = json.loads(text)
    changed = json.dumps({**table, "rows": [7 if row == 2 and not isinstance(row, bool) else row for row in table["rows"]]})
    assert changed != text
    for altered, key in ((changed, b"key"), (text, b"another key")):
        with pytest.raises(BadReceipt):
            decode(altered, key)


@pytest.mark.parametrize(
    "text", ["[]", "{}", '{"types":["os:system"],"rows":[[0]]}', '{"types":["builtins:eval"],"rows":["1",[0,0]]}', "nonsense"]
)
def test_a_record_makes_nothing_but_our_own_data(text: str) -> None:
    with pytest.raises(ValueError, match=r"."):
        decode(text, b"key")


def test_what_is_not_data_is_not_written() -> None:
    with pytest.raises(Unkept):
        encode((Path("x"),), b"key")


# -- the secret ---------------------------------------------------------------------------------------------------------


@pytest.mark.skipif(os.name != "posix", reason="permissions as POSIX has them")
def test_the_secret_is_for_one_person(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "state" / "secret"
    secret = machine_secret(file)
    assert secret is not None
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert machine_secret(file) == secret
    file.chmod(0o644)
    assert machine_secret(file) is None  # others could have read it, so others could have sealed
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "elsewhere"))
    assert open_memory(tmp_path) is not None
    monkeypatch.setenv("EVERYLINE_NO_CACHE", "1")
    assert open_memory(tmp_path) is None


def test_every_kind_of_thing_that_an_examination_holds_can_be_kept(memory: Memory) -> None:
    """A new type in `Examined` belongs into `record.DATA`: without it nothing is kept and every run begins anew."""
    made = build(sources(), memory=memory)
    for each in made.examined:
        assert decode(encode(each, b"key"), b"key") == each
