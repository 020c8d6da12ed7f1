"""The wheel, installed into an empty environment, publishes a sample from another folder just as the checkout does."""

from __future__ import annotations

import ast
import json
import os
import re
import subprocess
import sys
import sysconfig
import tomllib
import zipfile
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
SAMPLE = ROOT / "samples" / "boathouse-kettlebells"


def run(*command: str | Path, cwd: Path) -> str:
    """Run a command that finds nothing of this checkout by way of the surroundings."""
    environment = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    done = subprocess.run(
        list(map(str, command)), cwd=cwd, env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built offline: the build backend has to be here already."""
    out = tmp_path_factory.mktemp("wheel")
    run(sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", out, ROOT, cwd=out)
    (found,) = out.glob("*.whl")
    return found


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The Python of a new environment that holds the wheel and, of everything else, only what it depends on.

    The dependencies are those of the running environment, reached through a .pth file that stands after the wheel's own
    folder; repslate itself is not taken from there, since .pth files are not followed from a .pth folder.
    """
    home = tmp_path_factory.mktemp("environment")
    run(sys.executable, "-m", "venv", home, cwd=home)
    scripts = "Scripts" if sys.platform == "win32" else "bin"
    python = home / scripts / "python"
    run(python, "-m", "pip", "install", "--no-index", "--no-deps", wheel, cwd=home)
    site = Path(run(python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))", cwd=home).strip())
    (site / "dependencies.pth").write_text(sysconfig.get_path("purelib") + "\n")
    where = run(python, "-c", "import repslate; print(repslate.__file__)", cwd=home).strip()
    assert Path(where).is_relative_to(site)
    return python


def test_every_file_of_the_look_is_named_in_the_build_file_and_in_the_wheel(wheel: Path) -> None:
    on_disk = {path.relative_to(ROOT).as_posix() for path in (ROOT / "templates").rglob("*") if path.is_file()}
    build = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["hatch"]["build"]
    named = build["targets"]["wheel"]["force-include"]
    assert named == {name: f"repslate/{name}" for name in on_disk}
    with zipfile.ZipFile(wheel) as archive:
        packed = set(archive.namelist())
    assert set(named.values()) <= packed
    sources = {path.relative_to(ROOT / "src").as_posix() for path in (ROOT / "src").rglob("*") if path.is_file()}
    assert {name for name in sources if "__pycache__" not in name} <= packed


def test_every_library_that_is_imported_is_declared_and_no_other() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    declared = {re.split(r"[><=;~ ]", line)[0].lower() for line in project["dependencies"]}
    modules = set()
    for path in (ROOT / "src").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Import):
                modules |= {alias.name.split(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                modules.add(node.module.split(".")[0])
    providers = packages_distributions()
    foreign = modules - set(sys.stdlib_module_names) - {"repslate"}
    # A module name that several distributions share ("ruamel") is covered when one of them is declared.
    needed = [{name.lower().replace("_", "-") for name in providers[module]} for module in sorted(foreign)]
    assert [names for names in needed if not names & declared] == []
    assert declared <= set().union(*needed)


def test_the_wheel_publishes_a_sample_and_a_starter_from_another_folder(installed: Path, tmp_path: Path) -> None:
    command = installed.with_name("repslate" + installed.suffix)
    run(command, "new", "mine", cwd=tmp_path)
    run(command, "build", SAMPLE, "mine", cwd=tmp_path)
    built = {path.name: path for path in (tmp_path / "output").iterdir() if not path.name.startswith(".")}
    (sample,) = (path for name, path in built.items() if name.endswith(SAMPLE.name))
    record = json.loads((sample / "build.json").read_text("utf-8"))
    assert {"article.html", "article.md", "card-a4.pdf", "card-letter.pdf"} <= set(record["outputs"])
    assert all((sample / name).stat().st_size > 0 for name in record["outputs"])
    assert len(built) == 2
