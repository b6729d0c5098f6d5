"""How long the demo book takes to build, beside the same pages without the plugin: both in one run. Reports, never fails on a time."""

from __future__ import annotations

import os
import resource
import shutil
import subprocess
import sys
import time
from pathlib import Path

import yaml

from everyline.book import read_and_build
from everyline.render.site import site

ROOT = Path(__file__).resolve().parents[2]


def _cost(call: list[str], folder: Path) -> tuple[float, float]:
    """Seconds on the clock and of the processors, children included."""
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1"}
    subprocess.run(call, cwd=folder, env=environment, capture_output=True, check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return time.perf_counter() - start, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def test_the_build_beside_the_same_pages_without_the_plugin(tmp_path: Path) -> None:
    mkdocs = [sys.executable, "-m", "mkdocs", "build", "-q", "-d"]
    with_plugin = _cost([*mkdocs, str(tmp_path / "with")], ROOT)
    shutil.copytree(ROOT / "content", tmp_path / "content", ignore=shutil.ignore_patterns("book.yml"))
    made, sources = read_and_build(ROOT / "content", workers=os.cpu_count() or 1)
    pages = site(made, sources).pages
    for page in pages:
        target = tmp_path / "content" / page.path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(f"---\ntitle: {page.title!r}\n---\n{page.body}\n", encoding="utf-8")
    settings = yaml.safe_load((ROOT / "mkdocs.yml").read_text("utf-8"))
    others = [p for p in settings["plugins"] if p != "everyline" and "everyline" not in p]
    plain = settings | {"plugins": others, "nav": [{"Home": "index.md"}]}
    (tmp_path / "mkdocs.yml").write_text(yaml.safe_dump(plain), encoding="utf-8")
    without = _cost([*mkdocs, str(tmp_path / "without")], tmp_path)
    built = [len(list((tmp_path / name).rglob("*.html"))) for name in ("with", "without")]
    proving = sum(examined.seconds for examined in made.examined)
    print(
        f"\n{len(pages)} pages. With the plugin {with_plugin[0]:.1f} s ({with_plugin[1]:.1f} s of CPU, of which proving and solving "
        f"{proving:.1f}); the same pages without it {without[0]:.1f} s ({without[1]:.1f} of CPU): "
        f"{with_plugin[0] / without[0]:.2f} times on the clock, {with_plugin[1] / without[1]:.2f} of CPU."
    )
    assert min(built) >= len(pages)
