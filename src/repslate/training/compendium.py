"""What activities cost: MET values of both editions of the Adult Compendium and the two formulas.

MET values are copied with their codes; the words are ours.

2011: Ainsworth et al. 2011, Med Sci Sports Exerc 43(8):1575–1581. 2024: Herrmann, Willis, Ainsworth et al. 2024,
J Sport Health Sci 13(1):6–12. Both read in transcriptions of the tables.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from repslate.model.series import EnergyFormula, MetEdition

CITATIONS = {
    MetEdition.OLDER: "Ainsworth et al. 2011, Med Sci Sports Exerc 43(8):1575–1581",
    MetEdition.NEWER: "Herrmann et al. 2024, J Sport Health Sci 13(1):6–12 (adults aged 19 to 59)",
}
#: The first is 5 % above the second, exactly (1.05 = 3.5 × 60 / 200): sources use both.
FORMULAS = {
    EnergyFormula.OXYGEN: "kcal = MET × 3.5 × kg ÷ 200 × min (ACSM: 1 MET is 3.5 ml oxygen a kg and minute)",
    EnergyFormula.PLAIN: "kcal = MET × kg × h",
}


@dataclass(frozen=True, slots=True)
class Activity:
    """One code of the Compendium in one edition; `single_copy` where only one transcription was read."""

    edition: MetEdition
    code: str
    words: str
    met: Fraction
    single_copy: bool = False


# code: (2011, 2024, what it is); None where the edition has no such code or none that was read. The editions differ
# where the later one has measured values.
_TABLE: dict[str, tuple[str | None, str | None, str]] = {
    "02008": ("5.0", "5.0", "boot-camp or obstacle training"),
    "02020": ("8.0", "7.5", "calisthenics, vigorous"),
    "02022": ("3.8", "3.8", "calisthenics, moderate"),
    "02024": ("2.8", "2.8", "calisthenics, light"),
    "02030": ("3.5", "3.5", "calisthenics up and down from the floor"),
    "02032": (None, "6.0", "circuit with body weight"),
    "02034": (None, "3.5", "circuit, light"),
    "02035": ("4.3", "5.0", "circuit, moderate"),
    "02040": ("8.0", "7.5", "circuit with kettlebells and little rest, vigorous"),
    "02048": ("5.0", "5.0", "elliptical trainer, moderate"),
    "02050": ("6.0", "6.0", "weights, vigorous: power lifting or body building"),
    "02052": ("5.0", "5.0", "weights, squats and deadlifts, slow or explosive"),
    "02054": ("3.5", "3.5", "weights, several exercises, 8–15 repetitions"),
    "02055": (None, "5.8", "weights as a circuit of supersets"),
    "02056": (None, "3.0", "body-weight resistance, general"),
    "02057": (None, "6.5", "body-weight resistance, hard"),
    "02058": (None, "9.8", "kettlebell swings"),
    "02060": ("5.5", "5.5", "health-club exercise, general"),
    "02062": ("7.8", "7.8", "conditioning class"),
    "02064": ("3.8", "3.8", "home exercise, general"),
    "02065": ("9.0", "9.3", "stair treadmill"),
    "02068": ("11.0", "11.0", "rope skipping, general"),
    "02070": ("6.0", "7.3", "rowing machine, vigorous"),
    "02071": ("4.8", "5.0", "rowing machine, moderate"),
    "02101": ("2.3", "2.3", "stretching, mild"),
    "02105": ("3.0", "2.8", "pilates, general"),
    "02110": ("6.8", "6.8", "teaching a class"),
    "02140": ("2.3", "2.5", "video workout, light"),
    "02143": ("4.0", "4.0", "video workout, moderate"),
    "02145": (None, "6.0", "video workout, vigorous"),
    "02146": ("6.0", None, "video workout, vigorous"),
    "02150": ("2.5", "2.3", "yoga, hatha"),
    "02210": (None, "7.0", "intervals, moderate"),
    "02214": (None, "11.0", "intervals, vigorous: burpees, climbers, squat jumps"),
    "15550": (None, "12.3", "rope skipping, 120–160 a minute"),
    "15551": (None, "11.8", "rope skipping, 100–120 a minute"),
    "15552": (None, "8.3", "rope skipping, under 100 a minute"),
}
_SINGLE_COPY = frozenset({"02055", "02058", "02210", "02214"})  # of the 2024 edition


CODES = tuple(_TABLE)


def activity(edition: MetEdition, code: str) -> Activity | None:
    """Return a code in an edition, None where that edition does not have it or the table does not."""
    if code not in _TABLE:
        return None
    in_2011, in_2024, words = _TABLE[code]
    met = in_2011 if edition == MetEdition.OLDER else in_2024
    return Activity(edition, code, words, Fraction(Decimal(met)), code in _SINGLE_COPY) if met else None


def kilocalories(met: Fraction, kilograms: Fraction, minutes: Fraction, formula: EnergyFormula) -> Fraction:
    """Return the kilocalories of an activity, resting cost included, exact; see FORMULAS."""
    if formula == EnergyFormula.OXYGEN:
        return met * Fraction("3.5") * kilograms / 200 * minutes
    return met * kilograms * minutes / 60
