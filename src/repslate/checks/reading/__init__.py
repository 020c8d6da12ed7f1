"""Pages of the findings that readers and quiets give: the parts of a page as text, since no check stands behind them.

One file a source; a test finds every name that a reader uses and asks for its page here.
"""

from __future__ import annotations

from repslate.checks.reading import (
    chapters,
    cut_files,
    edits,
    exercises,
    files,
    films,
    notation,
    outline,
    quiets,
    settings,
    subtitles,
)

PAGES = (
    files.PAGES
    | settings.PAGES
    | outline.PAGES
    | exercises.PAGES
    | notation.PAGES
    | chapters.PAGES
    | cut_files.PAGES
    | edits.PAGES
    | subtitles.PAGES
    | films.PAGES
    | quiets.PAGES
)
