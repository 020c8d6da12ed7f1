"""Facts to findings, like an experienced colleague reading the workout: one check, one file, one docstring page.

To add a check: write one file in a family's folder (docstring page, SEVERITY, SAFETY = True where it is one, find) and
add its module to CHECKS. The tests run its Bad and Good examples and compare CHECKS with the folder.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Protocol

from repslate.checks.causes import without_consequences
from repslate.checks.cut import (
    chapter_in_black,
    chapter_off_cut,
    chapter_past_end,
    chapter_short,
    chapters_few,
    chapters_order,
    chapters_start,
    chapters_swapped,
    exercise_not_named,
    exercise_without_chapter,
    film_length_differs,
    frame_rate_differs,
    markers_missing,
)
from repslate.checks.pages import Page, read_page, read_pages
from repslate.checks.prescription import (
    block_order,
    block_size,
    clock_missing,
    contacts_many,
    drop_size,
    effort_off_scale,
    figure_absurd,
    figure_zero,
    focus_differs,
    kit_unlisted,
    load_impossible,
    load_not_listed,
    load_unlikely,
    load_unusual,
    long_stretch_first,
    minute_full,
    nothing_to_do,
    pair_not_opposing,
    promise_broken,
    reps_many,
    reps_unusual,
    rest_contradicts,
    rest_missing,
    rest_unusual,
    rounds_differ,
    sets_missing,
    sets_unusual,
    share_over_whole,
    side_missing,
    tempo_slow,
    turns_unclear,
    versions_swapped,
    words_contradict,
    work_missing,
)
from repslate.checks.publishing import (
    audience_missing,
    caption_over_limit,
    dates_order,
    description_over_limit,
    disclosure_folded,
    exercise_twice,
    hashtags_many,
    length_promised,
    picture_missing,
    picture_outside,
    picture_undescribed,
    picture_unreadable,
    presenter_missing,
    sponsor_hidden,
    sponsor_undisclosed,
    title_long,
    units_differ,
)
from repslate.checks.quiet import Quieted, quieten
from repslate.checks.safety import (
    audience_unsuitable,
    beginner_hazard,
    caution_missing,
    harmful_words,
    no_safety_notice,
    spotter_on_power_lift,
    warm_up_missing,
)
from repslate.checks.speech import (
    exercise_never_spoken_of,
    exercise_not_written,
    said_differs_from_written,
    spoken_caution_not_written,
    spoken_safety_claim_contradicted,
)
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

__all__ = ["CHECKS", "Check", "Page", "name_of", "page", "pages", "run", "table"]


class Check(Protocol):
    """What a check's module holds.

    Besides, `SAFETY = True` where it must not be silenced without a reason, and `MILDER`, the other severities given.
    """

    __name__: str
    __doc__: str | None
    __file__: str | None
    SEVERITY: Severity

    def find(self, facts: Facts) -> Iterator[Finding]:
        """Yield what there is to say."""


CHECKS: tuple[Check, ...] = (
    block_size,
    clock_missing,
    turns_unclear,
    nothing_to_do,
    work_missing,
    sets_missing,
    rounds_differ,
    rest_missing,
    rest_contradicts,
    rest_unusual,
    reps_unusual,
    sets_unusual,
    load_unusual,
    side_missing,
    figure_zero,
    figure_absurd,
    reps_many,
    contacts_many,
    effort_off_scale,
    tempo_slow,
    drop_size,
    load_impossible,
    minute_full,
    long_stretch_first,
    block_order,
    focus_differs,
    words_contradict,
    promise_broken,
    versions_swapped,
    kit_unlisted,
    load_unlikely,
    load_not_listed,
    share_over_whole,
    pair_not_opposing,
    caution_missing,
    spotter_on_power_lift,
    beginner_hazard,
    warm_up_missing,
    harmful_words,
    audience_unsuitable,
    no_safety_notice,
    markers_missing,
    chapters_start,
    chapters_order,
    chapters_swapped,
    chapters_few,
    chapter_short,
    chapter_past_end,
    chapter_off_cut,
    chapter_in_black,
    exercise_without_chapter,
    exercise_not_named,
    film_length_differs,
    frame_rate_differs,
    said_differs_from_written,
    exercise_never_spoken_of,
    exercise_not_written,
    spoken_caution_not_written,
    spoken_safety_claim_contradicted,
    title_long,
    length_promised,
    dates_order,
    units_differ,
    audience_missing,
    presenter_missing,
    exercise_twice,
    picture_missing,
    picture_outside,
    picture_unreadable,
    picture_undescribed,
    sponsor_undisclosed,
    sponsor_hidden,
    disclosure_folded,
    caption_over_limit,
    description_over_limit,
    hashtags_many,
)


def name_of(check: Check) -> str:
    """Return a check's name: its file's name with hyphens."""
    return check.__name__.rpartition(".")[2].replace("_", "-")


def is_safety(check: Check) -> bool:
    """Tell whether a check is about safety, so that silencing it takes a reason."""
    return bool(getattr(check, "SAFETY", False))


def run(facts: Facts, *, read: tuple[Finding, ...] = ()) -> tuple[tuple[Finding, ...], tuple[Quieted, ...]]:
    """Run every check and apply the trainer's quiets; return what stays and what was silenced, each sorted by place.

    `read` are the readers' own findings: they are returned with the rest, in place of what only follows from them, and
    a quiet may silence those that are no errors.
    """
    causes, found = without_consequences(read, [one for check in CHECKS for one in check.find(facts)], facts.episode)
    errors = [finding for finding in causes if finding.severity is Severity.ERROR]
    found = [finding for finding in causes if finding.severity is not Severity.ERROR] + found
    kept, quieted = quieten(
        found,
        facts.episode.quiets,
        known={page.name for page in pages() if page.wrong} if facts.episode.quiets else (),
        safety={name_of(check) for check in CHECKS if is_safety(check)},
    )
    return tuple(sorted(errors + kept, key=_place)), tuple(sorted(quieted, key=lambda pair: _place(pair[0])))


def page(name: str) -> Page | None:
    """Return the page of a finding, or None where nothing is called that."""
    return next((page for page in pages() if page.name == name), None)


def pages() -> Iterator[Page]:
    """Yield every page: the checks in their order, then all other findings by name."""
    for check in CHECKS:
        yield read_page(name_of(check), check.SEVERITY, check.__doc__ or _typed(check), safety=is_safety(check))
    yield from read_pages()


def _typed(check: Check) -> str:
    """Read a check's docstring off its file: Python without docstrings (-OO, PYTHONOPTIMIZE=2) loads none."""
    import ast

    return ast.get_docstring(ast.parse(Path(check.__file__ or "").read_text("utf-8"))) or ""


def table() -> tuple[tuple[str, str, str], ...]:
    """Return (name, severities with the worst first, what it asks) of every check, in order; README prints it."""
    return tuple(
        (page.name, ", ".join((page.severity, *getattr(check, "MILDER", ()))), page.asks)
        for check, page in zip(CHECKS, pages(), strict=False)  # the other findings follow
    )


def _place(finding: Finding) -> tuple[str, int, int, str, str]:
    return finding.span.file, finding.span.line, finding.span.column, finding.check, finding.message
