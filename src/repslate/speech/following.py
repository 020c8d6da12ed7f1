"""Where talk about a written plan turns to each of its exercises: by its chapters, else as they are named in order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from repslate.cut.chapters import Chapter
from repslate.speech.blocks import goodbye
from repslate.speech.mentions import Mention
from repslate.speech.plan import Part, Topic
from repslate.speech.topics import Turn, Turns
from repslate.speech.words import Word

_SURE = 3.0  # weight that an exercise of the plan has beyond one of the whole library (this and the next four: tried)
_LEAST = -2.0  # weight of a turn to an exercise of the plan
_FIRST_TOLD = 4  # words that tell how a movement is done, in a stretch that may turn to one nobody names
_DOSED_WITHIN = 60  # words after a pause
_SETTLED = 20  # seconds for which an exercise is talked of at the least
_SOON = 5  # seconds within which a block and its first exercise begin together
_TITLED_WITHIN = 40  # words after a chapter's start in which its exercise is named

_Place = tuple[int, int]  # index of the block, index of the exercise in it


def by_chapters(
    words: Sequence[Word], plan: Sequence[Part], chapters: Sequence[Chapter], mentions: Sequence[Mention]
) -> Iterator[Topic]:
    """Yield a turn for each chapter; where its title leaves open what it shows, what is named then or comes next."""
    where = {subject.id: (p, s) for p, part in enumerate(plan) for s, subject in enumerate(part.subjects)}
    before: _Place = (-1, -1)
    for chapter in sorted(chapters, key=lambda one: one.start):
        first = next((k for k, word in enumerate(words) if word.start >= chapter.start), len(words))
        place = where.get(chapter.exercise or "")
        if place is None and chapter.block is None and chapter.may_show:
            named = {name for one in mentions if 0 <= one.first - first < _TITLED_WITHIN for name in one.names}
            able = sorted(where[one] for one in (chapter.may_show & named or chapter.may_show) if one in where)
            place = next((one for one in able if one > before), None)
        before = place or before
        part, subject = place or (chapter.block, None)
        yield Topic(first, chapter.start, part, subject, chapter.title)


def in_order(turns: Turns, weighed: Sequence[Turn], plan: Sequence[Part]) -> Iterator[Topic]:
    """Yield a turn to each exercise of the plan: of all mentions that stand in its order the weightiest row of them."""
    places = [(p, s) for p, part in enumerate(plan) for s in range(len(part.subjects))]
    chosen = _filled(turns, _row(weighed, places, plan), places)
    before = -1
    for (p, s), word, last in chosen:
        pause = turns.after_pause(word)
        apart = turns.words[word].start - turns.words[pause].start > _SOON
        if s == 0 and before < pause < word and apart:
            yield Topic(pause, turns.words[pause].start, p, None, plan[p].name)
        yield Topic(word, turns.words[word].start, p, s, plan[p].subjects[s].name)
        before = last
    if chosen and (wrap := goodbye(turns, before)) is not None:
        yield Topic(wrap, turns.words[wrap].start, None, None)


def _row(weighed: Sequence[Turn], places: Sequence[_Place], plan: Sequence[Part]) -> dict[_Place, Turn]:
    """Return a turn for each exercise that has one: both in order, and their weights the most together."""
    able = [turn for turn in weighed if turn.score >= _LEAST]
    # best[k]: the weight of the best row among the first k turns, and its last link (a linked list, newest first)
    best: list[tuple[float, _Link | None]] = [(0.0, None)] * (len(able) + 1)
    for place in places:
        key = plan[place[0]].subjects[place[1]].id
        row: list[tuple[float, _Link | None]] = [best[0]]
        for k, turn in enumerate(able, 1):
            taken = (best[k - 1][0] + turn.score + _SURE, (place, turn, best[k - 1][1]))
            with_this = taken if key in turn.mention.names else best[k]
            row.append(max(row[-1], best[k], with_this, key=lambda one: one[0]))
        best = row
    found: dict[_Place, Turn] = {}
    link = best[-1][1]
    while link:
        found[link[0]] = link[1]
        link = link[2]
    return found


_Link = tuple[_Place, Turn, "_Link | None"]


def _filled(turns: Turns, found: dict[_Place, Turn], places: Sequence[_Place]) -> list[tuple[_Place, int, int]]:
    """Return the turns in order, with their word and the last of their name; one nobody names begins at a pause."""
    chosen: list[tuple[_Place, int, int]] = []
    for index, place in enumerate(places):
        if turn := found.get(place):
            chosen.append((place, turn.start, turn.mention.last))
            continue
        later = next((found[one].start for one in places[index + 1 :] if one in found), len(turns.texts))
        since = chosen[-1][2] if chosen else 0
        if (start := _unnamed(turns, since, later)) is not None:
            chosen.append((place, start, start))
    return chosen


def _unnamed(turns: Turns, since: int, until: int) -> int | None:
    """Return the first pause of a stretch after which a movement is told and dosed, None where there is none."""
    for end in turns.ends:
        start = end + 1
        settled = start < until and turns.words[start].start - turns.words[since].start >= _SETTLED
        if (
            since < start
            and settled
            and turns.told(start, until) >= _FIRST_TOLD
            and turns.is_dosed(start, min(_DOSED_WITHIN, until - start))
        ):
            return start
    return None
