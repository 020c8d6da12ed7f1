"""Templates of one's own: what `build` says of them `audit` says too, and nothing that safety needs is hidden.

The cases stand in tests/cases/templates/cases.txt, each a change to one shipped template.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

import pytest

from repslate import api
from repslate.publish import OUTPUTS
from repslate.publish import render as rendering
from repslate.publish.templates import find
from repslate.source.finding import Finding, Severity

CASES = Path(__file__).parents[1] / "cases" / "templates"
EPISODE = CASES / "monday"
MADE = {"article": ("article.html",), "card": ("card-a4.pdf",)}  # what a template makes; both cards are alike
_render = rendering.render


@dataclass
class Case:
    """One change to a template, and what is to be said of it."""

    name: str
    file: str = ""
    swaps: list[list[str]] = field(default_factory=list)
    added: list[str] = field(default_factory=list)
    said: list[tuple[str, str]] = field(default_factory=list)

    def template(self) -> str:
        text = find().read(self.file).decode()
        for old, new in self.swaps:
            assert old in text, f"{self.file} no longer has “{old}”"
            text = text.replace(old, new)
        return text + "".join(f"{line}\n" for line in self.added)


def cases() -> Iterator[Case]:
    case = Case("")
    for line in (CASES / "cases.txt").read_text("utf-8").splitlines():
        sign, rest = line[:1], line[2:]
        match sign:
            case "#":
                case = Case(rest)
            case "-":
                case.swaps.append([rest, ""])
            case ">":
                case.swaps[-1][1] = rest
            case "+":
                case.added.append(rest)
            case "=" | "~" | "!":
                case.said.append((sign, rest))
            case "" if case.said:
                yield case
                case = Case("")
            case _ if line:
                case.file = line
    if case.said:
        yield case


def built(case: Case, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> api.Result[api.Build]:
    own = tmp_path / "own"
    own.mkdir()
    (own / case.file).write_text(case.template(), "utf-8")
    outputs = [one for one in OUTPUTS if one.name in MADE[case.file.partition(".")[0]]]
    monkeypatch.setattr(rendering, "render", partial(_render, outputs=outputs))
    return api.build(EPISODE, tmp_path / "out", templates=own)


def of_outputs(findings: tuple[Finding, ...]) -> list[tuple[str, Severity, str]]:
    """Return what is said of outputs, without their places, which a build has none of."""
    return sorted(
        (one.check, one.severity, re.sub(r"^\S+\.(?:html|pdf)(?:, line \d+)?: ", "", one.message))
        for one in findings
        if one.check.startswith("audit-") or one.check == "card-unmade"
    )


@pytest.mark.parametrize("case", list(cases()), ids=lambda case: case.name)
def test_a_template_is_judged_by_what_its_reader_sees(
    case: Case, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    result = built(case, tmp_path, monkeypatch)
    said = of_outputs(result.findings)
    for sign, words in case.said:
        if sign == "!":
            check, _, rest = words.partition(" ")
            assert result.value is None
            assert any(one[0] == check and one[1] is Severity.ERROR and rest in one[2] for one in said), said
        else:
            assert result.value is not None, said
            assert bool(said) == (sign == "~"), said
            assert not words or any(words in one[2] for one in said), said
    if result.value is not None:
        assert of_outputs(api.audit(EPISODE, tmp_path / "out").findings) == said
