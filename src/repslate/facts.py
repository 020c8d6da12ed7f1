"""The frozen bundle that every stage after reading gets: one episode and all that is known of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from repslate.model.library import Library, load

if TYPE_CHECKING:  # what no film, cut or talk lies beside is checked without loading what reads them
    from repslate.cut.chapters import Chapter
    from repslate.cut.cue import Cue
    from repslate.cut.edit import Edit
    from repslate.cut.video import Film
    from repslate.model.episode import Episode
    from repslate.model.stills import Trouble
    from repslate.speech.heard import Heard
    from repslate.training.numbers import Numbers


@dataclass(frozen=True, slots=True)
class Facts:
    """An episode, its matched chapters (in file order), and the files in its folder.

    `files` are paths relative to the episode's folder with forward slashes; `inputs` are those that were read, with the
    series' settings. `has_markers` tells an empty chapter file from none. `cues` are the subtitles', in the order of
    the file; `film` is what the cut itself shows near the chapters and `edit` how it is put together, None where no
    such file lies there. `spoilt` are pictures that cannot be shown, by path. `heard` is what the subtitles say, None
    without them. `library` is the one that the episode was read with.
    """

    episode: Episode
    chapters: tuple[Chapter, ...] = ()
    has_markers: bool = False
    files: frozenset[str] = frozenset()
    inputs: tuple[str, ...] = ()
    spoilt: dict[str, Trouble] = field(default_factory=dict)
    cues: tuple[Cue, ...] = ()
    film: Film | None = None
    edit: Edit | None = None
    heard: Heard | None = None
    library: Library = field(default_factory=load, repr=False)

    @property
    def numbers(self) -> Numbers:
        """What the workout asks of a body: seconds, sets per muscle, loads, and kilocalories where the series asks."""
        from repslate.training.numbers import compute  # a check needs none of them

        return compute(self.episode, self.library)
