"""`build_tools/start.py`: when it installs, what it does after an interruption, which browser it takes."""

from __future__ import annotations

import importlib.util
import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]
SCRIPT = ROOT / "build_tools" / "start.py"


@pytest.fixture
def start() -> ModuleType:
    """The script as a module of its own for every test, so that a test may change it."""
    spec = importlib.util.spec_from_file_location("start_script", SCRIPT)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


class Recorder:
    """Stands in for the slow steps and notes their order; `fails` names the step that breaks."""

    def __init__(self, start: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
        self.steps: list[str] = []
        self.fails = ""
        self.usable = True
        self.start = start
        monkeypatch.setattr(start, "make", self._make)
        monkeypatch.setattr(start, "install", self._install)
        monkeypatch.setattr(start, "usable", lambda venv: self.usable)

    def _make(self, venv: Path) -> None:
        self.steps.append("make")
        shutil.rmtree(venv, ignore_errors=True)
        python = self.start.venv_python(venv)
        python.parent.mkdir(parents=True)
        python.touch()
        self.usable = True

    def _install(self, venv: Path, extras: list[str]) -> None:
        self.steps.append("install " + ",".join(extras))
        if self.fails:
            raise KeyboardInterrupt

    def prepare(self, venv: Path, *extras: str) -> list[str]:
        self.steps = []
        self.start.prepare(venv, extras)
        return self.steps


@pytest.fixture
def recorder(start: ModuleType, monkeypatch: pytest.MonkeyPatch) -> Recorder:
    return Recorder(start, monkeypatch)


@pytest.fixture
def venv(tmp_path: Path, recorder: Recorder) -> Path:
    """An environment that the book's command has made."""
    place = tmp_path / "env"
    recorder.usable = False
    assert recorder.prepare(place) == ["make", "install "]
    return place


# -- when it installs ---------------------------------------------------------------------------------------------------


def test_a_second_run_does_nothing(recorder: Recorder, venv: Path) -> None:
    assert recorder.prepare(venv) == []


def test_the_tests_add_what_they_need_and_the_book_keeps_it(recorder: Recorder, venv: Path) -> None:
    assert recorder.prepare(venv, "test") == ["install test"]
    assert recorder.prepare(venv, "test") == []
    assert recorder.prepare(venv) == []


@pytest.mark.parametrize("file", ["pyproject.toml", "build_tools/constraints.txt"])
def test_a_changed_need_is_installed_over_what_is_there(
    file: str, start: ModuleType, recorder: Recorder, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy = tmp_path / "checkout"
    (copy / "build_tools").mkdir(parents=True)
    for name in ("pyproject.toml", "build_tools/constraints.txt"):
        shutil.copy(ROOT / name, copy / name)
    monkeypatch.setattr(start, "ROOT", copy)
    monkeypatch.setattr(start, "CONSTRAINTS", copy / "build_tools" / "constraints.txt")
    recorder.usable = False
    recorder.prepare(copy / ".venv", "test")
    with (copy / file).open("a") as changed:
        changed.write("\n")
    assert recorder.prepare(copy / ".venv", "test") == ["install test"]


def test_a_moved_checkout_is_installed_again(start: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """An editable install holds the place of the checkout."""
    before = start.fingerprint()
    shutil.copytree(ROOT / "build_tools", tmp_path / "build_tools", ignore=shutil.ignore_patterns("everyline*", "__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    monkeypatch.setattr(start, "ROOT", tmp_path)
    assert start.fingerprint() != before


def test_an_interrupted_install_starts_from_a_fresh_environment(recorder: Recorder, venv: Path) -> None:
    recorder.fails = "here"
    with pytest.raises(KeyboardInterrupt):
        recorder.prepare(venv, "test")
    recorder.fails = ""
    assert recorder.prepare(venv) == ["make", "install "]


def test_an_environment_that_does_not_start_is_made_anew(recorder: Recorder, venv: Path) -> None:
    (venv / "everyline.json").unlink()
    recorder.usable = False
    assert recorder.prepare(venv) == ["make", "install "]


def test_an_environment_made_by_hand_is_kept_and_filled(recorder: Recorder, venv: Path) -> None:
    (venv / "everyline.json").unlink()
    assert recorder.prepare(venv) == ["install "]


@pytest.mark.parametrize("text", ["", "[]", "{}", "null", '{"fingerprint": 3}', "\x00"])
def test_a_spoilt_stamp_means_nothing(text: str, recorder: Recorder, venv: Path) -> None:
    (venv / "everyline.json").write_text(text)
    assert recorder.prepare(venv) == ["install "]


def test_without_network_the_trouble_is_said_and_the_environment_kept(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    """A real environment and a real pip that may not ask anybody: it ends by itself, so nothing has to be made anew."""
    monkeypatch.setattr(start, "BUILDER", "a-package-that-nobody-has")
    monkeypatch.setenv("PIP_NO_INDEX", "1")
    monkeypatch.setattr(start, "VENV", tmp_path / "env")
    assert start.main(["book"]) == 1
    assert "needs the network" in capfd.readouterr().err
    assert start.usable(tmp_path / "env")
    assert not (tmp_path / "env" / "everyline.unfinished").exists()
    assert not (tmp_path / "env" / "everyline.json").exists()


def test_an_environment_of_another_python_is_not_usable(start: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    subprocess.run([sys.executable, "-m", "venv", tmp_path / "env"], check=True)
    assert start.usable(tmp_path / "env")
    monkeypatch.setattr(start.sys, "version_info", (3, 99, 0))
    assert not start.usable(tmp_path / "env")
    assert not start.usable(tmp_path / "nothing")


def test_nothing_to_install_is_found_out_in_under_a_second(start: ModuleType, tmp_path: Path) -> None:
    """The issue's bound, for a fresh Python that loads the script and looks at the stamp."""
    python = start.venv_python(tmp_path / "env")
    python.parent.mkdir(parents=True)
    python.touch()
    (tmp_path / "env" / "everyline.json").write_text(json.dumps({"fingerprint": start.fingerprint(), "extras": []}))
    code = (
        f"import sys; sys.path.insert(0, {str(SCRIPT.parent)!r}); import start; from pathlib import Path; "
        f"start.prepare(Path({str(tmp_path / 'env')!r}), ())"
    )
    began = time.perf_counter()
    subprocess.run([sys.executable, "-I", "-c", code], check=True)
    assert time.perf_counter() - began < 1


# -- which browser ------------------------------------------------------------------------------------------------------


MAC = "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome"


def which(*there: str) -> Callable[[str], str | None]:
    return lambda name: next((place for place in there if name in (place, place.rsplit("/", 1)[-1])), None)


@pytest.mark.parametrize(
    ("system", "environment", "there", "found"),
    [
        ("linux", {}, ["/usr/bin/google-chrome", "/usr/bin/chromium"], "/usr/bin/chromium"),
        ("linux", {}, ["/usr/bin/google-chrome-stable"], "/usr/bin/google-chrome-stable"),
        ("linux", {}, ["/usr/bin/firefox"], None),
        ("linux", {"EVERYLINE_BROWSER": "/opt/mine"}, ["/usr/bin/chromium", "/opt/mine"], "/opt/mine"),
        ("linux", {"EVERYLINE_BROWSER": ""}, ["/usr/bin/chromium"], "/usr/bin/chromium"),
        ("darwin", {}, [MAC], MAC),
        ("win32", {"PROGRAMFILES": "C:/P"}, ["C:/P/Google/Chrome/Application/chrome.exe"], "C:/P/Google/Chrome/Application/chrome.exe"),
        ("win32", {}, ["C:/P/Google/Chrome/Application/chrome2.exe"], None),
    ],
)  # fmt: skip
def test_the_named_browser_goes_before_those_of_the_system(
    system: str, environment: dict[str, str], there: list[str], found: str | None, start: ModuleType
) -> None:
    assert start.find_browser(environment, system, which(*there)) == found


def test_a_named_browser_that_is_not_there_is_said(start: ModuleType) -> None:
    with pytest.raises(start.Trouble, match="EVERYLINE_BROWSER names /no/such"):
        start.find_browser({"EVERYLINE_BROWSER": "/no/such"}, "linux", which("/usr/bin/chromium"))


@pytest.mark.parametrize(
    ("system", "release", "user", "allowed"),
    [
        ("linux", "PRETTY_NAME=x\nID=debian\n", 0, True),
        ("linux", "ID=debian\n", 1000, False),
        ("linux", "ID=ubuntu\nID_LIKE=debian\n", 0, False),
        ("darwin", "ID=debian\n", 0, False),
    ],
)
def test_packages_are_installed_on_debian_by_root_only(
    system: str, release: str, user: int, allowed: bool, start: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "os-release").write_text(release)
    monkeypatch.setattr(os, "geteuid", lambda: user, raising=False)
    assert start.may_install(system, tmp_path / "os-release", which("/usr/bin/apt-get")) is allowed


@pytest.mark.parametrize(("ci", "code", "said"), [("true", 1, "NO BROWSER"), ("", 0, "NO BROWSER"), ("false", 0, "NO BROWSER")])
def test_without_a_browser_ci_fails_and_a_person_is_told(
    ci: str, code: int, said: str, start: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("CI", ci)
    for name, stand_in in {"prepare": None, "find_browser": None, "install_browser": None, "run": 0}.items():
        monkeypatch.setattr(start, name, lambda *_, given=stand_in: given)
    assert start.main(["test"]) == code
    printed = capsys.readouterr()
    assert sum(said in line for line in (printed.out + printed.err).splitlines()) == 1


def test_the_browser_and_further_arguments_reach_pytest(start: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    calls = []
    monkeypatch.setattr(start, "prepare", lambda *_: None)
    monkeypatch.setattr(start, "find_browser", lambda *_: "/usr/bin/chromium")
    monkeypatch.setattr(start, "run", lambda command, environment=None: calls.append((command, environment)) or 5)
    assert start.main(["test", "tests/kernel", "-k", "jump"]) == 5
    [(command, environment)] = calls
    assert command[1:] == ["-m", "pytest", "-n", "auto", "--dist", "worksteal", "tests/kernel", "-k", "jump"]
    assert environment == {"EVERYLINE_BROWSER": "/usr/bin/chromium"}


# -- how it is called ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("arguments", "code"), [([], 2), (["bake"], 2), (["--help"], 0)])
def test_a_wrong_call_says_what_there_is(arguments: list[str], code: int, start: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    assert start.main(arguments) == code
    printed = capsys.readouterr()
    assert "start.py serve" in printed.out + printed.err


def test_an_old_python_is_told_so(start: ModuleType) -> None:
    """The lines that run before the check must be readable to an older Python: no newer syntax, no newer module."""
    import ast

    ast.parse(SCRIPT.read_text("utf-8"), feature_version=(3, 7))
    code = (
        "import sys, runpy; sys.version_info = (3, 8, 2, 'final', 0); sys.argv = ['start.py', 'book']; "
        f"runpy.run_path({str(SCRIPT)!r}, run_name='__main__')"
    )
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert said.returncode == 1
    assert "everyline needs Python 3.11 or newer" in said.stderr


def test_only_the_standard_library_is_used() -> None:
    import ast

    imported = {
        alias.name.split(".")[0] if isinstance(node, ast.Import) else (node.module or "").split(".")[0]
        for node in ast.walk(ast.parse(SCRIPT.read_text("utf-8")))
        if isinstance(node, ast.Import | ast.ImportFrom)
        for alias in node.names
    }
    assert imported <= set(sys.stdlib_module_names)
