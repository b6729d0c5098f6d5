"""Books of thousands: what a problem costs as the book grows, a build with everything kept, and a save under `serve`.

    EVERYLINE_BIG=300,1000 .venv/bin/pytest tests/benchmarks/test_big_books.py -s -p no:xdist

Reports, never fails on a time. CPU seconds, children included, beside seconds on the clock: on a busy machine trust the former.
"""

from __future__ import annotations

import math
import os
import re
import resource
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest
from big_book import problem, write

from everyline.book import read_and_build
from everyline.book.memory import FOLDER, open_memory
from everyline.render.site import site

SIZES = [int(size) for size in os.environ.get("EVERYLINE_BIG", "").split(",") if size]
pytestmark = pytest.mark.skipif(not SIZES, reason="a long benchmark: name sizes in EVERYLINE_BIG, such as 300,1000")
ENVIRONMENT = {**os.environ, "NO_MKDOCS_2_WARNING": "1"}
MKDOCS = [sys.executable, "-m", "mkdocs"]
#: Runs a command and prints the most memory that it and any one process below it had, in KiB.
PEAK = (
    "import resource, subprocess, sys; subprocess.run(sys.argv[1:], check=True); "
    "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)"
)


def cost(call: list[str], folder: Path) -> tuple[float, float, int]:
    """Seconds on the clock, seconds of the processors, and MiB of the largest process."""
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    said = subprocess.run([sys.executable, "-c", PEAK, *call], cwd=folder, env=ENVIRONMENT, capture_output=True, text=True, check=False)
    assert said.returncode == 0, said.stderr[-2000:]
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return time.perf_counter() - start, cpu, int(said.stdout.split()[-1]) // 1024


def plain(folder: Path) -> float:
    """CPU seconds of MkDocs alone for the same pages, finished, with the same lean template."""
    other = folder / "plain"
    memory = open_memory(folder / FOLDER)
    made, sources = read_and_build(folder / "content", workers=2, memory=memory)
    for page in site(made, sources, memory=memory).pages:
        target = other / "content" / page.path
        target.parent.mkdir(parents=True, exist_ok=True)
        look = "template: problem.html\n" if page.lean else ""
        target.write_text(f"---\ntitle: {page.title!r}\n{look}---\n{page.body}\n", "utf-8")
    from everyline.render.assets import templates

    text = (folder / "mkdocs.yml").read_text("utf-8").replace(", everyline]", "]")
    theme = text.replace("{name: material,", f"{{name: material, custom_dir: {templates()},")
    chapters = sorted(path.parent.name for path in (other / "content").glob("chapter-*/index.md"))
    nav = "nav:\n" + "".join(f"  - {name}/index.md\n" for name in chapters)
    (other / "mkdocs.yml").write_text(theme + nav, "utf-8")
    return cost([*MKDOCS, "build", "-q"], other)[1]


def test_a_book_as_it_grows(tmp_path: Path) -> None:
    rows: list[tuple[int, float, float, float, float]] = []
    for size in SIZES:
        folder = tmp_path / str(size)
        write(folder, size)
        cold, kept = cost([*MKDOCS, "build", "-q"], folder), cost([*MKDOCS, "build", "-q"], folder)
        page = len((folder / "site" / "chapter-000" / "n00001" / "index.html").read_bytes())
        alone = plain(folder)
        rows.append((size, cold[1], kept[1], page, alone))
        print(
            f"\n{size}: cold {cold[0]:.0f} s ({cold[1]:.1f} s of CPU, {cold[1] / size * 1000:.1f} ms a problem, {cold[2]} MiB); "
            f"everything kept {kept[0]:.1f} s ({kept[1]:.1f} of CPU, {kept[2]} MiB); "
            f"MkDocs alone {alone:.1f} of CPU; page {page} bytes",
            flush=True,
        )
        shutil.rmtree(folder / "plain")
    if len(rows) > 1:
        (n, cold_n, kept_n, page_n, _), (m, cold_m, kept_m, page_m, _) = rows[0], rows[-1]
        slopes = [math.log(b / a) / math.log(m / n) for a, b in ((cold_n, cold_m), (kept_n, kept_m))]
        print(f"growth from {n} to {m}: cold {slopes[0]:.3f}, kept {slopes[1]:.3f}; a page {page_m / page_n:.3f} times")
    assert all(page > 0 for *_, page, _ in rows)


def test_a_save_is_seen(tmp_path: Path) -> None:
    """From the save to the first answer that has the new page, as a browser that waits would get it."""
    size = SIZES[-1] if SIZES[-1] <= 1000 else 1000
    write(tmp_path, size)
    subprocess.run([*MKDOCS, "build", "-q"], cwd=tmp_path, env=ENVIRONMENT, check=True)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    call = [*MKDOCS, "serve", "-q", "--livereload", "--dev-addr", f"127.0.0.1:{port}"]
    with subprocess.Popen(call, cwd=tmp_path, env=ENVIRONMENT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as server:
        try:
            address = f"http://127.0.0.1:{port}/chapter-000/n00001/"
            seen(address, "Number 1<", 300)
            times, before = [], spent(server.pid)
            for turn in range(5):
                time.sleep(4)
                (tmp_path / "content/chapter-000/n00001.md").write_text(problem(1).replace("Number 1", f"Turn {turn}"), "utf-8")
                start = time.perf_counter()
                seen(address, f"Turn {turn}<", 60)
                times.append(time.perf_counter() - start)
            cpu = (spent(server.pid) - before) / len(times)
        finally:
            server.terminate()
    print(
        f"\na save in a book of {size}: {', '.join(f'{t:.2f}' for t in sorted(times))} s; {cpu:.2f} s of CPU each, watching for it included"
    )
    assert times


def spent(process: int) -> float:
    """CPU seconds of a process and its children so far (proc_pid_stat(5), fields 14 to 17); not a number where the system does not say."""
    try:
        said = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()
    except OSError:
        return math.nan
    return sum(map(int, said[11:15])) / os.sysconf("SC_CLK_TCK")


def seen(address: str, text: str, seconds: float) -> None:
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        try:
            with urllib.request.urlopen(address, timeout=60) as answer:
                if re.search(re.escape(text), answer.read().decode()):
                    return
        except OSError:
            pass
        time.sleep(0.05)
    pytest.fail(f"no {text} at {address}")
