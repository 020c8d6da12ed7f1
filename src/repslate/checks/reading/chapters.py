"""Pages of what is found in the chapter markers."""

from __future__ import annotations

from repslate.source.finding import Severity


def _page(asks: str, why: str, bad: str, good: str, mend: str) -> str:
    """Return a page whose examples differ in one line of chapters.txt."""
    source = "common practice on video hosts, no standard."
    return f"{asks}\n\nWhy: {why}\nSource: {source}\nBad:\n{_file(bad)}\nGood:\n{_file(good)}\nMend: {mend}\n"


def _file(line: str) -> str:
    workout = ["## Straight sets", "### Goblet squat", "3 × 10, rest 90 s", "### Push-up", "3 × 10, rest 60 s"]
    markers = ["chapters.txt:", "0:00 Welcome", "1:10 Goblet squat", line, "9:40 Goodbye"]
    return "\n".join(f"    {one}" for one in workout + markers)


PAGES = {
    "marker-unreadable": (
        Severity.ERROR,
        _page(
            "Every line of chapters.txt is a time and a title.",
            "a line that cannot be read is a chapter that is missing.",
            "5.20 Push-up",
            "5:20 Push-up",
            "write the time, a space and the title: 2:10 Goblet squat.",
        ),
    ),
    "chapter-unmatched": (
        Severity.WARNING,
        _page(
            "Every chapter names an exercise or a block, or is a common one such as Welcome.",
            "readers jump from the exercise to its chapter; a title of its own leads nowhere. Only a note "
            "where the title is near no exercise, as in “My story”.",
            "5:20 Push-up stories",
            "5:20 Push-up stories {push-up}",
            "type the exercise's name, or end the line with its id in braces.",
        ),
    ),
    "chapter-id-unknown": (
        Severity.ERROR,
        _page(
            "An id at the end of a chapter's line is that of an exercise.",
            "a slip in the id leaves the exercise without its chapter.",
            "5:20 On the floor now {pushups}",
            "5:20 On the floor now {push-up}",
            "take the id that the finding proposes.",
        ),
    ),
    "chapters-same-second": (
        Severity.ERROR,
        _page(
            "No two chapters start in the same second.",
            "lists of chapters count in whole seconds, and hosts ignore a list with the same time twice.",
            "1:10 Push-up",
            "5:20 Push-up",
            "move one of the two, or delete it.",
        ),
    ),
}
