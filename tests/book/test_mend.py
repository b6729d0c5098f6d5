"""`everyline mend`: what is offered has been checked, what is refused stays, and nothing else in a file changes."""

from __future__ import annotations

import builtins
from pathlib import Path

import pytest

from everyline.book.mending import rewritten
from everyline.cli import main
from everyline.diagnostics.diagnostic import Replacement
from everyline.source.span import Place, Span

BOOK = """
content/book.yml
    title: A small book
    log: natural
content/powers/index.md
    ---
    title: Powers
    order: 1
    ---
"""


def problem(root: Path, text: bytes, name: str = "one") -> Path:
    file = root / "content" / "powers" / f"{name}.md"
    file.write_bytes(text)
    return file


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (b"question: \\int \\cos 5x \\, dx\nkey: 5\\sin 5x + C", b"question: \\int \\cos 5x \\, dx\nkey: sin(5x)/5 + C"),
        (b"question: \\int 6x^2 \\, dx\nkey: 2x^3", b"question: \\int 6x^2 \\, dx\nkey: 2x^3 + C"),
        (b"question: \\int 6x^2 \\, dx\nkey: '2x^3'", b"question: \\int 6x^2 \\, dx\nkey: '2x^3 + C'"),
        (b'question: \\int x \\, dx\nkey: "\\\\frac{x^2}{2}"', b'question: \\int x \\, dx\nkey: "\\\\frac{x^2}{2} + C"'),
        (b"question: \\int x \\, dx\nkey: [x^2/2, 0.5x^2]", b"question: \\int x \\, dx\nkey: [x^2/2 + C, 0.5x^2 + C]"),
        (b"question: \\int 6x^2 \\, dx\nkey: 2x^3 + C\nlevl: 2", b"question: \\int 6x^2 \\, dx\nkey: 2x^3 + C\nlevel: 2"),
        (b"question: \\int 1/x \\, dx\nkey: |x| + C", b"question: \\int 1/x \\, dx\nkey: '|x| + C'"),
        (b"question: \\frac{d}{dx} x|x|\nkey: |x| + |x|", b"question: \\frac{d}{dx} x|x|\nkey: '|x| + |x|'"),
        (b"questoin: \\int 6x^2 \\, dx\nanswer: 2x^3", b"question: \\int 6x^2 \\, dx\nkey: 2x^3 + C"),
        (b"question: \\int 6x^2 \\, dx\nkey: 2x^3 + C\nmethods: [powr]", b"question: \\int 6x^2 \\, dx\nkey: 2x^3 + C\nmethods: [power]"),
        (b"question: \\int x^2 e^{x^2} \\, dx\nkey: e^{x^2} + C", None),
        (b"question: \\int 6x^2 \\, dx\nkey: 2x^3 + C", None),
    ],
)  # fmt: skip
def test_a_replacement_is_made_where_it_mends(plant, before: bytes, after: bytes | None) -> None:  # type: ignore[no-untyped-def]
    root: Path = plant(BOOK)

    def whole(front: bytes) -> bytes:
        return (b"---\n" + front + b"\ntitle: \xc3\x89lan  # kept\n---\n\nProse,  with two  spaces.  \n\n\n").replace(
            b"\n", b"\r\n" if b"cos" in before else b"\n"
        )

    file = problem(root, whole(before))
    file.chmod(0o640)
    main(["mend", str(file), "--yes", "--workers", "1"])
    assert file.read_bytes() == whole(before if after is None else after)
    assert file.stat().st_mode & 0o777 == 0o640
    assert sorted(path.name for path in file.parent.iterdir()) == ["index.md", "one.md"]


def test_a_person_is_asked_file_by_file(plant, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:  # type: ignore[no-untyped-def]
    root: Path = plant(BOOK)
    monkeypatch.chdir(root)
    first, second = (
        problem(root, b"---\nquestion: \\int %dx \\, dx\nkey: %dx^2\n---\n" % (2 * n, n), name) for n, name in ((3, "a"), (4, "b"))
    )
    replies = iter(["n", "y"])
    monkeypatch.setattr(builtins, "input", lambda _: next(replies))
    assert main(["mend", "--workers", "1"]) == 0
    said = capsys.readouterr().out
    assert "content/powers/a.md\n  @@ -2,3 +2,3 @@\n   question: \\int 6x \\, dx\n  -key: 3x^2\n  +key: 3x^2 + C\n" in said
    assert "The constant of integration is missing." in said
    assert "1 file mended. What is left: 1 warning." in said
    assert first.read_bytes().endswith(b"3x^2\n---\n")
    assert second.read_bytes().endswith(b"4x^2 + C\n---\n")


def test_a_file_that_was_changed_in_the_meantime_is_left_alone(
    plant, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:  # type: ignore[no-untyped-def]
    root: Path = plant(BOOK)
    file = problem(root, b"---\nquestion: \\int 6x \\, dx\nkey: 3x^2\n---\n")

    def reply(_: str) -> str:
        file.write_bytes(b"somebody else's work")
        return "y"

    monkeypatch.setattr(builtins, "input", reply)
    main(["mend", str(root / "content"), "--workers", "1"])
    assert file.read_bytes() == b"somebody else's work"
    assert "was changed in the meantime" in capsys.readouterr().err


def test_without_a_yes_nothing_is_changed(plant, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:  # type: ignore[no-untyped-def]
    root: Path = plant(BOOK)
    file = problem(root, b"---\nquestion: \\int 6x \\, dx\nkey: 3x^2\n---\n")

    def nobody(_: str) -> str:
        raise EOFError

    monkeypatch.setattr(builtins, "input", nobody)
    assert main(["mend", str(file), "--workers", "1"]) == 2
    assert file.read_bytes().endswith(b"3x^2\n---\n")


def test_replacements_that_overlap_are_not_both_made() -> None:
    def put(start: int, end: int, text: str) -> Replacement:
        return Replacement(Span("", Place(1, start), Place(1, end)), text)

    assert rewritten(b"abcdef", [put(2, 4, "X"), put(3, 5, "Y"), put(5, 6, "Z")], quoted=False) == b"aXdZf"
    assert rewritten(b"\xef\xbb\xbfab", [put(1, 2, "X")], quoted=False) == b"\xef\xbb\xbfXb"
    assert rewritten(b"\xff", [put(1, 2, "X")], quoted=False) is None
