"""Published bytes read back and held against the episode, with code that shares nothing with what published them.

To add an output: name its reader in READERS, and what it must say in the rules of its kind. A test refuses an output
that nothing reads back.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import partial
from types import MappingProxyType

from repslate.facts import Facts
from repslate.proof.card import compare_card
from repslate.proof.chapter_files import Marks, read_ffmetadata, read_list, read_webvtt
from repslate.proof.chapter_times import compare_marks
from repslate.proof.cut_page import compare_cut_page
from repslate.proof.differences import Disagreement
from repslate.proof.expected import Expected, expect
from repslate.proof.html import read_html
from repslate.proof.left_out import left_out
from repslate.proof.markdown import read_markdown
from repslate.proof.pdf import read_own_pdf, read_pdf
from repslate.proof.picture import compare_picture
from repslate.proof.posts import read_text
from repslate.proof.reading import Document
from repslate.proof.verdict import Made, Verdicts, judge
from repslate.proof.workout import ARTICLE, CAPTION, DESCRIPTION, PAGE, Rules, compare_workout
from repslate.source.finding import Finding

Audit = Callable[[str, bytes, Expected, Made], Iterator[Disagreement]]


def _workout(read: Callable[[str, bytes], Document], rules: Rules) -> Audit:
    return lambda name, data, expected, _made: compare_workout(read(name, data), expected, rules)


def _page(name: str, data: bytes, expected: Expected, made: Made) -> Iterator[Disagreement]:
    """Hold the article against the episode; our own style sheet hides nothing, as its tests see, so it is not asked."""
    ours = made.fresh and not made.own
    document = read_html(name, data, ours=ours)
    yield from compare_workout(document, expected, PAGE)
    if made.own:
        yield from left_out(document, expected)


def _card(name: str, data: bytes, expected: Expected, made: Made) -> Iterator[Disagreement]:
    yield from compare_card(name, data, expected, read=partial(read_own_pdf, looked=False) if made.here else read_pdf)


def _chapters(read: Callable[[str, bytes], Marks], per_second: int) -> Audit:
    def compare(name: str, data: bytes, expected: Expected, _made: Made) -> Iterator[Disagreement]:
        marks, unread = read(name, data)
        yield from unread
        yield from compare_marks(name, marks, expected.chapters, per_second=per_second)

    return compare


#: How each published file is read back, by its name; "{slug}" stands for the episode's.
READERS: Mapping[str, Audit] = MappingProxyType(
    {
        "article.html": _page,
        "article.md": _workout(read_markdown, ARTICLE),
        "card-a4.pdf": _card,
        "card-letter.pdf": _card,
        "chapters.txt": _chapters(read_list, 1),
        "chapters.vtt": _chapters(read_webvtt, 1000),
        "chapters.ffmeta": _chapters(read_ffmetadata, 1000),
        "description.txt": _workout(read_text, DESCRIPTION),
        "caption.txt": _workout(read_text, CAPTION),
        "{slug}.jpg": lambda name, data, expected, _made: compare_picture(name, data, expected),
        "cut.html": lambda name, data, expected, _made: compare_cut_page(read_html(name, data, styled=False), expected),
    }
)


def audit(facts: Facts, files: Mapping[str, bytes], made: Mapping[str, Made] = MappingProxyType({})) -> Verdicts:
    """Hold published files, by their names in the output folder, against the episode; no verdict where all agree.

    `made` says how each came to be; one that it does not name has been changed by hand. Names that no reader knows are
    passed over. The findings' places are in the published files.
    """
    return _judged(expect(facts), files, made)


def audit_against(expected: Expected, files: Mapping[str, bytes], *, here: bool = False) -> tuple[Finding, ...]:
    """Hold published files against what `expect` says of an episode, where many are audited; `here` as in Made."""
    return tuple(verdict.finding for verdict in _judged(expected, files, dict.fromkeys(files, Made(here=here))).all)


def _judged(expected: Expected, files: Mapping[str, bytes], made: Mapping[str, Made]) -> Verdicts:
    readers = {name.format(slug=expected.episode.slug): reader for name, reader in READERS.items()}
    known = (name for name in files if name in readers)
    found = ((name, readers[name](name, files[name], expected, made.get(name, Made()))) for name in known)
    verdicts = judge(found, made)
    verdicts.all = [replace(one, source=one.source or expected.near(one.finding.message)) for one in verdicts.all]
    return verdicts
