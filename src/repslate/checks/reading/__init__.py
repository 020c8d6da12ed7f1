"""Pages of the findings that readers and quiets give: the parts of a page as text, since no check stands behind them.

One file a source; a test finds every name that a reader uses and asks for its page here.
"""

from __future__ import annotations

from repslate.checks.reading import chapters, exercises, files, notation, outline, quiets, settings

PAGES = files.PAGES | settings.PAGES | outline.PAGES | exercises.PAGES | notation.PAGES | chapters.PAGES | quiets.PAGES
