"""The package as it is handed on: a wheel that builds a site without the checkout."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from everyline.resources import site_source

ROOT = Path(__file__).resolve().parents[2]
pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "--no-build-isolation", "--no-index", "-w", folder, ROOT]
    said = subprocess.run(command, capture_output=True, text=True, check=False)
    assert said.returncode == 0, said.stderr
    [made] = folder.glob("everyline-*.whl")
    return made


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    target = tmp_path_factory.mktemp("installed")
    command = [sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--no-index", "--target", target, wheel]
    subprocess.run(command, capture_output=True, check=True)
    return target


def relative(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file() and "__pycache__" not in path.parts}


def test_the_wheel_holds_the_package_and_the_sites_sources(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    code = {f"everyline/{name}" for name in relative(ROOT / "build_tools" / "everyline")}
    data = {f"everyline/site_src/{name}" for name in relative(ROOT / "site_src")}
    assert data
    assert {name for name in names if ".dist-info/" not in name} == code | data
    assert any(name.endswith("dist-info/licenses/LICENSE") for name in names)


def test_in_the_checkout_the_sites_sources_are_those_beside_build_tools() -> None:
    assert Path(str(site_source())) == ROOT / "site_src"


def test_an_installed_package_finds_its_own_sources(installed: Path) -> None:
    code = "from everyline.resources import site_source; print(site_source())"
    said = run_there(code, installed)
    assert said.stdout.strip() == str(installed / "everyline" / "site_src"), said.stderr


def test_an_installed_package_builds_a_site_without_the_checkout(installed: Path, plant) -> None:  # type: ignore[no-untyped-def]
    book = plant(
        r"""
        content/book.yml
            title: A borrowed book
        content/index.md
            # Here
        content/powers/index.md
            ---
            title: Powers
            order: 1
            introduces: [power, sum]
            ---
        content/powers/one.md
            ---
            question: \int 14x^6 \, dx
            key: 2x^7 + C
            ---
        mkdocs.yml
            site_name: A borrowed book
            docs_dir: content
            theme: {name: material, font: false}
            plugins: [search, everyline]
        """
    )
    code = "import mkdocs.__main__; mkdocs.__main__.cli(['build', '-q', '-f', 'mkdocs.yml', '-d', 'out'])"
    said = run_there(code, installed, cwd=book)
    assert said.returncode == 0, said.stdout + said.stderr
    page = (book / "out" / "powers" / "one" / "index.html").read_text("utf-8")
    assert "<math" in page
    assert (book / "out" / "assets" / "everyline" / "everyline.css").is_file()


def run_there(code: str, installed: Path, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    """Run code that sees the installed package before, and instead of, the checkout."""
    first = f"import sys; sys.path.insert(0, {str(installed)!r}); import everyline; assert {str(installed)!r} in everyline.__file__\n"
    return subprocess.run([sys.executable, "-c", first + code], cwd=cwd or installed, capture_output=True, text=True, check=False)
