"""Caps, forbidden calls, the layout of the top level, and what must never be in a commit."""

from __future__ import annotations

import ast
import re
import subprocess
import sys

import pytest

from .house import MODULES, PACKAGE, ROOT, Module, tracked

CAP = 300
#: Modules over the soft cap, each with the reason. A module that fits again must leave this table.
LONG: dict[str, str] = {}
FUNCTION_CAP = 40
#: Functions over theirs.
LONG_FUNCTIONS = {"build_tools/everyline/kernel/cover.py": {"cover"}}
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "mkdocs.yml", "pyproject.toml", "content", "build_tools", "tests", "site_src"}
LICENCES = {"LICENSE", "LICENSE-content"}
#: Written apart, so that this file does not hold what it forbids.
FORBIDDEN_TEXT = (
    "/" + "work/", "/" + "root/", "/" + "home/", "/" + "tmp/bash", "py" + "pi.org", "python" + "hosted", "npm" + "js.", "deb." + "debian",
)  # fmt: skip
LOCK_FILES = {"package-lock.json", "yarn.lock", "poetry.lock", "uv.lock", "Pipfile.lock", "pdm.lock", "pnpm-lock.yaml"}


def lines(module: Module) -> int:
    return len(module.text.splitlines())


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.label)
def test_a_module_can_be_read_in_one_go(module: Module) -> None:
    assert (lines(module) > CAP) == (module.label in LONG), f"{lines(module)} lines"


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.label)
def test_a_function_fits_on_a_screen(module: Module) -> None:
    """Its docstring not counted."""
    functions = [node for node in ast.walk(module.tree) if isinstance(node, ast.FunctionDef)]
    assert {f.name for f in functions if _own_lines(f) > FUNCTION_CAP} == LONG_FUNCTIONS.get(module.label, set())


def _own_lines(function: ast.FunctionDef) -> int:
    said = function.body[0] if ast.get_docstring(function) is not None else None
    return (function.end_lineno or 0) - function.lineno + 1 - (0 if said is None else (said.end_lineno or 0) - said.lineno + 1)


@pytest.mark.parametrize("room", ["arithmetic", "kernel"])
def test_a_trusted_room_is_read_in_one_sitting(room: str) -> None:
    """What decides is two rooms: arithmetic, which finds facts, and the kernel, which alone says what stands."""
    assert sum(lines(m) for m in MODULES if m.room == room) <= 1200
    assert sum(lines(m) for m in MODULES if m.room == "receipts") <= 40


def test_the_plugin_delegates_at_once() -> None:
    adapter = next(m for m in MODULES if m.name == ("adapters", "mkdocs"))
    plugin = next(node for node in adapter.tree.body if isinstance(node, ast.ClassDef) and node.name == "EverylinePlugin")
    assert lines(adapter) < 100
    assert (plugin.end_lineno or 0) - plugin.lineno < 60


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.label)
def test_text_is_never_run_and_pickles_are_never_read(module: Module) -> None:
    """A problem file comes from a stranger: it is data."""
    called = {_called(node.func) for node in ast.walk(module.tree) if isinstance(node, ast.Call)}
    assert called & {"eval", "exec", "compile", "__import__", "sympify", "parse_expr", "load_module"} == set()
    assert {name.split(".")[0] for name in module.imports} & {"pickle", "marshal", "shelve", "dill", "joblib"} == set()
    unsafe = {"yaml.load", "yaml.unsafe_load", "yaml.full_load", "os.system"}
    assert not {ast.unparse(node.func) for node in ast.walk(module.tree) if isinstance(node, ast.Call)} & unsafe


def _called(function: ast.expr) -> str:
    if isinstance(function, ast.Attribute):
        return "" if ast.unparse(function) in ("re.compile", "typst.compile") else function.attr
    return function.id if isinstance(function, ast.Name) else ""


def test_the_top_level_holds_what_it_should_and_no_more() -> None:
    top = {path.relative_to(ROOT).parts[0] for path in tracked()}
    assert {name for name in top if not name.startswith(".")} == TOP_LEVEL | LICENCES


def test_no_commit_names_this_machine_or_a_registry() -> None:
    found = []
    for path in tracked():
        try:
            text = path.read_text("utf-8")
        except UnicodeDecodeError:
            continue
        found += [f"{path.relative_to(ROOT)}: {word}" for word in FORBIDDEN_TEXT if word in text]
    assert found == []


def test_no_commit_holds_a_lock_file() -> None:
    assert [path.name for path in tracked() if path.name in LOCK_FILES] == []


def test_the_constraints_are_plain_pins() -> None:
    text = (ROOT / "build_tools" / "constraints.txt").read_text("utf-8")
    assert [line for line in text.splitlines() if not re.fullmatch(r"[A-Za-z0-9_.-]+==[A-Za-z0-9_.+!-]+", line)] == []


def test_the_constraints_pin_everything_that_is_declared() -> None:
    import tomllib

    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    declared = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    pinned = {_plain(line.split("==")[0]) for line in (ROOT / "build_tools" / "constraints.txt").read_text("utf-8").splitlines()}
    assert {_plain(name) for name in declared} - pinned == set()


def _plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def test_developers_is_short() -> None:
    assert len((ROOT / "DEVELOPERS.md").read_text("utf-8").splitlines()) < 200


def test_the_readme_opens_with_the_two_commands_and_says_what_goes_first() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    book, test = text.index("python3 build_tools/start.py book"), text.index("python3 build_tools/start.py test")
    picture = text.index("![")
    assert book < picture
    assert test < picture
    named = text[text.index("](", picture) + 2 : text.index(")", picture)]
    assert (ROOT / named).is_file(), "the picture of a problem page is not there"
    for said in ("practice material", "MIT", "CC BY 4.0", "Windows"):
        assert said in text


@pytest.mark.parametrize("command", [["ruff", "check"], ["ruff", "format", "--check"]], ids=" ".join)
def test_ruff_has_nothing_to_say(command: list[str]) -> None:
    said = subprocess.run([sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True, check=False)
    assert said.returncode == 0, said.stdout + said.stderr


@pytest.mark.slow
def test_mypy_has_nothing_to_say() -> None:
    said = subprocess.run([sys.executable, "-m", "mypy"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert said.returncode == 0, said.stdout + said.stderr


def test_every_package_has_a_word_about_itself() -> None:
    assert [m.label for m in MODULES if not ast.get_docstring(m.tree)] == []
    assert PACKAGE.joinpath("py.typed").exists()


LARGE = 15
PACKAGES = [m for m in MODULES if m.path.name == "__init__.py" and m.room not in ("", "cli")]


@pytest.mark.parametrize("package", PACKAGES, ids=lambda m: m.label)
def test_a_large_room_has_a_map(package: Module) -> None:
    """Its docstring names what is in it and is not one of many alike, and nothing else: there a newcomer looks for the way."""
    inside = {m.name[-1]: m for m in MODULES if m.name[:-1] == package.name}
    apart = {name for name, module in inside.items() if not _one_of_many(module)}
    said = set(re.findall(r"`([a-z_]+)`", ast.get_docstring(package.tree) or ""))
    assert len(apart) <= LARGE or apart - said - {"kinds"} == set(), f"say in the docstring of {package.label} what these are for"
    assert said <= inside.keys() or len(apart) <= LARGE, "not all of these are there"


def _one_of_many(module: Module) -> bool:
    """Whether it is one technique, slip or kind of fault."""
    targets = [target for node in module.tree.body if isinstance(node, ast.Assign) for target in node.targets]
    return any(isinstance(target, ast.Name) and target.id in ("TECHNIQUE", "SLIP", "KIND") for target in targets)
