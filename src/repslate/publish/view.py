"""Every figure and name becomes words here, once, so that no two outputs can word a figure differently.

The outputs lay these words out; they neither calculate nor round.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from urllib.parse import quote, urljoin

from repslate.cut.chapters import Chapter, ends
from repslate.facts import Facts
from repslate.model.block_parts import Parts, given, write_parts, write_scheme, write_sharing
from repslate.model.clock import HOUR, write_clock
from repslate.model.episode import Block, Caution, Episode, Exercise, Picture
from repslate.model.library import Library
from repslate.model.notice import NOTICE, NOTICE_SHORT
from repslate.model.prescription import Bodyweight, Load, Prescription, TwoLevels, Weight, masses_of, write
from repslate.model.quantity import Mass, MassUnit, Range
from repslate.model.series import Series, Units
from repslate.model.sets import sets_of, told_sharing
from repslate.publish import cut_words
from repslate.publish.cut_words import CutWords
from repslate.publish.demands import Demands, word
from repslate.publish.markdown import to_plain
from repslate.publish.typeset import isolated
from repslate.source.finding import Finding
from repslate.training.layout import rests_after
from repslate.training.numbers import compute

#: The printable cards that lie beside the article: the paper in words, and the file.
CARDS = (("A4 paper", "card-a4.pdf"), ("US Letter", "card-letter.pdf"))
_PARTED = "; "  # between the parts of an exercise where they stand in one line
MONTHS = "January February March April May June July August September October November December".split()


@dataclass(frozen=True, slots=True)
class Jump:
    """A moment of the cut: `clock` as the viewer reads it, whole `seconds`, the link into the video if there is one."""

    clock: str
    seconds: int
    address: str | None


@dataclass(frozen=True, slots=True)
class CautionView:
    """A caution: its topic as a viewer reads it ("" if none) and the trainer's words (inline Markdown)."""

    topic: str
    words: str


@dataclass(frozen=True, slots=True)
class DoseView:
    """A prescription in words: `main` is what to do ("3 × 10–12 per side"), `details` the rest, one phrase each.

    The last of the details are the `words` of it that are carried as typed. `name` is what a part of an exercise is
    called, with a colon ("Top set:"; "" where it has no name).
    """

    name: str
    main: str
    details: tuple[str, ...]
    words: tuple[str, ...]

    @property
    def whole(self) -> str:
        """All of it in one line."""
        figures = self.details[: len(self.details) - len(self.words)]
        told = ", ".join(filter(None, (self.main, *figures))).replace(", @ ", " @ ")
        return self._named((told, *self.words))

    @property
    def brief(self) -> str:
        """What to do without details, for where there is little room."""
        return self._named((self.main, *self.words))

    def _named(self, phrases: tuple[str, ...]) -> str:
        return " ".join(filter(None, (self.name, ", ".join(filter(None, phrases)))))


@dataclass(frozen=True, slots=True)
class ExerciseView:
    """One exercise in words.

    `main` and `details` are those of its prescription; of one in `parts`, `main` is "" and each detail a whole part.
    `boxes` has one entry a set to write into on the card, False where the set is optional ("2–3 rounds").
    """

    id: str
    label: str
    name: str
    main: str
    details: tuple[str, ...]
    parts: tuple[DoseView, ...]
    prescription: str
    brief: str
    jump: Jump | None
    prose: tuple[str, ...]
    cues: tuple[str, ...]
    easier: tuple[str, ...]
    harder: tuple[str, ...]
    cautions: tuple[CautionView, ...]
    pictures: tuple[Picture, ...]
    boxes: tuple[bool, ...]


@dataclass(frozen=True, slots=True)
class BlockView:
    """A block in words; `facts` are phrases such as "3 rounds" and "rest 60–75 s".

    Its `id`, like every id of the page's own, has an underscore, which no exercise's id can have.
    """

    id: str
    letter: str
    name: str
    facts: tuple[str, ...]
    prose: tuple[str, ...]
    cautions: tuple[CautionView, ...]
    exercises: tuple[ExerciseView, ...]


@dataclass(frozen=True, slots=True)
class ClipView:
    """A chapter for machines: whole seconds, end exclusive, None where the film's end is not known."""

    title: str
    start: int
    end: int | None
    address: str | None


@dataclass(frozen=True, slots=True)
class View:
    """The episode in words. Markdown stays Markdown in prose, lead, safety and notes; everything else is plain text.

    `cards` are the papers and the files of the printable cards that lie beside the article, for it to link.
    """

    slug: str
    title: str
    series: Series
    brand: str
    presenter: str
    recorded: str
    published: str
    published_date: str
    goal: str
    level: str
    length: str
    length_iso: str
    origin: tuple[str, ...]
    facts: tuple[str, ...]
    needs: tuple[tuple[str, str], ...]
    equipment: str
    disclosure: str
    opening: str
    lead: tuple[str, ...]
    blocks: tuple[BlockView, ...]
    safety: tuple[str, ...]
    notice: tuple[tuple[str, str], ...]
    notice_short: str
    notes: tuple[tuple[str, tuple[str, ...]], ...]
    address: str | None
    video: str | None
    picture: Picture | None
    picture_address: str | None
    chapters: tuple[Chapter, ...]
    clips: tuple[ClipView, ...]
    cut_length: Fraction | None
    hashtags: tuple[str, ...]
    demands: Demands
    cut: CutWords | None
    cards: tuple[tuple[str, str], ...] = CARDS

    @property
    def description(self) -> str:
        """What search results and link previews say of the page."""
        return self.opening or ", ".join((self.title, *self.facts))

    @property
    def caution_words(self) -> tuple[str, ...]:
        """The plain words of every caution: what no output may leave out."""
        cautions = [c for block in self.blocks for c in block.cautions] + [
            c for e in self.exercises for c in e.cautions
        ]
        return tuple(to_plain(caution.words).replace("\n", " ") for caution in cautions)

    @property
    def exercises(self) -> tuple[ExerciseView, ...]:
        """Every exercise, in order."""
        return tuple(exercise for block in self.blocks for exercise in block.exercises)


def view(facts: Facts, findings: Collection[Finding] = ()) -> View:
    """Put the whole episode into words; `findings` are told to its editor alone."""
    episode, series = facts.episode, facts.episode.series
    long_form = any(t is not None and t >= HOUR for t in (episode.length, *(c.start for c in facts.chapters)))
    jumps = {c.exercise: _jump(c.start, episode.video, hours=long_form) for c in reversed(facts.chapters) if c.exercise}
    blocks = tuple(_block(block, number, series, jumps) for number, block in enumerate(episode.blocks, 1))
    names = {exercise.name.casefold() for _, exercise in episode.exercises()}
    count = f"{len(names)} exercise{'' if len(names) == 1 else 's'}"
    goal = episode.goal.value.capitalize() if episode.goal else ""
    level = episode.level.value.capitalize() if episode.level else ""
    length = write_clock(episode.length, hours=long_form) if episode.length is not None else ""
    number = f"Episode {episode.number}" if episode.number is not None else ""
    demands = word(compute(episode, facts.library), episode)
    session = f"about {demands.session}" if demands.session else ""
    facts_line = tuple(filter(None, (goal, level, session, count, f"{length} video" if length else "")))
    muscles = _joined(_muscles(episode, facts.library))
    equipment = _joined(_equipment(episode)) or "none"
    address = series.address.replace("{slug}", quote(episode.slug)) if series.address else None
    stops = ends(facts.chapters, episode.length)
    return View(
        slug=episode.slug,
        title=episode.title,
        series=series,
        brand=series.brand,
        presenter=episode.presenter or "",
        recorded=_day(episode.recorded),
        published=_day(episode.published),
        published_date=episode.published.isoformat() if episode.published else "",
        goal=goal,
        level=level,
        length=length,
        length_iso=iso_duration(episode.length) if episode.length is not None else "",
        origin=tuple(filter(None, (number, f"with {episode.presenter}" if episode.presenter else ""))),
        facts=facts_line,
        needs=tuple(pair for pair in (("Equipment", equipment), ("Muscles", muscles)) if pair[1]),
        equipment=equipment,
        disclosure=series.disclosure.replace("{sponsor}", episode.sponsor) if episode.sponsor else "",
        opening=episode.summary or _first_sentences(episode),
        lead=_texts(episode.lead),
        blocks=blocks,
        safety=(*_texts(episode.safety), *series.safety),
        notice=NOTICE,
        notice_short=NOTICE_SHORT,
        notes=tuple((title.text, _texts(prose)) for title, prose in episode.notes),
        address=address,
        video=episode.video,
        picture=episode.picture,
        picture_address=urljoin(address, f"{episode.slug}.jpg") if address and episode.picture else None,
        chapters=facts.chapters,
        clips=tuple(
            ClipView(
                chapter.title,
                int(chapter.start),
                int(end) if end is not None else None,
                _moment(episode.video, int(chapter.start)),
            )
            for chapter, end in zip(facts.chapters, stops, strict=True)
        ),
        cut_length=episode.length,
        demands=demands,
        cut=cut_words.word(facts, findings),
        hashtags=(*series.hashtags, *(t for t in episode.hashtags if t not in series.hashtags)),
    )


def iso_duration(seconds: Fraction) -> str:
    """Write a length as an ISO 8601 duration in whole seconds, hours unlimited: 1710 -> "PT28M30S", 0 -> "PT0S"."""
    whole = int(seconds)
    parts = ((whole // HOUR, "H"), (whole // 60 % 60, "M"), (whole % 60, "S"))
    return "PT" + ("".join(f"{n}{unit}" for n, unit in parts if n) or "0S")


def _block(block: Block, number: int, series: Series, jumps: dict[str, Jump]) -> BlockView:
    return BlockView(
        id=f"block_{number}",
        letter=block.letter,
        name=block.name,
        facts=tuple(filter(None, _facts(block))),
        prose=_texts(block.prose),
        cautions=_cautions(block.cautions),
        exercises=tuple(_exercise(e, block, series, jumps) for e in block.exercises),
    )


def _facts(block: Block) -> Iterator[str]:
    """Yield all that the heading of a block says beyond its name."""
    if block.scheme is not None:
        yield f"{write_scheme(block.scheme)} reps"
    # The block's name says what the clock is for, and how long a turn is.
    parts = replace(Parts(**given(block)), scheme=None, turn=None, sharing=None, people=None, cap=None, rest=None)
    yield from write_parts(parts, block.form, joint=block.form.joint or "for")
    sharing = told_sharing(block)
    if sharing == "alternating" and block.form.turn is not None:
        yield "one exercise a minute, in turn"
    else:
        yield write_sharing(sharing, block.form)
    yield from write_parts(Parts(people=block.people, cap=block.cap), block.form)
    if block.rest is not None:
        yield _rest(block, block.rest)


def _rest(block: Block, rest: Range[Fraction]) -> str:
    """Word a block's rest: with several exercises, or intervals, also whether it comes after a set or after a round."""
    words = write(Prescription(rest=rest))
    is_counted = block.interval is not None and block.interval.times is not None
    if len(block.exercises) < 2 and not is_counted:
        return words
    return f"{words} after each {rests_after(block)}"


def _exercise(exercise: Exercise, block: Block, series: Series, jumps: dict[str, Jump]) -> ExerciseView:
    doses = tuple(_dose(line, series.units) for line in exercise.lines)
    return ExerciseView(
        id=exercise.id,
        label=exercise.label,
        name=exercise.name,
        main="" if exercise.parts else doses[0].main,
        details=tuple(dose.whole for dose in doses) if exercise.parts else doses[0].details,
        parts=doses if exercise.parts else (),
        prescription=_PARTED.join(dose.whole for dose in doses),
        brief=_PARTED.join(dose.brief for dose in doses),
        jump=jumps.get(exercise.id),
        prose=_texts(exercise.prose),
        cues=_texts(exercise.cues),
        easier=_texts(exercise.easier),
        harder=_texts(exercise.harder),
        cautions=_cautions(exercise.cautions),
        pictures=exercise.pictures,
        boxes=_boxes(block, exercise),
    )


def _dose(line: Exercise, units: Units) -> DoseView:
    p = line.prescription
    others = (
        Prescription(hold=p.hold),
        Prescription(open_last=p.open_last),
        Prescription(tempo=p.tempo),
        Prescription(effort=p.effort),
        Prescription(drops=p.drops),
        Prescription(rest_pause=p.rest_pause),
        Prescription(cluster=p.cluster),
        Prescription(rest=p.rest),
        Prescription(rest_as_needed=p.rest_as_needed),
    )
    load = _load(p.load, units) if p.load is not None else ""
    words = tuple(map(isolated, p.words))
    name = line.parts[0].name if line.parts else ""
    return DoseView(
        f"{isolated(name)}:" if name else "",
        write(Prescription(sets=p.sets, work=p.work, per_side=p.per_side, partials=p.partials)),
        tuple(filter(None, (load, *map(write, others), *words))),
        words,
    )


def _boxes(block: Block, exercise: Exercise) -> tuple[bool, ...]:
    sets = sets_of(block, exercise) or Range(1, 1)
    return tuple(n < sets.low for n in range(sets.high))


def _load(load: Load, units: Units) -> str:
    """Word a load in the series' unit: as written, and converted in brackets where both are wanted."""
    written = write(Prescription(load=load))
    masses = masses_of(load)
    if not masses or units.value == masses[0].unit:
        return written
    other: MassUnit = "lb" if masses[0].unit == "kg" else "kg"
    converted = _converted(load, other)
    if units is not Units.BOTH:
        return write(Prescription(load=converted))
    bracket = Weight(converted.added) if isinstance(converted, Bodyweight) and converted.added else converted
    return f"{written} ({write(Prescription(load=bracket)).removeprefix('@ ')})"


def _converted(load: Load, unit: MassUnit) -> Load:
    match load:
        case Weight(mass):
            return replace(load, mass=Mass(_rounded(mass.in_unit(unit), unit), unit))
        case Bodyweight(added) if added:
            return Bodyweight(Mass(_rounded(added.in_unit(unit), unit), unit))
        case TwoLevels():
            first, second = (_rounded(mass.in_unit(unit), unit).low for mass in load.masses)
            return replace(load, first=first, second=second, unit=unit)
    return load


def _rounded(mass: Range[Fraction], unit: MassUnit) -> Range[Decimal]:
    """Round to what a reader can load: whole pounds, whole kilograms from 20 up, half kilograms below (our choice)."""

    def nearest(x: Fraction) -> Decimal:
        step = Fraction(1, 2) if unit == "kg" and x < 20 else Fraction(1)
        steps = Decimal(int(x / step + Fraction(1, 2)))
        return (steps / 2 if step != 1 else steps).normalize() + 0

    return Range(nearest(mass.low), nearest(mass.high))


def _cautions(cautions: Iterable[Caution]) -> tuple[CautionView, ...]:
    return tuple(CautionView(c.topic or "", c.words.text) for c in cautions)


def _texts(items: Iterable[object]) -> tuple[str, ...]:
    return tuple(str(getattr(item, "markdown", None) or getattr(item, "text", "")) for item in items)


def _jump(start: Fraction, video: str | None, *, hours: bool) -> Jump:
    return Jump(write_clock(start, hours=hours), int(start), _moment(video, int(start)))


def _moment(video: str | None, second: int) -> str | None:
    """Point into the video with a W3C Media Fragment (Media Fragments URI 1.0, 2012, temporal dimension in seconds)."""
    if video is None:
        return None
    return f"{video.split('#', maxsplit=1)[0]}#t={second}"


def _equipment(episode: Episode) -> list[str]:
    if episode.equipment:
        return [w.text for w in episode.equipment]
    named = [w.text for _, e in episode.exercises() for w in e.equipment]
    known = [item for _, e in episode.exercises() if e.match for item in e.match.equipment]
    return list(dict.fromkeys([*named, *known]))


def _muscles(episode: Episode, library: Library) -> list[str]:
    if episode.focus:
        return [w.text for w in episode.focus]
    named = [w.text for _, e in episode.exercises() for w in e.muscles]
    shown = library.muscles
    known = [shown[m].shown for _, e in episode.exercises() if e.match for m in e.match.entry.muscles]
    return list(dict.fromkeys([*named, *known]))


def _first_sentences(episode: Episode, longest: int = 300) -> str:
    """Return the lead's first paragraph as plain words, cut at a sentence's end to fit `longest` characters."""
    paragraph = to_plain(episode.lead[0].markdown).split("\n", maxsplit=1)[0] if episode.lead else ""
    if len(paragraph) <= longest:
        return paragraph
    end = max(paragraph.rfind(mark, 0, longest) for mark in (". ", "! ", "? "))
    return paragraph[: end + 1] if end > 0 else ""


def _joined(items: Iterable[str]) -> str:
    return ", ".join(items)


def _day(day: date | None) -> str:
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}" if day else ""
