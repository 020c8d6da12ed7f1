"""A stage imports only what stands above it: imports inside functions and for types alone count as well."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "src" / "repslate"

_CUT = {"source", "model", "training", "cut"}
_FACTS = _CUT | {"speech", "facts"}
MAY_IMPORT = {
    "source": set(),
    "model": {"source"},
    "training": {"source", "model"},
    "cut": {"source", "model"},
    "speech": {"source", "model", "cut"},
    "facts": _FACTS,
    "checks": _FACTS,
    "publish": _FACTS,
    "proof": _FACTS,
    "api": _FACTS | {"checks", "publish", "proof"},
    "documents": _FACTS | {"api"},
    "cli": _FACTS | {"checks", "publish", "proof", "api", "documents"},
}
#: Slow to load, therefore only inside the function that needs it: `--help` and `check` stay quick.
HEAVY = {"PIL", "av", "jinja2", "nh3", "numpy", "opentimelineio", "rich", "segno", "weasyprint"}
#: Ours that are as slow, for they extend a class of theirs.
SLOW = "publish/sandbox.py"


def imports(source: str, parts: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], int]]:
    """Yield each imported module as its dotted parts, with its line; `parts` is the importing file's path in src."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from ((tuple(alias.name.split(".")), node.lineno) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = parts[: len(parts) - node.level] if node.level else ()
            module = tuple(node.module.split(".")) if node.module else ()
            yield from (((*base, *module, alias.name), node.lineno) for alias in node.names)


def wrong_imports(source: str, path: str) -> list[str]:
    """Return "line: stage" for every import of a stage that `path` (relative to src) does not stand below."""
    parts = Path(path).parts
    stage = parts[1].removesuffix(".py")
    may = MAY_IMPORT.get(stage, set(MAY_IMPORT)) | {stage}
    return [
        f"{line}: {module[1]}"
        for module, line in imports(source, parts)
        if module[0] == parts[0] and len(module) > 1 and module[1] in MAY_IMPORT and module[1] not in may
    ]


def files() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


@pytest.mark.parametrize("path", files(), ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_a_stage_imports_only_what_stands_above_it(path: Path) -> None:
    name = path.relative_to(PACKAGE.parent).as_posix()
    assert wrong_imports(path.read_text("utf-8"), name) == []


def test_every_module_belongs_to_a_stage() -> None:
    stages = {path.relative_to(PACKAGE).parts[0].removesuffix(".py") for path in files()}
    assert stages - {"__init__", "__main__", "starter"} <= set(MAY_IMPORT)


@pytest.mark.parametrize("path", files(), ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_slow_libraries_are_imported_where_they_are_needed(path: Path) -> None:
    tree = ast.parse(path.read_text("utf-8"))
    on_top = ast.Module([node for node in tree.body if isinstance(node, ast.Import | ast.ImportFrom)], [])
    modules = [module for module, _ in imports(ast.unparse(on_top), ("repslate", "x.py"))]
    assert path.relative_to(PACKAGE).as_posix() == SLOW or not {module[0] for module in modules} & HEAVY
    assert not [module for module in modules if module[:3] == ("repslate", "publish", "sandbox")]


PLANTED = [
    ("from repslate import checks", "repslate/publish/x.py", ["1: checks"]),
    ("import repslate.publish.view", "repslate/checks/safety/x.py", ["1: publish"]),
    ("from .. import facts", "repslate/model/x.py", ["1: facts"]),
    ("from ...publish import view", "repslate/checks/cut/x.py", ["1: publish"]),
    ("def f():\n    from repslate.cli import main", "repslate/api.py", ["2: cli"]),
    ("if TYPE_CHECKING:\n    from repslate.facts import Facts", "repslate/cut/x.py", ["2: facts"]),
    ("from repslate.training import duration", "repslate/cut/x.py", ["1: training"]),
    ("from .model.episode import Episode", "repslate/facts.py", []),
    ("from . import view\nfrom .view import View", "repslate/publish/x.py", []),
    ("import repslately.checks", "repslate/publish/x.py", []),
]


@pytest.mark.parametrize(("source", "path", "found"), PLANTED)
def test_this_test_sees_what_it_should(source: str, path: str, found: list[str]) -> None:
    assert wrong_imports(source, path) == found
