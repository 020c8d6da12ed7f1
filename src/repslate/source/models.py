"""Settings as models: what each key takes is declared once, and what is wrong with a value is a finding at its place.

A settings file is a frozen dataclass whose fields are `Annotated[type, Kind]`, a key each. pydantic reads it
with no key more, and makes its JSON Schema; what is wrong costs its own key alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields
from functools import cache
from typing import TYPE_CHECKING, Any, TypeAlias, TypeVar, cast

from repslate.source.finding import Finding, Severity
from repslate.source.mapping import Item, Mapping
from repslate.source.near import nearest
from repslate.source.span import Span

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, TypeAdapter

M = TypeVar("M")
Schema: TypeAlias = dict[str, Any]
_EMPTY: Schema = {"type": "null"}  # a key with nothing behind it is as good as left out


class Refused(ValueError):  # noqa: N818 - what is wrong is the file, not the program
    """What is wrong with a value, and what of it is right all the same (nothing, if that is empty)."""

    def __init__(self, findings: Iterable[Finding], kept: object = None) -> None:
        """Hold both until the model is read."""
        super().__init__()
        self.findings, self.kept = tuple(findings), kept


def wrong(item: Item, message: str, help_: str, because: str = "", check: str = "wrong-value") -> Refused:
    """Return the refusal of a value."""
    return Refused([Finding(check, Severity.ERROR, item.value_span, message, help_, because)])


@dataclass(frozen=True, slots=True)
class Kind:
    """What a key takes.

    `says` explains the key as `explain` prints it, `read` makes its value of what was typed or raises Refused, and
    what was typed holds to one of the JSON Schemas `takes`, or to that of a model there, as far as a schema can tell.
    """

    says: str
    read: Callable[[Item], object]
    takes: tuple[Schema | type, ...]

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> Any:
        from pydantic import BeforeValidator

        return BeforeValidator(self._value).__get_pydantic_core_schema__(source, handler)

    def __get_pydantic_json_schema__(self, *_: object) -> Schema:
        takes = [json_schema(each) if isinstance(each, type) else each for each in self.takes]
        return {"description": self.says, "anyOf": [*takes, _EMPTY]}

    def _value(self, given: object) -> object:
        return self.read(given) if isinstance(given, Item) else given


def kind(*takes: Schema) -> Callable[[Callable[[Item], object]], Callable[[str], Kind]]:
    """Make a kind of a reader, to be told what a key of it says; what is typed holds to one of the schemas."""
    return lambda read: lambda says: Kind(says, read, takes)


def strict(*needed: str, **spelt: str) -> Any:
    """Return how pydantic reads a settings file: no key unknown, and a key is its field's name with spaces.

    `needed` are the keys that a file cannot do without, `spelt` those of fields that are spelt in another way.
    """
    return {
        "extra": "forbid",
        "alias_generator": lambda name: spelt.get(name, name.replace("_", " ")),
        "json_schema_extra": {"required": list(needed)},
    }


def keys(model: type) -> dict[str, str]:
    """Return the keys of a model in the order declared, each with the name of its field."""
    key: Callable[[str], str] = vars(model)["__pydantic_config__"]["alias_generator"]
    return {key(field.name): field.name for field in fields(model)}


def values(model: Any) -> dict[str, Any]:
    """Return what a model holds, by the names of its fields, for one that holds more."""
    return {field.name: getattr(model, field.name) for field in fields(model)}


def read_model(model: type[M], mapping: Mapping, where: str, base: M | None = None) -> tuple[M, tuple[Finding, ...]]:
    """Read a mapping as a model; `where` says whose keys these are, as findings show it ("the front matter").

    A key that is absent, left empty or wrong has the value of `base`, or the default of its field. Findings stand in
    the order of the fields.
    """
    from pydantic import ValidationError

    known = keys(model)
    usual: dict[str, object] = {key: getattr(base, name) for key, name in known.items()} if base else {}
    given: dict[str, object] = {key: item for key, item in mapping.items() if key not in known or not is_empty(item)}
    read: Callable[[object], M] = _adapter(cast(type, model)).validate_python
    try:
        return read(usual | given), ()
    except ValidationError as error:
        findings: list[Finding] = []
        for one in error.errors(include_url=False):
            key = str(one["loc"][0])
            told, kept = _told(one, mapping[key], tuple(known), where)
            findings += told
            del given[key]
            if kept:
                given[key] = kept
    return read(usual | given), tuple(findings)


@cache
def _adapter(model: type) -> TypeAdapter[Any]:
    from pydantic import TypeAdapter

    return TypeAdapter(model)


def _told(error: Any, item: Item, known: tuple[str, ...], where: str) -> tuple[tuple[Finding, ...], object]:
    """Return the findings of one validation error at its place, and what is kept of the value."""
    if error["type"] == "value_error":
        refused: Refused = error["ctx"]["error"]
        return refused.findings, refused.kept
    if error["type"] != "unexpected_keyword_argument":
        raise TypeError(f"“{item.key}” is declared as another type than its kind reads: {error}")  # our own fault
    guess = nearest(item.key, known)
    message = f"{where} has no key “{item.key}”, so what stands there is not used"
    help_ = f"did you mean “{guess}”?" if guess else f"delete the line, or use one of: {', '.join(known)}"
    return (Finding("unknown-key", Severity.WARNING, item.key_span, message, help_),), None


def json_schema(model: type) -> Schema:
    """Return the JSON Schema (draft 2020-12) of a model."""
    from pydantic.json_schema import GenerateJsonSchema

    class Plain(GenerateJsonSchema):
        """Without titles, which only repeat the keys, and defaults, which are no texts as typed; `says` tells them."""

        def default_schema(self, schema: Any) -> Schema:
            return self.generate_inner(schema["schema"])

        def field_title_should_be_set(self, schema: Any) -> bool:  # noqa: ARG002 - asked by the library
            return False

    found = _adapter(model).json_schema(schema_generator=Plain)
    for key in found["required"]:
        found["properties"][key]["anyOf"].remove(_EMPTY)
    return {key: found[key] for key in ("type", "properties", "required", "additionalProperties") if found[key] != []}


def is_empty(item: Item) -> bool:
    """Tell whether a key is written with nothing behind it."""
    return item.value is None or (not isinstance(item.value, (tuple, Mapping)) and not item.text.strip())


def places(mapping: Mapping) -> dict[str, Span]:
    """Return where the value of each key stands that was written and not left empty, be it one nobody can read."""
    written = {key: item.value_span for key, item in mapping.items() if not is_empty(item)}
    return dict.fromkeys(mapping.broken, mapping.span) | written
