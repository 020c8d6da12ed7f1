"""One row a form of block: what a form means stands in the table and nowhere else."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from repslate.model.block_heading import parse_heading
from repslate.model.forms import FORMS, PROTOCOLS, BlockKind, Form, by_size, form_of, resized
from repslate.source.span import Span

PACKAGE = Path(__file__).parents[2] / "src" / "repslate"
TABLE = PACKAGE / "model" / "forms.py"

EVERY = pytest.mark.parametrize("form", FORMS.values(), ids=lambda form: form.kind.name)


def named(source: str) -> Iterator[str]:
    """Yield "line: what" wherever a form is named: as a member, by its key, or by the word of its heading."""
    values = {kind.value for kind in BlockKind}
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.Attribute(value=ast.Name(id="BlockKind") | ast.Attribute(attr="BlockKind"), attr=name):
                if name in BlockKind.__members__:
                    yield f"{node.lineno}: {name}"
            case ast.Subscript(value=ast.Name(id="BlockKind")):
                yield f"{node.lineno}: {ast.unparse(node)}"
            case ast.Constant(value=str() as text) if text in values:
                yield f"{node.lineno}: {text}"


def files() -> list[str]:
    return sorted(path.relative_to(PACKAGE).as_posix() for path in PACKAGE.rglob("*.py") if path != TABLE)


@pytest.mark.parametrize("name", files())
def test_no_file_but_the_table_names_a_form(name: str) -> None:
    """None needs to: a room asks a column, or a role such as PLAIN."""
    assert list(named((PACKAGE / name).read_text("utf-8"))) == []


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("if block.kind is BlockKind.CIRCUIT: ...", ["1: CIRCUIT"]),
        ("sizes = {\n    episode.BlockKind.SUPERSET: 2}", ["2: SUPERSET"]),
        ("BlockKind['TRI_SET']", ["1: BlockKind['TRI_SET']"]),
        ("block.kind.value == 'Giant set'", ["1: Giant set"]),
        ("def f(kind: BlockKind) -> str: return BlockKind(kind).value", []),
    ],
)
def test_this_test_sees_what_it_should(source: str, found: list[str]) -> None:
    assert list(named(source)) == found


def test_every_kind_has_its_row_in_order() -> None:
    assert tuple(FORMS) == tuple(BlockKind)
    assert all(form_of(kind).kind is kind for kind in BlockKind)


@EVERY
def test_a_form_is_read_by_its_name_and_by_every_spelling(form: Form) -> None:
    for typed in (form.kind.value, *form.typed):
        heading, findings = parse_heading(typed, Span("workout.md", 1, 4))
        assert heading is not None
        assert heading.kind is form.kind
        assert not findings or typed in PROTOCOLS, "a name that stands for figures is read with a note of them"


@EVERY
def test_a_row_agrees_with_itself(form: Form) -> None:
    assert form.most is None or form.fewest <= form.most
    assert form.on_the_clock or not (form.by_turns or form.is_open), "turns or open rounds need a clock"
    assert form.joint or not form.clock_optional
    assert form.names_turn or not form.clipped
    assert form.rests_after or not (form.rest_open or form.is_once), "nothing else asks for sets, rounds or a rest"
    assert form.with_rounds is None or form_of(form.with_rounds).in_rounds
    assert form.in_rounds or not form.back_to_back, "after exercises done as one set stands the rest of a round"
    assert not (form.on_the_clock and form.rests_after), "the clock runs on through any rest"


@pytest.mark.parametrize("column", ["typed", "titled", "announced"])
def test_no_way_to_call_a_form_is_another_forms_too(column: str) -> None:
    ways = Counter(way.casefold() for form in FORMS.values() for way in getattr(form, column))
    assert [way for way, times in ways.items() if times > 1] == []


@pytest.mark.parametrize("exercises", range(1, 9))
@EVERY
def test_a_name_by_number_holds_that_number(form: Form, exercises: int) -> None:
    assert form_of(by_size(exercises)).holds(exercises)
    kind = resized(form.kind, exercises)
    assert form_of(kind).holds(exercises) if form.counts_exercises else kind is form.kind
