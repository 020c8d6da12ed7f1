"""What several checks ask of an exercise or a block; stands beside them so that all mean the same by it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from repslate.cut.wording import exact_clock
from repslate.facts import Facts
from repslate.model.episode import Block, Episode, Exercise, Prose, Words
from repslate.model.prescription import Prescription
from repslate.model.quantity import Range, write_seconds
from repslate.model.series import TextProfile
from repslate.model.sets import ONCE, done, sets_of
from repslate.model.text_length import count
from repslate.source.span import Span


@dataclass(frozen=True, slots=True)
class Text:
    """A run of text that is published, with its place and the exercise under which it stands, None elsewhere."""

    words: str
    span: Span
    exercise: Exercise | None = None

    def at(self, found: re.Match[str]) -> Span:
        """Return the place of what was found in the words."""
        return self.span.within(self.words, found.start(), found.end())


def texts(episode: Episode) -> Iterator[Text]:
    """Yield every run of text that is published but for titles, hashtags and cautions."""
    yield from _texts((*episode.lead, *episode.safety))
    for block in episode.blocks:
        yield from _texts(block.prose)
        for one in block.exercises:
            yield from told(one)
            yield from _texts((*one.easier, *one.harder), one)
    for title, prose in episode.notes:
        yield from _texts((title, *prose))


def told(exercise: Exercise) -> Iterator[Text]:
    """Yield what tells how an exercise is done: its text and its cues."""
    yield from _texts((*exercise.prose, *exercise.cues), exercise)


def _texts(pieces: Iterable[Prose | Words], under: Exercise | None = None) -> Iterator[Text]:
    for piece in pieces:
        yield Text(piece.markdown if isinstance(piece, Prose) else piece.text, piece.span, under)


def introduction(episode: Episode) -> Iterator[Text]:
    """Yield what tells viewers beforehand what they get: the title, the summary and the lead."""
    yield Text(episode.title, episode.places.get("title", episode.span))
    if episode.summary:
        yield Text(episode.summary, episode.places.get("summary", episode.span))
    yield from _texts(episode.lead)


def quoted(found: re.Match[str]) -> str:
    """Return what was found on one line in quotes."""
    return f"“{' '.join(found[0].split())}”"


def unread(exercise: Exercise) -> bool:
    """Tell whether there is a prescription line that could not be read (the reader has said so already)."""
    return exercise.prescription_span is not None and exercise.prescription == Prescription()


def may_say_more(block: Block, exercise: Exercise) -> bool:
    """Tell whether what no figure says may stand in words as typed or in a line that could not be read."""
    in_words = any(line.prescription.words for line in exercise.lines)
    return block.in_words or in_words or unread(exercise)


def asked(facts: Facts) -> Iterator[tuple[Block, Exercise]]:
    """Yield the lines of exercises of which something may be missing, each with its block."""
    return ((block, one) for block, one in facts.episode.lines() if not may_say_more(block, one))


def prescribed(facts: Facts) -> Iterator[tuple[Block, Exercise]]:
    """Yield the lines whose prescription was read or never written, each with its block; of a part one for each."""
    return ((block, exercise) for block, exercise in facts.episode.lines() if not unread(exercise))


def place(exercise: Exercise) -> Span:
    """Return where the prescription stands, or the heading where there is none."""
    return exercise.prescription_span or exercise.span


def called(what: Block | Exercise) -> str:
    """Return what to call it in a message: A1 Goblet squat, “Superset A”."""
    if isinstance(what, Exercise):
        return f"{what.label} {what.name}"
    return f"“{what.name}”"


def rest_words(rest: Range[Fraction]) -> str:
    """Return a rest as the trade writes it: "rest 60–90 s"."""
    return f"rest {write_seconds(rest)}"


def repetitions(block: Block, exercise: Exercise) -> Range[Fraction]:
    """Return how many repetitions are written for the whole workout, both sides; 0 where work is no repetitions.

    By the clock an exercise has its share of the whole minutes, and as many rounds as possible count as one.
    """
    said = done(block, exercise)
    if not said.reps:
        return Range(Fraction(0), Fraction(0))
    times = exercise.parts[0].sets if exercise.parts else sets_of(block, exercise) or ONCE
    each, sides = said.reps, 2 if said.per_side else 1
    low, high = sum(reps.low for reps in each), sum(reps.high for reps in each)
    if len(each) > 1 and said.sets is None:
        times = Range(1, 1)  # a figure for each set
    return Range(Fraction(low * times.low * sides), Fraction(high * times.high * sides))


def proposed(start: Fraction) -> str:
    """Return the help of a finding that proposes another start for a chapter."""
    return f"begin the chapter at {exact_clock(start)}, if the film shows it there"


def film_is_another(facts: Facts) -> bool:
    """Tell whether several chapters start after the film's end and none after the written length, which is longer.

    Then the film is of another cut; the chapters are not each wrong.
    """
    film, length = facts.film, facts.episode.length
    if film is None or length is None or length - film.duration < 1:
        return False
    late = [chapter.start for chapter in facts.chapters if chapter.start >= film.duration]
    return len(late) > 1 and max(late) < length


def over_limit(facts: Facts, profile: TextProfile, needed: tuple[str, ...], closing: str) -> str:
    """Say how much the parts a text cannot do without take where that is more than the profile allows; "" if they fit.

    `closing` is the line with "{address}"; the disclosure is added where there is a sponsor.
    """
    episode, series = facts.episode, facts.episode.series
    disclosure = series.disclosure.replace("{sponsor}", episode.sponsor) if episode.sponsor else ""
    address = series.address.replace("{slug}", episode.slug) if series.address else ""
    parts = (disclosure, *needed, closing.format(address=address) if address else "")
    length = count("\n\n".join(filter(None, parts)) + "\n", profile)
    if profile.maximum is None or length <= profile.maximum:
        return ""
    return f"{length} {profile.unit}, expected at most {profile.maximum} ({profile.name})"
