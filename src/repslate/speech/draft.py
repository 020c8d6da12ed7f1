"""What was heard, written down: a first workout.md and chapters.txt for the trainer to go on with.

Every line rests on words that were said, which stand beside it in a comment with their time. What was not said is a
gap: a comment in the place where `check` asks for it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import floor

from repslate.cut.formats import chapters_txt
from repslate.cut.markers import Marker
from repslate.model.block_heading import BlockHeading, write_heading
from repslate.model.clock import HOUR, write_clock
from repslate.model.episode import Goal, Level
from repslate.model.prescription import write
from repslate.source.span import Span
from repslate.speech.coaching import Advice, coaching, presenter, thought_end
from repslate.speech.discover import UNNAMED
from repslate.speech.heard import Heard, HeardFigure
from repslate.speech.plan import Topic
from repslate.speech.prescribe import DraftedBlock, DraftedExercise, dose
from repslate.speech.words import Word

#: How the fields are called in comments.
_CALLED = {
    "rest_s": "rest", "percent_1rm": "load", "percent_working": "load", "kg": "load", "lb": "load", "rir": "effort",
    "rpe": "effort", "tempo_s": "tempo", "drop_sets": "drops", "seconds": "time", "metres": "distance",
}  # fmt: skip
_TOGETHER = frozenset({"reps", "seconds", "metres", "sets", "rounds"})
_LONGEST_TITLE = 60
_TOLD = 24  # words of an exercise without a name, from which the trainer knows it
_LEAST_OF_A_PHASE = 3  # words of a phase of a tempo that tell what to do: "three seconds down", not "two" (our choice)


@dataclass(frozen=True, slots=True)
class Draft:
    """The texts of workout.md and chapters.txt, and what was not said, each with whose it is ("Goblet squat")."""

    workout: str
    chapters: str
    gaps: tuple[tuple[str, str], ...]


def draft(heard: Heard, *, title: str, source: str) -> Draft:
    """Write what was heard in the file `source`; the `title` is a working one, for nobody says the title of a film."""
    writer = _Writer(heard)
    lines = [*writer.front(title), *writer.preface(source)]
    for block in writer.blocks:
        lines += writer.block(block)
    lines += writer.safety()
    return Draft("\n".join(lines).rstrip("\n") + "\n", writer.chapters(), tuple(writer.gaps))


class _Writer:
    """Writes one talk. The cautions and the coaching of each exercise are found by the turns of the talk."""

    def __init__(self, heard: Heard) -> None:
        self.heard = heard
        self.blocks = dose(heard)
        self.gaps: list[tuple[str, str]] = []
        self.twice = _twice(one.subject.name for block in self.blocks for one in block.exercises)
        self.hours = bool(heard.words) and heard.words[-1].start >= HOUR
        self.taken = _taken(heard)
        self.advice = coaching(heard.words, self.taken)

    # ---- workout.md

    def front(self, title: str) -> Iterator[str]:
        """Yield the front matter: what is not known is a remark that names what may be written."""
        yield "---"
        yield "format: 1"
        yield f"title: {_quoted(title[:_LONGEST_TITLE])}  # gap: a working title, from the name of the folder"
        named = presenter(self.heard.words)
        if named:
            yield f"presenter: {_quoted(named.name)}  # {self._clock(named.time)} {_marks(named.quote)}"
        else:
            yield "# gap: presenter"
        yield f"# gap: goal, one of {', '.join(Goal)}"
        yield f"# gap: level, one of {', '.join(Level)}"
        yield "---"
        self.gaps += [
            ("the workout", what) for what in ("presenter", "goal", "level") if what != "presenter" or not named
        ]

    def preface(self, source: str) -> Iterator[str]:
        """Yield what the trainer has to know of the draft."""
        coarse = " The times are those of a plain transcript's paragraphs, so they are coarse."
        yield f"<!-- A draft of what was said in {_safe(source)}."
        yield "Each remark gives the time in the cut and the words. A gap is what was not said." + (
            coarse if self.heard.coarse else ""
        )
        yield "Look at every line, fill the gaps, delete the remarks when you are done: no output shows them. -->"
        yield ""

    def block(self, block: DraftedBlock) -> Iterator[str]:
        """Yield a block with its exercises."""
        yield f"## {write_heading(block.heading)}"
        yield from self._remarks(block.said, block.aside)
        yield from self._gaps_in(block.gaps, _name(block.heading))
        yield ""
        for caution in () if block.around else self._cautions(block.part, None):
            yield caution
            yield ""
        for exercise in block.exercises:
            yield from self._exercise(block.part, exercise)

    def _exercise(self, part: int, one: DraftedExercise) -> Iterator[str]:
        name, at = one.subject.name, one.at
        yield f"### {name}" + (f" {{{one.subject.id}}}" if name in self.twice else "")
        if line := write(one.prescription):
            yield line
        yield from self._unnamed(part, at, name)
        yield from self._remarks(one.said, one.aside, one.open_ended)
        yield from self._gaps_in(one.gaps, name)
        yield ""
        phases = self._unwritten_tempo(one)
        advice = phases + [
            each
            for each in self._advice(part, at)
            if not any(phase.first <= each.first <= phase.last for phase in phases)
        ]
        if advice:
            yield "Cues:"
            yield from (
                f"- {_sentence(self.heard.words, each.first, each.last)} {self._at(each.time)}" for each in advice
            )
            yield ""
        for caution in self._cautions(part, at):
            yield caution
            yield ""

    def _unnamed(self, part: int, at: int, name: str) -> Iterator[str]:
        """Yield what is said where an exercise begins that nobody names."""
        topic = next((one for one in self.heard.topics if (one.part, one.subject) == (part, at)), None)
        if topic is None or not name.startswith(UNNAMED):
            return
        words = " ".join(word.shown for word in self.heard.words[topic.word : topic.word + _TOLD])
        self.gaps.append((name, "what it is called"))
        yield f"<!-- gap: what it is called; {self._clock(topic.time)}: {_marks(words)} … -->"

    def safety(self) -> Iterator[str]:
        """Yield what was said of safety in the greeting and the goodbye, where it is about the whole workout."""
        said = [one for one in self.heard.cautions if (topic := self._topic(one.first)) is None or topic.part is None]
        if said:
            yield "## Safety"
            yield ""
            for one in said:
                yield f"{_sentence(self.heard.words, one.first, one.last)} {self._at(one.time)}"
                yield ""

    def _remarks(
        self, said: Sequence[HeardFigure], aside: Sequence[HeardFigure], open_ended: str = ""
    ) -> Iterator[str]:
        for group in _breaths(said):
            words = _marks(_quote(self.heard.words, group))
            yield f"<!-- {self._clock(group[0].time)} {_called(group)}: {words} -->"
        if open_ended:
            yield f"<!-- {_marks(open_ended)} -->"
        for figure in aside:
            yield f"<!-- {self._clock(figure.time)} also said, {_called([figure])}: {_marks(figure.quote)} -->"

    def _gaps_in(self, gaps: Iterable[str], whose: str) -> Iterator[str]:
        for gap in gaps:
            self.gaps.append((whose, gap))
            yield f"<!-- gap: {gap} -->"

    def _unwritten_tempo(self, one: DraftedExercise) -> list[Advice]:
        """Return phases of a tempo that are no whole tempo: they stay the trainer's words."""
        if one.prescription.tempo:
            return []
        figures = [figure for figure in one.aside if figure.field == "tempo_s"]
        phases = [_phase(self.heard.words, figure, self.taken) for figure in figures]
        return [phase for phase in phases if phase.last - phase.first >= _LEAST_OF_A_PHASE - 1]

    def _advice(self, part: int, at: int) -> list[Advice]:
        return [one for one in self.advice if self._is_about(one.first, part, at)]

    def _cautions(self, part: int, at: int | None) -> Iterator[str]:
        for one in self.heard.cautions:
            if self._is_about(one.first, part, at):
                topic = f" ({', '.join(one.topics)})" if one.topics else ""
                yield f"Caution{topic}: {_sentence(self.heard.words, one.first, one.last)} {self._at(one.time)}"

    def _is_about(self, word: int, part: int, at: int | None) -> bool:
        topic = self._topic(word)
        if topic is None or topic.part != part:
            return False
        if len(self.heard.plan[part].subjects) == 1:
            return at == 0
        return topic.subject == at

    def _topic(self, word: int) -> Topic | None:
        return next((topic for topic in reversed(self.heard.topics) if topic.word <= word), None)

    # ---- chapters.txt

    def chapters(self) -> str:
        """Return the chapters: a welcome, then where the talk turns to each block and exercise."""
        # what was split off around a block bears the block's name only where nothing else is left of it
        own_last = sorted(self.blocks, key=lambda block: not block.around)
        names = {block.part: _name(block.heading) for block in own_last}
        drafted = {(block.part, one.at) for block in self.blocks for one in block.exercises}
        markers: dict[int, Marker] = {}
        also: list[str] = []
        for topic in self.heard.topics:
            if topic.subject is not None and (topic.part, topic.subject) not in drafted:
                continue
            marker = self._marker(topic, names, first=not markers)
            if marker is None:
                continue
            second = floor(marker.time)
            if second in markers:  # one paragraph of a transcript may hold several
                also.append(f"# also from {self._clock(marker.time)} on: {markers[second].title}")
            markers[second] = marker
        remarks = ["# coarse times, those of a plain transcript's paragraphs"] if self.heard.coarse else []
        remarks += also
        return "".join(f"{line}\n" for line in remarks) + chapters_txt.write(
            [markers[second] for second in sorted(markers)]
        )

    def _marker(self, topic: Topic, names: Mapping[int, str], *, first: bool) -> Marker | None:
        time = Fraction(0) if first else topic.time
        span = Span("chapters.txt")
        if topic.part is None:
            return Marker(time, "Welcome" if first else "Goodbye", None, span)
        if topic.part not in names:
            return None
        if topic.subject is None:
            return Marker(time, names[topic.part], None, span)
        subject = self.heard.plan[topic.part].subjects[topic.subject]
        return Marker(time, subject.name, subject.id if subject.name in self.twice else None, span)

    # ---- words

    def _clock(self, time: Fraction) -> str:
        return write_clock(time, hours=self.hours)

    def _at(self, time: Fraction) -> str:
        return f"<!-- {self._clock(time)} -->"


def _name(heading: BlockHeading) -> str:
    return f"{heading.kind.value} {heading.letter}".rstrip()


def _twice(names: Iterable[str]) -> frozenset[str]:
    return frozenset(name for name, count in Counter(names).items() if count > 1)


def _breaths(figures: Sequence[HeardFigure]) -> Iterator[list[HeardFigure]]:
    """Yield figures that were said in one breath together: "four sets of eight to ten"."""
    group: list[HeardFigure] = []
    for figure in sorted(figures, key=lambda one: one.first):
        joins = group and figure.first - group[-1].last <= 4 and {one.field for one in (*group, figure)} <= _TOGETHER
        if group and not joins:
            yield group
            group = []
        group.append(figure)
    if group:
        yield group


def _called(group: Sequence[HeardFigure]) -> str:
    return " and ".join(dict.fromkeys(_CALLED.get(one.field, one.field) for one in group))


def _quote(words: Sequence[Word], group: Sequence[HeardFigure]) -> str:
    if len(group) == 1:
        return group[0].quote
    last = group[-1].quote
    between = [word.shown for word in words[group[0].first : group[-1].first]]
    return " ".join([*between, last])


def _taken(heard: Heard) -> frozenset[int]:
    """Return the indexes of words that stand in the draft as figures or cautions."""
    figures = {at for one in heard.figures for at in range(one.first, max(one.last, _quoted_to(one)) + 1)}
    return frozenset(figures | {at for one in heard.cautions for at in range(one.first, one.last + 1)})


def _quoted_to(figure: HeardFigure) -> int:
    """Return the last word of a figure's quotation; signs that stand close to figures make it end early at worst."""
    return figure.first + len(figure.quote.split()) - 1


def _phase(words: Sequence[Word], figure: HeardFigure, taken: Collection[int]) -> Advice:
    """Return the words of one phase of a tempo: "three seconds on the way down"."""
    last = max(figure.last, _quoted_to(figure))
    return Advice(figure.time, figure.first, thought_end(words, last, taken))


def _sentence(words: Sequence[Word], first: int, last: int) -> str:
    """Return words as a sentence: as the cues show them, with the stops that people put into subtitles."""
    parts = []
    for at in range(first, last + 1):
        word = words[at]
        mark = "" if at == last else "." if word.ends else "," if word.breaks else ""
        begins = at == first or words[at - 1].ends
        parts.append((word.shown[:1].upper() + word.shown[1:] if begins else word.shown) + mark)
    return _safe(" ".join(parts)).rstrip(" ,.") + "."


def _marks(text: str) -> str:
    return f"“{_safe(text)}”"


def _safe(text: str) -> str:
    """Return a text that ends no comment and is no Markdown of its own."""
    return text.replace("--", "–").replace("<", "‹").replace(">", "›").replace("*", "").replace("_", " ")


def _quoted(text: str) -> str:
    """Return a text as YAML reads it back."""
    return '"' + "".join("'" if character in '"\\' else character for character in text) + '"'
