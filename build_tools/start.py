"""Two commands from a fresh clone to a book and to tested code; needs Python 3.11 or newer and nothing else.

    python3 build_tools/start.py book     make the environment, build the demo book strictly into site/
    python3 build_tools/start.py serve    the same, shown at http://127.0.0.1:8000/ and built anew after each save
    python3 build_tools/start.py test     make the environment, find a browser, run every test

What follows the command is handed on to MkDocs (book, serve) or to pytest (test). Only the standard library is used here.
Written for Linux, macOS and Windows; tried on Linux only.
"""

from __future__ import annotations

import hashlib
import json
import os
import platform
import shutil
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
VENV = ROOT / ".venv"
CONSTRAINTS = ROOT / "build_tools" / "constraints.txt"
OLDEST = (3, 11)
BUILDER = "hatchling"
SITE_ADDRESS = "127.0.0.1:8000"
ON_PATH = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
MAC_PLACES = (
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
)
WINDOWS_PLACES = ("Chromium/Application/chrome.exe", "Google/Chrome/Application/chrome.exe")


class Trouble(Exception):
    """Something that the person at the keyboard can mend; its text says how."""


def main(arguments: Sequence[str]) -> int:
    """Run one of the commands and give its exit code (2: it was called wrongly)."""
    commands: dict[str, Callable[[Sequence[str]], int]] = {"book": book, "serve": serve, "test": test}
    if not arguments or arguments[0] not in commands:
        print(__doc__, file=sys.stdout if arguments[:1] in (["-h"], ["--help"]) else sys.stderr)
        return 0 if arguments[:1] in (["-h"], ["--help"]) else 2
    try:
        return commands[arguments[0]](arguments[1:])
    except Trouble as trouble:
        print(f"\n{trouble}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
        return 130


def book(extra: Sequence[str]) -> int:
    """Build the demo book into `site/`; a warning or a wrong key stops it."""
    prepare(VENV, ())
    code = run([venv_python(VENV), "-m", "mkdocs", "build", "--strict", *extra])
    if code == 0 and not extra:
        print(f"\nThe book is in {ROOT / 'site'}")
        print(f"Its first page: {(ROOT / 'site' / 'index.html').as_uri()}")
        print(f"To read it as on the web, with search: {command_line('serve')}")
    return code


def serve(extra: Sequence[str]) -> int:
    """Show the demo book on this machine and build it anew after each save, until Ctrl-C."""
    prepare(VENV, ())
    # `--livereload` is MkDocs' own default, which its command line loses under recent versions of click
    watch = ["--livereload", "--watch", str(ROOT / "site_src"), "--dev-addr", SITE_ADDRESS]
    return run([venv_python(VENV), "-m", "mkdocs", "serve", *watch, *extra])


def test(extra: Sequence[str]) -> int:
    """Run every test (or those that `extra` names); without a browser the tests that need one are skipped, in CI that fails."""
    prepare(VENV, ("test",))
    browser = find_browser(os.environ, sys.platform, shutil.which) or install_browser()
    if browser is None and os.environ.get("CI") == "true":
        raise Trouble("NO BROWSER. Under CI=true the pages must be looked at: install Chromium, or name a browser in EVERYLINE_BROWSER.")
    if browser is None:
        print(
            "\n*** NO BROWSER: the pages will NOT be looked at. Install Chromium, or name a browser in EVERYLINE_BROWSER. ***\n", flush=True
        )
    # before `extra`, so that `-n 0` there wins
    spread = ["-n", "auto", "--dist", "worksteal"]
    return run([venv_python(VENV), "-m", "pytest", *spread, *extra], {"EVERYLINE_BROWSER": browser} if browser else {})


# -- the environment ----------------------------------------------------------------------------------------------------


def prepare(venv: Path, extras: tuple[str, ...]) -> None:
    """Make sure that `venv` holds everyline with what it needs and `extras`; nothing is done, and no network asked, when it does."""
    stamp, unfinished, wanted = venv / "everyline.json", venv / "everyline.unfinished", fingerprint()
    installed = read_stamp(stamp, wanted)
    if installed is not None and set(extras) <= installed and venv_python(venv).exists():
        return
    stamp.unlink(missing_ok=True)
    if unfinished.exists() or not usable(venv):
        make(venv)
    unfinished.touch()
    wanted_extras = sorted({*extras, *(installed or ())})
    install(venv, wanted_extras)
    stamp.write_text(json.dumps({"fingerprint": wanted, "extras": wanted_extras}), encoding="utf-8")
    unfinished.unlink()


def fingerprint() -> str:
    """Changes with the declared needs, the pinned versions, the Python and the place of the checkout; not with everyline's own code."""
    parts = [(ROOT / "pyproject.toml").read_bytes(), CONSTRAINTS.read_bytes(), sys.version.encode(), str(ROOT).encode()]
    return hashlib.sha256(b"\0".join(hashlib.sha256(part).digest() for part in parts)).hexdigest()


def read_stamp(stamp: Path, wanted: str) -> set[str] | None:
    """The extras that a finished install with this fingerprint brought; None where there was no such install."""
    try:
        said = json.loads(stamp.read_text(encoding="utf-8"))
        return set(said["extras"]) if said["fingerprint"] == wanted else None
    except (OSError, ValueError, KeyError, TypeError):
        return None


def usable(venv: Path) -> bool:
    """Whether the environment's Python starts, is the version that runs this script, and has pip."""
    ask = "import sys, pip; print(*sys.version_info[:2])"
    try:
        said = subprocess.run([venv_python(venv), "-c", ask], capture_output=True, text=True, check=False)
    except OSError:
        return False
    return said.stdout.split() == [str(part) for part in sys.version_info[:2]]


def make(venv: Path) -> None:
    """A fresh virtual environment in place of whatever was there."""
    print(f"Making {venv} …", flush=True)
    base = getattr(sys, "_base_executable", "") or sys.executable  # so that the environment's own Python may make it anew
    if subprocess.run([base, "-m", "venv", "--clear", venv], check=False).returncode != 0:
        raise Trouble("Python could not make a virtual environment. On Debian and Ubuntu: apt install python3-venv; then try again.")


def install(venv: Path, extras: Sequence[str]) -> None:
    """Install the builder, then everyline so that edits in the checkout count at once, all in the pinned versions."""
    print("Installing what everyline needs (the first time: a minute or two) …", flush=True)
    pip: list[str | Path] = [
        venv_python(venv),
        "-m",
        "pip",
        "install",
        "--quiet",
        "--disable-pip-version-check",
        "--no-input",
        "-c",
        CONSTRAINTS,
    ]
    target = f"{ROOT}[{','.join(extras)}]" if extras else str(ROOT)
    for wanted in ([BUILDER], ["--no-build-isolation", "--editable", target]):
        if subprocess.run([*pip, *wanted], cwd=ROOT, check=False).returncode != 0:
            # pip ended by itself, so it has put back what it was changing
            (venv / "everyline.unfinished").unlink(missing_ok=True)
            raise Trouble(
                "The packages could not be installed (see above). Only this step needs the network; the same command tries again."
            )


def venv_python(venv: Path) -> Path:
    return venv / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


# -- a browser for the tests --------------------------------------------------------------------------------------------


def find_browser(environment: Mapping[str, str], system: str, which: Callable[[str], str | None]) -> str | None:
    """A browser of the Chromium family: the one that EVERYLINE_BROWSER names, else one that the system has, else None.

    `system` is `sys.platform`, `which` finds a program on the path. Raises Trouble where the named one is not there.
    """
    named = environment.get("EVERYLINE_BROWSER")
    if named:
        found = which(named)
        if found is None:
            raise Trouble(f"EVERYLINE_BROWSER names {named}, which is not a program that can be started.")
        return found
    places = list(ON_PATH)
    if system == "darwin":
        places += MAC_PLACES
    if system == "win32":
        roots = [environment[name] for name in ("PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA") if environment.get(name)]
        places += [f"{root}/{place}" for root in roots for place in WINDOWS_PLACES]
    return next(filter(None, map(which, places)), None)


def install_browser() -> str | None:
    """Debian's Chromium, where this is Debian and we may install it; None elsewhere or where that fails."""
    if not may_install(sys.platform, Path("/etc/os-release"), shutil.which):
        return None
    print("Installing Debian's Chromium …", flush=True)
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for step in (["update", "-qq"], ["install", "-y", "-qq", "--no-install-recommends", "chromium"]):
        if subprocess.run(["apt-get", *step], env=quiet, stdout=subprocess.DEVNULL, check=False).returncode != 0:
            return None
    return find_browser(os.environ, sys.platform, shutil.which)


def may_install(system: str, release: Path, which: Callable[[str], str | None]) -> bool:
    """Whether this is Debian itself (elsewhere `chromium` may be a stand-in for another store's) and we are root there."""
    if system != "linux" or os.geteuid() != 0 or which("apt-get") is None or not release.exists():
        return False
    return "ID=debian" in release.read_text(encoding="utf-8").splitlines()


# -- running ------------------------------------------------------------------------------------------------------------


def run(command: Sequence[str | Path], environment: Mapping[str, str] | None = None) -> int:
    """Run a command in the checkout and give its exit code."""
    settings = {**os.environ, "NO_MKDOCS_2_WARNING": "1", **(environment or {})}
    return subprocess.run(command, cwd=ROOT, env=settings, check=False).returncode


def command_line(command: str) -> str:
    return f"{'py' if os.name == 'nt' else 'python3'} build_tools/start.py {command}"


if __name__ == "__main__":
    if sys.version_info < OLDEST:
        sys.exit(f"everyline needs Python {OLDEST[0]}.{OLDEST[1]} or newer; this one is {platform.python_version()}.")
    sys.exit(main(sys.argv[1:]))
