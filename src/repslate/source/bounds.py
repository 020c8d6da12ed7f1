"""How much of anything a file may hold: figures that no honest file comes near, so that a hostile one costs little.

What is over a bound is told with its place and not read.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

WORKOUT = 256 * 1024  # bytes of workout.md; an hour's workout is under 20 KiB
SETTINGS = 64 * 1024  # … of series.yaml
EXERCISES_FILE = 128 * 1024  # … of exercises.yaml; each takes some 200
CHAPTERS_FILE = 128 * 1024  # … of a list of chapters
PUBLISHED = 64 * 1024 * 1024  # … of a page, card or picture that was published; an article carries its pictures
PUBLISHED_TEXT = 256 * 1024  # … of a text that was published; of 120 exercises it takes half
LINE = 5_000  # … of one line; a whole printed page has 3,000
LINES = 4_000  # … of workout.md
PICTURES = 200  # in one episode
NAME = 200  # … of a heading
DOSE = 300  # … of a prescription; the longest in use have 120
EXERCISES = 120  # in one episode
SECTIONS = 120  # … with warm-up, notes and safety
CHAPTERS = 300
CUE = 10_000  # characters of one subtitle or paragraph of a transcript
WORDS = 25_000  # said in one film; close to three hours without a pause
NUMBERS = 5_000  # … of them numbers; an hour and more of counting every second aloud


def published(name: str) -> int:
    """Return how many bytes a published file of that name may have."""
    if name.startswith("chapters."):
        return CHAPTERS_FILE
    return PUBLISHED_TEXT if name.endswith((".txt", ".md", ".json")) else PUBLISHED


def too_much(span: Span, what: str, found: int, most: int, help_: str) -> Finding:
    """Say that a file holds more of something than is read."""
    text = f"found {found:,} {what}, expected at most {most:,}"
    return Finding("too-much", Severity.ERROR, span, text, help_)


def too_long(text: str, file: str) -> Iterator[Finding]:
    """Yield the first line of a text that is too long to be read, with how many more there are, and too many lines."""
    if (lines := text.count("\n") + 1) > LINES:
        help_ = "is this the right file? publish a workout of this length as several episodes"
        yield too_much(Span(file, LINES + 1), "lines", lines, LINES, help_)
    long = [(number, len(line)) for number, line in enumerate(text.split("\n"), 1) if len(line) > LINE]
    if long:
        number, length = long[0]
        more = f" (and {len(long) - 1} more such lines)" if long[1:] else ""
        help_ = f"break the line into several{more}"
        yield too_much(Span(file, number, LINE + 1), "characters in one line", length, LINE, help_)
