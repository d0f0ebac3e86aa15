"""The package as users get it: built by way of the source archive, installed elsewhere, served."""

import os
import re
import shutil
import subprocess
import sys
import sysconfig
import tarfile
import zipfile
from pathlib import Path

import pytest

from shopdesk.bundled import FOLDERS
from tests.terminal.running import served
from tests.test_architecture import ROOT, our_files

pytestmark = [pytest.mark.slow, pytest.mark.xdist_group("packaging")]


def run(*command: str | Path, cwd: Path, **environment: str) -> str:
    """Runs a command that must succeed and returns what it printed."""
    done = subprocess.run(
        [str(part) for part in command],
        cwd=cwd,
        env=os.environ | environment,
        capture_output=True,
        text=True,
        timeout=300,
    )
    assert done.returncode == 0, f"{command}\n{done.stdout}\n{done.stderr}"
    return done.stdout


@pytest.fixture(scope="module")
def checkout(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the project's own files."""
    copy = tmp_path_factory.mktemp("checkout")
    for name in our_files():
        (copy / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(ROOT / name, copy / name)
    return copy


@pytest.fixture(scope="module")
def built(checkout: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that `python -m build` fills: the source archive and the wheel made from it."""
    out = tmp_path_factory.mktemp("dist")
    run(sys.executable, "-m", "build", "--no-isolation", "--outdir", out, checkout, cwd=out)
    return out


def new_environment(folder: Path, *, with_pip: bool = False) -> Path:
    """Returns the Python of a new environment that sees our dependencies but not the project."""
    pip = () if with_pip else ("--without-pip",)
    run(sys.executable, "-m", "venv", *pip, folder, cwd=folder.parent)
    python = folder / "bin" / "python"
    purelib = run(
        python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))", cwd=folder
    ).strip()
    beside = {sysconfig.get_path("purelib"), sysconfig.get_path("platlib")}
    Path(purelib, "dependencies.pth").write_text("".join(f"{path}\n" for path in sorted(beside)))
    return python


def install(python: Path, *what: str | Path) -> None:
    """Installs without dependencies and without a network."""
    offline = ("--no-deps", "--no-index", "--no-build-isolation", "--disable-pip-version-check")
    pip = (sys.executable, "-m", "pip", "--python", python, "install", "--quiet")
    run(*pip, *offline, *what, cwd=python.parent)


@pytest.fixture(scope="module")
def installed(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The Python of an environment outside the checkout that holds the wheel."""
    python = new_environment(tmp_path_factory.mktemp("wheel") / "env")
    install(python, next(built.glob("*.whl")))
    return python


@pytest.fixture(scope="module")
def editable(checkout: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The Python of an environment that holds the checkout in editable form."""
    python = new_environment(tmp_path_factory.mktemp("editable") / "env")
    install(python, "--editable", checkout)
    return python


def test_the_archive_holds_what_a_developer_needs(built: Path) -> None:
    with tarfile.open(next(built.glob("*.tar.gz"))) as archive:
        held = {name.split("/", 1)[1] for name in archive.getnames() if "/" in name}
    for name in our_files():
        if not name.startswith(".") or name.startswith(".ci/"):
            assert name in held


def test_the_wheel_holds_the_package_and_the_shipped_folders(built: Path) -> None:
    with zipfile.ZipFile(next(built.glob("*.whl"))) as wheel:
        held = set(wheel.namelist())
    for name in our_files():
        top = name.split("/")[0]
        if top == "shopdesk":
            assert name in held
        elif top in FOLDERS:
            assert f"shopdesk/_bundled/{name}" in held
    foreign = {name for name in held if not name.startswith(("shopdesk/", "shopdesk-"))}
    assert foreign == set()
    assert not any("__pycache__" in name for name in held)


def folder_of(python: Path, name: str, cwd: Path) -> Path:
    """Returns where an installed Shopdesk finds one shipped folder."""
    script = f"from shopdesk.bundled import bundled; print(bundled('{name}'))"
    return Path(run(python, "-I", "-c", script, cwd=cwd).strip())


@pytest.mark.parametrize("name", FOLDERS)
def test_the_wheel_finds_its_own_folders(installed: Path, name: str) -> None:
    found = folder_of(installed, name, cwd=ROOT)
    assert found.is_relative_to(installed.parent.parent)
    assert found.is_dir()


@pytest.mark.parametrize("name", FOLDERS)
def test_the_editable_form_finds_the_checkouts_folders(
    editable: Path, checkout: Path, tmp_path: Path, name: str
) -> None:
    assert folder_of(editable, name, cwd=tmp_path) == checkout / name


def test_a_missing_folder_fails_the_build(checkout: Path, tmp_path: Path) -> None:
    broken = tmp_path / "broken"
    shutil.copytree(checkout, broken)
    shutil.rmtree(broken / "seed_catalog")
    built = subprocess.run(
        [sys.executable, "-m", "build", "--no-isolation", "--wheel", "--outdir", tmp_path, broken],
        capture_output=True,
        text=True,
        timeout=300,
    )
    assert built.returncode != 0
    assert "seed_catalog" in built.stdout + built.stderr


def test_the_installed_command_prints_the_schema(installed: Path, tmp_path: Path) -> None:
    printed = run(installed, "-I", "-m", "shopdesk", "schema", "ask", cwd=tmp_path)
    assert printed.startswith("{")


def test_the_installed_counter_is_served(installed: Path, tmp_path: Path) -> None:
    with served(command=(installed, "-I", "-m", "shopdesk"), cwd=tmp_path) as counter:
        page = counter.page()
        styles = re.findall(r'<link[^>]+href="/?([^"]+[.]css[^"]*)"', page)
        assert "<h1" in page
        assert styles
        assert all(counter.page(style) for style in styles)
