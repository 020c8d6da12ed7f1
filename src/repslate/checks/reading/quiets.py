"""Pages of what is found in the lines that silence a check."""

from __future__ import annotations

from repslate.source.finding import Severity


def _page(asks: str, why: str, bad: str, good: str, mend: str) -> str:
    """Return a page whose examples differ in one line under an exercise without a rest."""
    source = "common practice, no source."
    return f"{asks}\n\nWhy: {why}\nSource: {source}\nBad:\n{_under(bad)}\nGood:\n{_under(good)}\nMend: {mend}\n"


def _under(line: str) -> str:
    lines = ["## Straight sets", "### Goblet squat", "3 × 10", "", line]
    return "\n".join(f"    {one}" for one in lines)


_GOOD = "Quiet (rest-missing): the film shows the clock between the sets"

PAGES = {
    "quiet-without-check": (
        Severity.ERROR,
        _page(
            "A quiet names the check that it silences.",
            "without a name it would silence everything, or nothing.",
            "Quiet: the film shows the clock",
            _GOOD,
            "type the check's name in brackets, as it stands beside the finding.",
        ),
    ),
    "quiet-without-reason": (
        Severity.ERROR,
        _page(
            "A quiet says why.",
            "whoever reads the file next has to know why nobody is warned.",
            "Quiet (rest-missing):",
            _GOOD,
            "write the reason after the colon, or take the line out.",
        ),
    ),
    "quiet-unknown": (
        Severity.WARNING,
        _page(
            "A quiet names a check that there is.",
            "with a slip in the name it silences nothing, and the finding stays.",
            "Quiet (rest-mising): the film shows the clock",
            _GOOD,
            "copy the name from the finding.",
        ),
    ),
    "quiet-unused": (
        Severity.WARNING,
        _page(
            "A quiet silences something in its part of the file.",
            "a quiet that outlives its finding would hide the next one.",
            "Quiet (tempo-slow): slow on purpose",
            _GOOD,
            "take the line out, or move it under the heading of the exercise it is for.",
        ),
    ),
}
