"""The settings of series.yaml that training numbers rest on: what is lifted, energy, time. Part of settings.py."""

from __future__ import annotations

from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from repslate.model.quantity import Range, read_number, write_number
from repslate.model.series import EnergyFormula, EnergyRules, Kit, MetEdition, TimeRules
from repslate.source.fields import Fields, described
from repslate.source.mapping import Item

TRAINING_KEYS = (
    "load table", "bar kg", "plates kg", "dumbbells kg", "kettlebells kg", "bar lb", "plates lb", "dumbbells lb",
    "kettlebells lb", "energy", "body mass kg", "MET edition", "energy formula", "set-up seconds",
    "change-over seconds",
)  # fmt: skip
_HEAVIEST = Decimal(500)  # kg or lb; a single piece that is heavier is a slip
_LIGHTEST_BODY, _HEAVIEST_BODY = Decimal(20), Decimal(300)  # kg; our choice, beyond is a slip or pounds
_LONGEST = 600  # seconds; our choice, as a change-over of ten minutes is a break


class _Switch(StrEnum):
    OFF = "off"
    ON = "on"


def read_kit(fields: Fields, default: Kit) -> Kit:
    """Read the bar, plates, dumbbells and kettlebells in the default's unit; heaviest first, as plates go on."""
    unit = default.unit
    bar = fields.item(f"bar {unit}")
    return Kit(
        unit=unit,
        bar=(_weight(fields, f"bar {unit}", bar) if bar else None) or default.bar,
        plates=_weights(fields, f"plates {unit}", default.plates),
        dumbbells=_weights(fields, f"dumbbells {unit}", default.dumbbells),
        kettlebells=_weights(fields, f"kettlebells {unit}", default.kettlebells),
    )


def read_energy(fields: Fields) -> EnergyRules:
    """Read whether an estimate of energy is shown, for which body mass, and by which figures."""
    default = EnergyRules()
    return EnergyRules(
        shown=fields.one_of("energy", _Switch) is _Switch.ON,
        body_mass=_body_mass(fields) or default.body_mass,
        edition=fields.one_of("MET edition", MetEdition) or default.edition,
        formula=fields.one_of("energy formula", EnergyFormula) or default.formula,
    )


def read_times(fields: Fields) -> TimeRules:
    """Read the seconds that no prescription names."""
    default = TimeRules()
    set_up = _seconds(fields, "set-up seconds", default.set_up)
    mapping = fields.mapping_of("change-over seconds")
    if mapping is None:
        return TimeRules(set_up)
    inner = Fields(mapping, ("exercises", "blocks"), "change-over seconds")
    between_exercises = _seconds(inner, "exercises", default.between_exercises)
    between_blocks = _seconds(inner, "blocks", default.between_blocks)
    fields.findings += inner.findings
    return TimeRules(set_up, between_exercises, between_blocks)


def _seconds(fields: Fields, key: str, default: int) -> int:
    found = fields.whole(key, 0, _LONGEST)
    return default if found is None else found


def _body_mass(fields: Fields) -> Range[Decimal] | None:
    item = fields.item("body mass kg")
    if item is None:
        return None
    typed = [end.text for end in item.value] if isinstance(item.value, tuple) else []
    ends = [end for end in map(read_number, typed) if end and _LIGHTEST_BODY <= end <= _HEAVIEST_BODY]
    if len(ends) == len(typed) == 2 and ends[0] <= ends[1]:
        return Range(ends[0], ends[1])
    fixed = ", ".join(map(write_number, sorted(ends))) if len(ends) == len(typed) == 2 else "60, 90"
    message = (
        f"“body mass kg” is {_listed(item)}, expected two figures from {_LIGHTEST_BODY} to {_HEAVIEST_BODY}, "
        "the lower one first"
    )
    fields.refuse(item.value_span, message, f"type “body mass kg: [{fixed}]”, the range of your readers")
    return None


def _listed(item: Item) -> str:
    """Return what was found, a list with what is in it."""
    if not isinstance(item.value, tuple):
        return described(item)
    inside = ", ".join(entry.text or described(entry) for entry in item.value)
    return f"the list [{inside[:40]}]" if inside else "an empty list"


def _weights(fields: Fields, key: str, default: tuple[Decimal, ...]) -> tuple[Decimal, ...]:
    """Return the weights, heaviest first; one that is none, or twice the same, is a finding."""
    item = fields.item(key)
    if item is None:
        return default
    if not isinstance(item.value, tuple) or not item.value:
        message = f"“{key}” is {_listed(item)}, expected a list of weights"
        typed = item.text if read_number(item.text) else ", ".join(map(write_number, default[:3]))
        fields.refuse(item.value_span, message, f"type “{key}: [{typed}]”, with your own; or leave the line out")
        return default
    found: list[Decimal] = []
    for entry in item.value:
        weight = _weight(fields, key, entry)
        if weight in found:
            message = f"“{key}” has {write_number(weight)} twice, expected each weight once"
            fields.refuse(entry.value_span, message, "delete one of them; as many as needed are taken of each")
        elif weight is not None:
            found.append(weight)
    return tuple(sorted(found, reverse=True)) or default


def _weight(fields: Fields, key: str, item: Item) -> Decimal | None:
    """Return one weight of up to two decimals; None after a finding."""
    weight = None if isinstance(item.value, tuple) else read_number(item.text)
    if weight is not None and 0 < weight <= _HEAVIEST and (Fraction(weight) * 100).denominator == 1:
        return weight
    unit = key.rpartition(" ")[2]
    message = f"“{key}” has {described(item)}, expected a weight in {unit} above 0, at most {_HEAVIEST}"
    fields.refuse(item.value_span, message, "type the figure alone, with two decimals at most and without a unit")
    return None
