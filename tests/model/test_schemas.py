"""The JSON Schemas say of a settings file what the reader says of it, as far as a schema can tell."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from repslate.model.build import read_front_matter
from repslate.model.library import load
from repslate.model.own_exercises import read_entries
from repslate.model.schemas import MODELS, schema
from repslate.model.series import FILE_NAME, SeriesFile
from repslate.source.finding import Finding
from repslate.source.mapping import Item, Mapping, read_mapping
from repslate.source.models import json_schema, read_model
from repslate.source.outline import read_outline
from settings_cases import Case, cases

ROOT = Path(__file__).parents[2]
VALIDATORS = {name: Draft202012Validator(schema(name)) for name in MODELS}
#: What a schema cannot tell: contrast, words of the law, other keys, the library's words and names.
BEYOND = {"accent-contrast", "disclosure-unclear", "exercise-name-taken"}
BEYOND_TOO = {"a described picture without a name", "words that nobody knows"}
FILES = {"front-matter": "front-matter.txt", "series": "series.txt", "exercises": "own-exercises.txt"}
EVERY = [(name, case) for name, file in FILES.items() for case in cases(file)]


def plain(value: Any) -> Any:
    """Return what was read as a schema's reader has it: texts, figures, truths, lists and objects."""
    if isinstance(value, Item):
        return plain(value.value)
    if isinstance(value, Mapping):
        return {key: plain(item) for key, item in value.items()}
    return [plain(item) for item in value] if isinstance(value, tuple) else value


def told(name: str, text: str) -> tuple[bool, tuple[Finding, ...]]:
    """Return whether the schema accepts a text, and what the reader says of it."""
    mapping, _ = read_mapping(text, name)
    if name == "front-matter":
        findings = read_front_matter(mapping)[1]
    elif name == "series":
        findings = read_model(SeriesFile, mapping, FILE_NAME)[1]
    else:
        findings = read_entries(mapping, load())[1]
    return VALIDATORS[name].is_valid(plain(mapping)), findings


def files() -> list[tuple[str, Path]]:
    found = [path for top in ("samples", "src/repslate/starter") for path in sorted((ROOT / top).rglob("*.*"))]
    kinds = {"workout.md": "front-matter", "series.yaml": "series", "exercises.yaml": "exercises"}
    return [(kinds[path.name], path) for path in found if path.name in kinds]


@pytest.mark.parametrize("name", MODELS)
def test_is_a_schema_that_explains_every_key(name: str) -> None:
    Draft202012Validator.check_schema(schema(name))
    assert all(takes["description"] for takes in json_schema(MODELS[name][1])["properties"].values())


@pytest.mark.parametrize(("name", "path"), files(), ids=lambda value: getattr(value, "parent", Path()).name)
def test_samples_and_starter_are_valid(name: str, path: Path) -> None:
    text = path.read_bytes().decode("utf-8", "replace")
    if name == "front-matter":
        text = read_outline(text, path.name)[0].front or ""
    valid, findings = told(name, text)
    assert valid is (findings == ())


@pytest.mark.parametrize(("name", "case"), EVERY, ids=lambda value: getattr(value, "name", value))
def test_agrees_with_the_reader(name: str, case: Case) -> None:
    valid, findings = told(name, case.text)
    wrong = [one for one in findings if one.check not in BEYOND and case.name not in BEYOND_TOO]
    assert valid is (not wrong), findings
