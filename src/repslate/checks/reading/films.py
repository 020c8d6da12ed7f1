"""Pages of what is found in the film itself."""

from __future__ import annotations

from repslate.source.finding import Severity

PAGES = {
    "film-unreadable": (
        Severity.WARNING,
        """
        The film of the cut can be read near every chapter.

        Why: where no picture comes out, nobody can tell whether a chapter sits on the cut. Publishing goes on.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            cut.mp4:
            this is a note, not a film
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            cut.mp4:
            ⟨a film of 5:00 at 25 fps, shots at 1:10⟩
        Mend: export the film again as H.264 in an MP4 file, and wait until it is copied whole.
        """,
    ),
}
