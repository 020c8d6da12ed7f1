"""The energy estimate: check values of the Compendia and formulas, which code a block gets, what it rests on."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest

from repslate.model.build import build
from repslate.model.episode import Episode
from repslate.model.library import load
from repslate.model.quantity import Range
from repslate.model.series import EnergyFormula, MetEdition, Series
from repslate.source.outline import read_outline
from repslate.training.compendium import FORMULAS, activity, kilocalories
from repslate.training.duration import session_time
from repslate.training.energy import _GENTLE, _STEADY, Energy, energy

OLD, NEW = MetEdition.OLDER, MetEdition.NEWER


def read(text: str, front: str = "goal: hypertrophy") -> Episode:
    outline, _ = read_outline(f"---\nformat: 1\ntitle: A case\n{front}\n---\n{text}\n", "workout.md")
    return build(outline, Series(), load(), folder_name="case", file="workout.md")[0]


def estimate(text: str, front: str = "goal: hypertrophy", edition: MetEdition = NEW) -> Energy:
    episode = read(text, front)
    return energy(episode, session_time(episode), edition=edition)


def met(edition: MetEdition, code: str) -> Fraction:
    found = activity(edition, code)
    assert found is not None
    return found.met


# 2011: Ainsworth et al., MSSE 43(8):1575–1581. 2024: Herrmann et al., J Sport Health Sci 13(1):6–12.
@pytest.mark.parametrize(
    ("edition", "code", "value"),
    [
        (OLD, "02040", "8.0"),
        (NEW, "02040", "7.5"),
        (OLD, "02035", "4.3"),
        (NEW, "02035", "5.0"),
        (OLD, "02054", "3.5"),
        (NEW, "02054", "3.5"),
        (OLD, "02020", "8.0"),
        (NEW, "02020", "7.5"),
        (OLD, "02150", "2.5"),
        (NEW, "02150", "2.3"),
        (NEW, "02058", "9.8"),
    ],
)
def test_the_editions_have_their_own_values(edition: MetEdition, code: str, value: str) -> None:
    assert met(edition, code) == Fraction(Decimal(value))


def test_a_code_that_an_edition_lacks_is_not_made_up() -> None:
    assert activity(OLD, "02055") is None
    assert activity(NEW, "99999") is None


def test_ten_met_for_half_an_hour() -> None:
    """Published: 10 MET, 68 kg, 30 min: 357 kcal (a fitness certification text after AHA and ACSM)."""
    assert kilocalories(Fraction(10), Fraction(68), Fraction(30), EnergyFormula.OXYGEN) == 357


@pytest.mark.parametrize(("formula", "kcal"), [(EnergyFormula.OXYGEN, "192.94"), (EnergyFormula.PLAIN, "183.75")])
def test_weights_for_three_quarters_of_an_hour(formula: EnergyFormula, kcal: str) -> None:
    """Herrmann et al. 2024, code 02054, 70 kg, 45 min, by both formulas (derived)."""
    found = kilocalories(met(NEW, "02054"), Fraction(70), Fraction(45), formula)
    assert abs(found - Fraction(kcal)) <= Fraction("0.01")


def test_the_formulas_are_five_per_cent_apart() -> None:
    one = (Fraction("6.5"), Fraction(81), Fraction(37))
    assert kilocalories(*one, EnergyFormula.OXYGEN) / kilocalories(*one, EnergyFormula.PLAIN) == Fraction("1.05")


# What a block is taken for: (heading and exercises, front matter, the two codes of 2024, the two of 2011).
STRAIGHT = "## Straight sets · rest 90 s\n"
CHOICES = [
    ("several lifts", STRAIGHT + "### Biceps curl\n3 × 10\n### Bench press\n3 × 10", "", "02054 02054", "02054 02054"),
    ("half squats", STRAIGHT + "### Back squat\n3 × 8\n### Biceps curl\n3 × 8", "", "02054 02052", "02054 02052"),
    ("heavy", STRAIGHT + "### Back squat\n5 × 3", "goal: strength", "02054 02050", "02054 02050"),
    ("pairs", "## Superset · 3 rounds\n### Biceps curl\n10\n### Bench press\n10", "", "02054 02055", "02054 02035"),
    ("body weight", STRAIGHT + "### Push-up\n3 × 10\n### Plank\n3 × 30 s", "", "02056 02022", "02030 02022"),
    ("jumps", STRAIGHT + "### Squat jump\n3 × 5\n### Plank\n3 × 30 s", "", "02056 02057", "02030 02020"),
    ("weight added", STRAIGHT + "### Push-up\n3 × 10 @ bodyweight + 10 kg", "", "02054 02054", "02054 02054"),
    (
        "a circuit",
        "## Circuit · 3 rounds\n### Push-up\n40 s\n### Reverse lunge\n40 s",
        "",
        "02035 02032",
        "02035 02035",
    ),
    ("for beginners", "## Circuit · 3 rounds\n### Push-up\n40 s", "level: beginner", "02034 02032", "02022 02035"),
    ("swings", "## Every minute for 8 min\n### Kettlebell swing\n12 reps @ 16 kg", "", "02035 02040", "02035 02040"),
    ("burpees", "## As many rounds as possible in 8 min\n### Burpee\n5 reps", "", "02035 02210", "02035 02040"),
    ("stretching", STRAIGHT + "### Calf stretch\n2 × 30 s", "", "02101 02101", "02101 02101"),
    ("rowing on", "## Finisher\n### Rowing machine\n10 min", "", "02071 02071", "02071 02071"),
    (
        "rowing in bouts",
        "## Finisher · 4 rounds · rest 60 s\n### Rowing machine\n60 s",
        "",
        "02035 02032",
        "02035 02035",
    ),
    ("a warm-up", "## Warm-up\n### Inchworm\n1 × 6", "", "02024 02022", "02024 02022"),
    ("unknown", STRAIGHT + "### Wobble\n3 × 10", "", "02056 02022", "02030 02022"),
]


@pytest.mark.parametrize(("what", "text", "front", "in_2024", "in_2011"), CHOICES, ids=[row[0] for row in CHOICES])
def test_the_code_of_a_block(what: str, text: str, front: str, in_2024: str, in_2011: str) -> None:
    for edition, codes in zip((OLD, NEW), (in_2011, in_2024), strict=True):
        block = estimate(text, front or "goal: hypertrophy", edition).blocks[0]
        assert {block.low.code, block.high.code} == set(codes.split()), (edition, block.why)
        assert block.low.met <= block.high.met


def test_every_code_of_the_library_is_in_the_table() -> None:
    codes = {tuple(entry.met.split(":")) for entry in load().entries.values()}
    assert codes
    for _, code in sorted(codes):
        assert activity(NEW, code), code


@pytest.mark.parametrize("code", sorted(_STEADY | _GENTLE))
def test_a_code_taken_over_from_the_library_is_in_both_editions(code: str) -> None:
    assert all(activity(edition, code) for edition in [OLD, NEW])


WORKOUT = "## Warm-up\n### Inchworm\n1 × 6\n" + STRAIGHT + "### Back squat\n3 × 8–10 @ 60 kg"


def test_the_estimate_by_hand() -> None:
    """One block of curls: 3 × 10 × 3 s + 2 × 90 s + 3 × 10 s = 300 s, 5 min at 3.5 MET, 60 to 90 kg, 20 % either way.

    Low: 3.5 × 3.5 × 60 ÷ 200 × 5 × 0.8 = 14.7 kcal. High: 3.5 × 3.5 × 90 ÷ 200 × 5 × 1.2 = 33.075 kcal.
    """
    found = estimate(STRAIGHT + "### Biceps curl\n3 × 10 @ 10 kg")
    assert (found.low, found.high) == (Fraction("14.7"), Fraction("33.075"))
    assert (found.met_low, found.met_high) == (Fraction("3.5"), Fraction("3.5"))


def test_blocks_weigh_by_their_time() -> None:
    """Ten minutes of rowing at 5.0 and 30 s of stretching with 10 s to set up at 2.3, to the second."""
    text = "## Finisher\n### Rowing machine\n10 min\n## Cool-down\n### Calf stretch\n1 × 30 s"
    mean = (Fraction(5) * 610 + Fraction("2.3") * 40) / 650
    assert estimate(text).met_low == mean


def test_heavier_people_and_more_work_take_more() -> None:
    episode = read(WORKOUT)
    time = session_time(episode)
    lows = [energy(episode, time, body_mass=Range(kg, kg)).low for kg in (50, 60, 90)]
    assert all(a < b for a, b in pairwise(lows))
    assert estimate(WORKOUT).high < estimate(WORKOUT.replace("3 ×", "4 ×")).high


@pytest.mark.parametrize("edition", [OLD, NEW])
def test_it_says_what_it_rests_on(edition: MetEdition) -> None:
    found = estimate(WORKOUT.replace("Straight sets", "Superset · 3 rounds"), edition=edition)
    assert found.low < found.high
    assert found.edition == edition
    assert found.formula == FORMULAS[EnergyFormula.OXYGEN]
    assert edition in found.sources[0]
    said = " ".join(found.assumed)
    assert "60–90 kg" in said and "Byrne et al. 2005" in said
    assert ("one copy" in said) == (edition is NEW)  # code 02055
    assert ("nearest" in said) == (edition is OLD)


def test_a_workout_without_blocks_takes_nothing() -> None:
    found = estimate("Only a lead.")
    assert found.low == found.high == found.met_low == 0
    assert found.codes == ()
