"""Every page is whole, its examples do what they say, and CHECKS agrees with the files on disk."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from repslate import checks
from repslate.checks import CHECKS, name_of, page, pages, run, table
from repslate.checks.pages import Page
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

FAMILIES = ("prescription", "safety", "cut", "speech", "publishing")
PAGES = tuple(pages())
WITH_EXAMPLES = [page for page in PAGES if page.wrong or page.right]
ReadFragment = Callable[[str], tuple[Facts | None, tuple[Finding, ...]]]


def all_findings(read: tuple[Facts | None, tuple[Finding, ...]]) -> tuple[Finding, ...]:
    facts, findings = read
    return findings if facts is None else run(facts, read=findings)[0]


def test_checks_are_the_files_on_disk() -> None:
    folder = Path(str(checks.__file__)).parent
    files = {f"{path.parent.name}.{path.stem}" for family in FAMILIES for path in (folder / family).glob("[!_]*.py")}
    listed = [".".join(check.__name__.split(".")[-2:]) for check in CHECKS]
    assert sorted(listed) == sorted(files)


@pytest.mark.parametrize("shown", PAGES, ids=lambda shown: shown.name)
def test_page_has_all_parts(shown: Page) -> None:
    for part in ("asks", "why", "source", "fix"):
        assert getattr(shown, part), f"{shown.name} has no {part}"
    assert shown.asks.endswith(".")
    assert page(shown.name) == shown
    assert bool(shown.wrong) == bool(shown.right)


@pytest.mark.parametrize("shown", WITH_EXAMPLES, ids=lambda shown: shown.name)
def test_wrong_example_is_found(shown: Page, read_fragment: ReadFragment) -> None:
    found = [finding for finding in all_findings(read_fragment(shown.wrong)) if finding.check == shown.name]
    assert found, f"{shown.name} does not find its own wrong example"
    assert any(finding.severity is shown.severity for finding in found)
    assert all(finding.help for finding in found), "a finding says how to fix it"


@pytest.mark.parametrize("shown", WITH_EXAMPLES, ids=lambda shown: shown.name)
def test_right_example_is_not_found(shown: Page, read_fragment: ReadFragment) -> None:
    found = [finding for finding in all_findings(read_fragment(shown.right)) if finding.check == shown.name]
    assert not found


@pytest.mark.parametrize("check", CHECKS, ids=name_of)
def test_check_speaks_under_its_own_name(check: checks.Check, read_fragment: ReadFragment) -> None:
    facts, _ = read_fragment(PAGES[CHECKS.index(check)].wrong)
    assert facts is not None
    found = list(check.find(facts))
    assert {finding.check for finding in found} == {name_of(check)}
    for finding in found:
        assert re.search(r"\b(expected|needs)\b", finding.message)
        assert not finding.message.endswith(".")
        assert "\n" not in finding.message


def test_names_are_unique() -> None:
    names = [shown.name for shown in PAGES]
    assert len(names) == len(set(names))


def test_pages_are_there_where_python_strips_docstrings() -> None:
    code = "from repslate import checks; print(checks.page('rest-missing').asks)"
    ran = subprocess.run([sys.executable, "-OO", "-c", code], capture_output=True, text=True, check=False)
    shown = page("rest-missing")
    assert shown is not None
    assert (ran.stdout.strip(), ran.returncode) == (shown.asks, 0), ran.stderr


def test_unknown_name_has_no_page() -> None:
    assert page("no-such-check") is None


def test_table_lists_every_check_in_order() -> None:
    assert [name for name, _, _ in table()] == [name_of(check) for check in CHECKS]
    assert {name: weight for name, weight, _ in table()}["block-size"] == "error, warning"
    assert all(weight and asks for _, weight, asks in table())


@pytest.mark.parametrize("check", CHECKS, ids=name_of)
def test_check_says_every_severity_it_gives(check: checks.Check) -> None:
    tree = ast.parse(Path(str(sys.modules[check.__name__].__file__)).read_text("utf-8"))
    given = {
        node.attr for node in ast.walk(tree) if isinstance(node, ast.Attribute) and node.attr in Severity.__members__
    }
    milder = getattr(check, "MILDER", ())
    assert {severity.name for severity in (check.SEVERITY, *milder)} == given
    assert [check.SEVERITY, *milder] == sorted([check.SEVERITY, *milder], key=list(Severity).index), "the worst first"


def names_in(path: Path) -> Iterator[str]:
    """Yield every name of a finding that a reader's code spells out."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        called = ast.unparse(node.func).rpartition(".")[2]
        said = [word.value for word in node.keywords if word.arg == "check"]
        if called in {"Finding", "_error", "error", "note", "refuse", "trouble"}:
            said += node.args
        for one in said:
            if isinstance(one, ast.Constant) and re.fullmatch(r"[a-z]+(-[a-z]+)+|encoding", str(one.value)):
                yield str(one.value)


def test_every_finding_of_a_reader_has_a_page() -> None:
    source = Path(str(checks.__file__)).parents[1]
    paths = [path for stage in ("source", "model", "cut") for path in (source / stage).rglob("*.py")]
    names = {name for path in paths for name in names_in(path)}
    assert len(names) > 40, "the search finds nothing any more"
    assert sorted(name for name in names - {"block-kind"} if page(name) is None) == []
