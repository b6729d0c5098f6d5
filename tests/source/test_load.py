"""What of a folder is read, and what is refused."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from everyline.source.front import MAX_FILE
from everyline.source.load import load
from everyline.source.reading import read_problem

PROBLEM = "---\nquestion: x\nkey: x\n---\n"
CHAPTER = "---\ntitle: T\norder: 1\n---\n"


def draw(root: Path, tree: dict[str, str]) -> Path:
    for path, text in tree.items():
        file = root / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    return root


def test_chapters_problems_and_conventions(tmp_path: Path) -> None:
    tree = {
        "book.yml": "title: Tides\n",
        "index.md": "Hello",
        "about.md": "---\ntitle: About\n---\n",
        "b/index.md": CHAPTER,
        "b/two.md": PROBLEM,
        "b/one.md": PROBLEM,
        "b/picture.svg": "<svg/>",
        "a/index.md": CHAPTER,
        "a/deep/index.md": CHAPTER,
        "a/deep/three.md": PROBLEM,
        "sets/index.md": CHAPTER,
        "sets/four.md": PROBLEM,
        "lessons/five.md": PROBLEM,
        "contrasts/six.md": PROBLEM,
        "assets/seven.md": PROBLEM,
        ".hidden/index.md": CHAPTER,
        "plain/page.md": "Words only.",
    }
    sources = load(draw(tmp_path, tree))
    assert list(sources.problems) == ["a/deep/three.md", "b/one.md", "b/two.md"]
    assert list(sources.chapters) == ["a/deep/index.md", "a/index.md", "b/index.md"]
    assert list(sources.composed) == ["contrasts/six.md", "lessons/five.md", "sets/four.md", "sets/index.md"]
    assert list(sources.composed_in("sets")) == ["sets/four.md", "sets/index.md"]
    assert sources.conventions == b"title: Tides\n"
    assert sources.faults == ()
    assert sources.line("b/one.md", 2) == "question: x"
    assert sources.line("b/one.md", 99) is None
    assert sources.line("nowhere.md", 1) is None


def test_a_problem_outside_every_chapter_is_not_lost_silently(tmp_path: Path) -> None:
    sources = load(draw(tmp_path, {"lost/one.md": PROBLEM, "two.md": PROBLEM}))
    assert [(f.code, f.span.path, f.why) for f in sources.faults] == [
        ("file-refused", "two.md", "no-chapter"),
        ("file-refused", "lost/one.md", "no-chapter"),
    ]


@pytest.mark.skipif(os.name == "nt", reason="symbolic links need a right on Windows")
def test_links_that_leave_the_book_are_refused(tmp_path: Path) -> None:
    draw(tmp_path / "elsewhere", {"secret.md": PROBLEM, "index.md": CHAPTER})
    root = draw(tmp_path / "book", {"a/index.md": CHAPTER, "a/own.md": PROBLEM})
    (root / "a/out.md").symlink_to(tmp_path / "elsewhere/secret.md")
    (root / "a/inside.md").symlink_to(root / "a/own.md")
    (root / "a/broken.md").symlink_to(root / "a/none.md")
    (root / "b").symlink_to(tmp_path / "elsewhere")
    (root / "loop").symlink_to(root)
    os.mkfifo(root / "a/pipe.md")
    sources = load(root)
    assert list(sources.problems) == ["a/inside.md", "a/own.md"]
    assert {(f.span.path, f.why) for f in sources.faults} == {
        ("a/out.md", "outside"),
        ("a/broken.md", "outside"),
        ("a/pipe.md", "not-a-file"),
        ("b", "outside"),
        ("loop", "linked-folder"),
    }


def test_odd_names_are_refused(tmp_path: Path) -> None:
    sources = load(draw(tmp_path, {"a/index.md": CHAPTER, "a/x&y'.md": PROBLEM, "a/dritte-übung 2.md": PROBLEM}))
    assert list(sources.problems) == ["a/dritte-übung 2.md"]
    assert [(f.span.path, f.why) for f in sources.faults] == [("a/x&y'.md", "name")]


def test_a_huge_file_is_read_only_as_far_as_its_limit(tmp_path: Path) -> None:
    sources = load(draw(tmp_path, {"a/index.md": CHAPTER, "a/huge.md": PROBLEM + "x" * (3 * MAX_FILE)}))
    data = sources.problems["a/huge.md"]
    assert len(data) == MAX_FILE + 1
    assert [f.code for f in read_problem("a/huge.md", data).faults] == ["too-large"]


def test_no_folder(tmp_path: Path) -> None:
    with pytest.raises(NotADirectoryError):
        load(tmp_path / "none")
