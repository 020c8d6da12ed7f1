"""The JSON Schemas of the settings files, by which an editor completes and checks a key while it is typed."""

from __future__ import annotations

from repslate.model.episode import FrontMatter
from repslate.model.own_exercises import OwnExercise
from repslate.model.series import SeriesFile
from repslate.source.models import Schema, json_schema

_DIALECT = "https://json-schema.org/draft/2020-12/schema"
MODELS = {
    "front-matter": ("the front matter of workout.md", FrontMatter),
    "series": ("series.yaml, what the episodes below its folder share", SeriesFile),
    "exercises": ("exercises.yaml, a series' own exercises by their names", OwnExercise),
}


def schema(name: str) -> Schema:
    """Return the JSON Schema (draft 2020-12) of a file; KeyError for a name that is none of MODELS."""
    title, model = MODELS[name]
    found = json_schema(model)
    if model is OwnExercise:
        found = {"type": "object", "additionalProperties": found}
    return {"$schema": _DIALECT, "title": title, **found}


def described(name: str) -> list[tuple[list[str], str]]:
    """Return what each key of a file says, keys of one meaning together, in the order of the file."""
    said: dict[str, list[str]] = {}
    for key, takes in json_schema(MODELS[name][1])["properties"].items():
        said.setdefault(takes["description"], []).append(key)
    return [(keys, says) for says, keys in said.items()]
