"""What GitHub and pre-commit read of this repository: well-formed, read-only, and true. (Untried on GitHub itself.)"""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml

from everyline.cli import parser
from everyline.source.reading import read_problem

ROOT = Path(__file__).resolve().parents[2]
GITHUB = ROOT / ".github"


def loaded(path: Path) -> Any:
    # BaseLoader, for YAML 1.1 reads the name `on` as a truth value
    return yaml.load(path.read_text("utf-8"), yaml.BaseLoader)


def test_a_workflow_for_forks_can_only_read_and_holds_no_secret() -> None:
    text = (GITHUB / "workflows" / "book.yml").read_text("utf-8")
    workflow = loaded(GITHUB / "workflows" / "book.yml")
    assert set(workflow["on"]) == {"pull_request", "push"}
    assert workflow["permissions"] == {"contents": "read"}
    assert "secrets" not in text.replace("no secrets", "")
    steps = workflow["jobs"]["check"]["steps"]
    checkouts = [step for step in steps if step.get("uses", "").startswith("actions/checkout@")]
    assert all(step["with"]["persist-credentials"] == "false" for step in checkouts)
    # what a stranger chooses (a title, a branch's name) is never pasted into a script
    assert not [step for step in steps if "${{" in step.get("run", "")]
    assert "NOT TRIED" in text


@pytest.mark.parametrize(
    ("schema", "file"),
    [
        ("github-workflows", "workflows/book.yml"),
        ("github-issue-forms", "ISSUE_TEMPLATE/new-problem.yml"),
        ("github-issue-forms", "ISSUE_TEMPLATE/wrong-answer.yml"),
        ("github-issue-config", "ISSUE_TEMPLATE/config.yml"),
    ],
)
def test_a_file_for_github_keeps_to_its_schema(schema: str, file: str) -> None:
    """The schemas of the JSON Schema Store, as the package check-jsonschema carries them."""
    call = [sys.executable, "-m", "check_jsonschema", "--builtin-schema", f"vendor.{schema}", str(GITHUB / file)]
    said = subprocess.run(call, capture_output=True, text=True, check=False)
    assert said.returncode == 0, said.stdout


def test_the_linter_sees_a_wrong_workflow(tmp_path: Path) -> None:
    wrong = (GITHUB / "workflows" / "book.yml").read_text("utf-8").replace("timeout-minutes: 30", "timeout-minuten: 30")
    (tmp_path / "book.yml").write_text(wrong, "utf-8")
    call = [sys.executable, "-m", "check_jsonschema", "--builtin-schema", "vendor.github-workflows", str(tmp_path / "book.yml")]
    assert subprocess.run(call, capture_output=True, check=False).returncode == 1


def test_each_script_of_the_workflow_is_bash_and_no_field_shares_an_id() -> None:
    for step in loaded(GITHUB / "workflows" / "book.yml")["jobs"]["check"]["steps"]:
        said = subprocess.run(["bash", "-n"], input=step.get("run", ""), capture_output=True, text=True, check=False)
        assert said.returncode == 0, said.stderr
    for form in ("new-problem", "wrong-answer"):
        ids = [field["id"] for field in loaded(GITHUB / "ISSUE_TEMPLATE" / f"{form}.yml")["body"]]
        assert len(ids) == len(set(ids))


def test_the_hook_calls_a_command_that_there_is() -> None:
    [hook] = loaded(ROOT / ".pre-commit-hooks.yaml")
    program, *arguments = hook["entry"].split()
    assert program == "everyline"
    options = parser().parse_args([*arguments, "content/a.md"])
    assert (options.quiet, options.paths) == (True, ["content/a.md"])
    assert re.search(hook["files"], "content/powers/a.md")
    assert re.search(hook["files"], "content/book.yml")


def test_the_workflow_calls_commands_that_there_are() -> None:
    text = (GITHUB / "workflows" / "book.yml").read_text("utf-8")
    calls = [call.split() for call in re.findall(r"everyline (check --[^>\n]*)", text)]
    assert [parser().parse_args(call).format for call in calls] == ["github"]


def test_the_example_for_a_first_contribution_is_a_right_file() -> None:
    text = (GITHUB / "CONTRIBUTING.md").read_text("utf-8")
    [example] = re.findall(r"   ```\n(   ---\n.*?)   ```", text, re.DOTALL)
    read = read_problem("a/b.md", re.sub(r"^   ", "", example, flags=re.MULTILINE).encode())
    assert read.faults == ()
    assert read.problem is not None
