"""Pages of what is found in the notation: the line under an exercise, and the figures in a block's heading."""

from __future__ import annotations

from repslate.source.finding import Severity


def _page(asks: str, why: str, bad: str, good: str, mend: str) -> str:
    """Return a page whose examples are one line of notation each."""
    source = "the notation is the trade's own; common practice, no source."
    return f"{asks}\n\nWhy: {why}\nSource: {source}\nBad:\n{_line(bad)}\nGood:\n{_line(good)}\nMend: {mend}\n"


def _line(line: str) -> str:
    return f"    ## Straight sets\n    ### Goblet squat\n    {line}"


PAGES = {
    "notation-unread": (
        Severity.ERROR,
        _page(
            "Every word and sign of the prescription can be read.",
            "what cannot be read would be missing from the card.",
            "3 × ten-ish, rest 90 s",
            "3 × 10, rest 90 s",
            "write figures and the words of the notation only; everything else goes into the text below.",
        ),
    ),
    "notation-figure": (
        Severity.ERROR,
        _page(
            "Every figure is one that its unit allows.",
            "1.5 reps or a time of 1:75 means something else than it says.",
            "3 × 10, rest 1:75",
            "3 × 10, rest 1:15",
            "write whole sets and reps, seconds below 60 behind a colon, and thousands without a comma.",
        ),
    ),
    "notation-unit": (
        Severity.ERROR,
        _page(
            "Every figure has the unit that belongs there.",
            "a rest in kilograms or a drop without % cannot be followed.",
            "3 × 10, rest 90 kg",
            "3 × 10, rest 90 s",
            "write what the finding proposes.",
        ),
    ),
    "notation-unclear": (
        Severity.ERROR,
        _page(
            "The line can be read in one way only.",
            '"rest 2" may be minutes or seconds, and a wrong guess is published.',
            "3 × 10, rest 2",
            "3 × 10, rest 2 min",
            "write the unit, or the word that the finding proposes.",
        ),
    ),
    "notation-assumed": (
        Severity.NOTE,
        _page(
            "Nothing had to be assumed.",
            "a rest without a unit is read as seconds; you should see that it was.",
            "3 × 10, rest 90",
            "3 × 10, rest 90 s",
            "if the reading is right, nothing; writing it as proposed makes the note go away.",
        ),
    ),
    "notation-range": (
        Severity.ERROR,
        _page(
            "A range begins with the lower figure.",
            "12–10 is a slip, or two sets of 12 and 10.",
            "3 × 12–10, rest 90 s",
            "3 × 10–12, rest 90 s",
            "turn the two figures round; reps that fall from set to set are written 12/10/8.",
        ),
    ),
    "notation-twice": (
        Severity.ERROR,
        _page(
            "Every part of the prescription stands once.",
            "of two rests on one line only one can be meant.",
            "3 × 10, rest 60 s, rest 90 s",
            "3 × 10, rest 90 s",
            "keep one of the two.",
        ),
    ),
    "notation-contradiction": (
        Severity.ERROR,
        _page(
            "The parts of one line agree with each other.",
            "3 sets and reps for two sets are two different orders.",
            "3 × 12/10, rest 90 s",
            "3 × 12/10/8, rest 90 s",
            "write as many reps as there are sets; the parts of a cluster make the reps of the set.",
        ),
    ),
}
