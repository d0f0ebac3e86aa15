"""The README's commands, word for word, in a copy of the checkout and without a network."""

import os
import re
import shutil
import subprocess
import sys
import threading
import urllib.request
from pathlib import Path

import pytest
from pypdf import PdfReader

from shopdesk.shop.location import find_place
from shopdesk.upkeep.setup import set_up_shop
from tests.terminal.running import ADDRESS, PATIENCE_SECONDS
from tests.test_architecture import ROOT, our_files
from tests.test_packaging import new_environment

README = (ROOT / "README.md").read_text(encoding="utf-8")
OFFLINE = {"PIP_NO_INDEX": "1", "PIP_NO_DEPS": "1", "PIP_NO_BUILD_ISOLATION": "0"}


def commands_below(heading: str) -> str:
    """Returns the shell block under a heading."""
    section = README.split(f"\n## {heading}\n")[1].split("\n## ")[0]
    (block,) = re.findall(r"^```sh\n(.*?)^```$", section, flags=re.MULTILINE | re.DOTALL)
    return block.strip()


@pytest.mark.slow
def test_the_start_command_installs_and_serves_the_demo(tmp_path: Path) -> None:
    copy = tmp_path / "checkout"
    for name in our_files():
        (copy / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(ROOT / name, copy / name)
    new_environment(copy / ".venv", with_pip=True)
    pythons = str(Path(sys.executable).parent)
    environment = os.environ | OFFLINE | {"PATH": f"{pythons}:{os.environ['PATH']}"}
    process = subprocess.Popen(
        ["bash", "-c", f"exec 2>&1; {commands_below('Start it')} --port 0"],
        cwd=copy,
        env=environment,
        stdout=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    patience = threading.Timer(5 * PATIENCE_SECONDS, os.killpg, (process.pid, 9))
    patience.start()
    try:
        assert process.stdout is not None
        printed = ""
        while not ADDRESS.search(printed):
            line = process.stdout.readline()
            assert line, printed
            printed += line
        address = ADDRESS.search(printed)
        assert address is not None
        assert "Set up a new shop with the demo catalogue" in printed
        with urllib.request.urlopen(address[1], timeout=PATIENCE_SECONDS) as page:
            assert b"<h1" in page.read()
    finally:
        patience.cancel()
        os.killpg(process.pid, 15)
        process.communicate(timeout=PATIENCE_SECONDS)


def test_the_tour_runs_as_written(tmp_path: Path) -> None:
    place = find_place(str(tmp_path / "shop"), {})
    set_up_shop(place, demo=True)[0].dispose()
    (tmp_path / "seed_catalog").symlink_to(ROOT / "seed_catalog")
    tour = commands_below("A short tour in the terminal")
    assert tour.count(".venv/bin/shopdesk ") == tour.count("\n") + 1
    here = tour.replace(".venv/bin/shopdesk", f"{sys.executable} -m shopdesk")
    done = subprocess.run(
        ["bash", "-euo", "pipefail", "-c", here],
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=3 * PATIENCE_SECONDS,
    )
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    made = {path.name for path in tmp_path.iterdir() if path.is_file()}
    assert made == set(re.findall(r"(?:>|-o) ([\w.]+)", tour))
    assert len(PdfReader(tmp_path / "slip.pdf").pages) >= 1
    assert "LOOK" not in done.stdout


def test_the_test_command_is_the_one_that_ci_runs() -> None:
    # The same lines of awk that .ci/run has, on the same README.
    program = re.search(r"awk '(.*?)' README.md", (ROOT / ".ci/run").read_text(), re.DOTALL)
    assert program is not None
    told = subprocess.run(
        ["awk", program[1], "README.md"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert told.stdout.strip() == commands_below("Run the tests")
    # What stands before the last '&&' makes the environment in which .ci/run checks first.
    made, _, tests = told.stdout.rpartition(" && ")
    assert "pip install" in made
    assert "pytest" not in made
    assert "pytest" in tests
