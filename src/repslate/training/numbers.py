"""All that a workout asks of a body, in one bundle: time, sets per muscle, loads and energy."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from repslate.model.episode import Episode, Exercise
from repslate.model.library import Library
from repslate.model.prescription import of_one_rep_max
from repslate.model.quantity import MassUnit
from repslate.model.series import Series, Switch, Units
from repslate.training.duration import SessionTime, session_time
from repslate.training.energy import Energy, energy
from repslate.training.load import MAXIMA, Loads, load_table
from repslate.training.plates import Pieces, rack_for
from repslate.training.repmax import Refusal
from repslate.training.volume import MuscleSets, NotCounted, not_counted, volume

# As load.MAXIMA, but in one hand.
HAND: Mapping[MassUnit, tuple[Fraction, ...]] = MappingProxyType(
    {"kg": tuple(map(Fraction, (10, 16, 20, 24, 32, 40))), "lb": tuple(map(Fraction, (20, 35, 45, 55, 70, 90)))}
)


@dataclass(frozen=True, slots=True)
class Numbers:
    """What was computed of an episode; `energy` None unless the series asks for it.

    `loads` are by the exercise's id, of one in parts one for each that has a load, alike ones once.
    """

    time: SessionTime
    muscles: tuple[MuscleSets, ...]
    not_counted: tuple[NotCounted, ...]
    loads: Mapping[str, tuple[Loads, ...]]
    energy: Energy | None


def compute(episode: Episode, library: Library) -> Numbers:
    """Compute everything, with the settings of the episode's series."""
    series = episode.series
    time = session_time(
        episode,
        set_up=Fraction(series.set_up_seconds),
        change_over=Fraction(series.change_over_seconds.exercises),
        between_blocks=Fraction(series.change_over_seconds.blocks),
    )
    burnt = None
    if series.energy is Switch.ON:
        burnt = energy(
            episode, time, body_mass=series.body_mass_kg, edition=series.met_edition, formula=series.energy_formula
        )
    loads: dict[str, tuple[Loads, ...]] = {}
    for _, line in episode.lines():
        found = _loads(line, episode.series)
        if found is not None and found not in loads.get(line.id, ()):
            loads[line.id] = (*loads.get(line.id, ()), found)
    return Numbers(time, volume(episode, library), not_counted(episode, library), MappingProxyType(loads), burnt)


def _loads(exercise: Exercise, series: Series) -> Loads | None:
    unit: MassUnit = "lb" if series.units is Units.LB else "kg"
    kit = series.pounds if unit == "lb" else series.kilograms
    rack = rack_for(_equipment(exercise), kit)
    if rack is None and not of_one_rep_max(exercise.prescription.load):
        return None  # repetitions of a body's own weight, or of a machine whose steps nobody told us
    maxima = (HAND if isinstance(rack, Pieces) else MAXIMA)[unit]
    found = load_table(exercise.prescription, maxima=maxima, unit=unit, table=series.load_table, rack=rack)
    return None if isinstance(found, Refusal) else found


def _equipment(exercise: Exercise) -> tuple[str, ...]:
    named = tuple(words.text for words in exercise.equipment)
    return named or (exercise.match.equipment if exercise.match else ())
