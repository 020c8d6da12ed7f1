"""Everything heard in an episode's subtitles: which figures, of which exercise or block, in which words and when.

Puts together what the other modules of this stage find; the checks, the draft and the commands ask here alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from repslate.cut.chapters import Chapter
from repslate.cut.cue import Cue
from repslate.model.episode import Episode
from repslate.model.library import Library
from repslate.speech.cautions import SpokenCaution, spoken_cautions
from repslate.speech.discover import discover, follow
from repslate.speech.figures import Figure, hear
from repslate.speech.grammar import grammar
from repslate.speech.owner import HeardFigure, Listener, OpenEnded
from repslate.speech.plan import Part, Topic, plan_of
from repslate.speech.words import Word, read_words

__all__ = ["Heard", "HeardFigure", "OpenEnded", "listen"]


@dataclass(frozen=True, slots=True)
class Heard:
    """What was heard: the words, the plan they are about (written, or gathered from the talk), its turns, figures.

    `said` are the figures before the plan settled them.

    `coarse` tells that the times are those of a plain transcript, good to some seconds.
    """

    words: tuple[Word, ...]
    plan: tuple[Part, ...]
    topics: tuple[Topic, ...]
    figures: tuple[HeardFigure, ...]
    said: tuple[Figure, ...] = ()
    open_ended: tuple[OpenEnded, ...] = ()
    cautions: tuple[SpokenCaution, ...] = ()
    coarse: bool = False


def listen(
    cues: Sequence[Cue],
    library: Library,
    episode: Episode | None = None,
    chapters: Sequence[Chapter] = (),
    *,
    coarse: bool = False,
) -> Heard:
    """Return what is heard in subtitles; an episode and its chapters, where there are any, tell whose figures are."""
    words = read_words(cues)
    said = hear(words, grammar(library))
    if episode is not None and episode.blocks:
        plan = plan_of(episode)
        topics = follow(words, plan, chapters, said)
    else:
        plan, topics = discover(words, library, said)
    listener = Listener(words, plan, topics)
    figures = tuple(filter(None, map(listener.place, said)))
    open_ended = tuple(listener.open_ended())
    return Heard(words, plan, topics, figures, said, open_ended, spoken_cautions(words), coarse=coarse)
