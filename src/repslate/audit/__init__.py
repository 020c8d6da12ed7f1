"""Published bytes read back and held against the episode, with code that shares nothing with what published them.

To add an output: name its reader in READERS, and what it must say in the rules of its kind. A test refuses an output
that nothing reads back.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial
from types import MappingProxyType

from repslate.audit.card import compare_card
from repslate.audit.chapter_files import Marks, read_ffmetadata, read_list, read_webvtt
from repslate.audit.claims import Disagreement
from repslate.audit.copies import Copy, compare_copy
from repslate.audit.cut_page import compare_cut_page
from repslate.audit.expected import Expected, expect
from repslate.audit.html import read_html
from repslate.audit.markdown import read_markdown
from repslate.audit.marks import compare_marks
from repslate.audit.pdf import read_own_pdf
from repslate.audit.picture import compare_picture
from repslate.audit.posts import read_text
from repslate.audit.reading import Document
from repslate.audit.workout import ARTICLE, CAPTION, DESCRIPTION, PAGE, Rules, compare_workout
from repslate.facts import Facts
from repslate.source.finding import Finding

Audit = Callable[[str, bytes, Expected], Iterator[Disagreement]]


def _workout(read: Callable[[str, bytes], Document], rules: Rules) -> Audit:
    return lambda name, data, expected: compare_workout(read(name, data), expected, rules)


def _chapters(read: Callable[[str, bytes], Marks], per_second: int) -> Audit:
    def compare(name: str, data: bytes, expected: Expected) -> Iterator[Disagreement]:
        marks, unread = read(name, data)
        yield from unread
        yield from compare_marks(name, marks, expected.chapters, per_second=per_second)

    return compare


#: How each published file is read back, by its name; "{slug}" stands for the episode's.
READERS: Mapping[str, Audit] = MappingProxyType(
    {
        "article.html": _workout(read_html, PAGE),
        "article.md": _workout(read_markdown, ARTICLE),
        "card-a4.pdf": compare_card,
        "card-letter.pdf": compare_card,
        "chapters.txt": _chapters(read_list, 1),
        "chapters.vtt": _chapters(read_webvtt, 1000),
        "chapters.ffmeta": _chapters(read_ffmetadata, 1000),
        "description.txt": _workout(read_text, DESCRIPTION),
        "caption.txt": _workout(read_text, CAPTION),
        "{slug}.jpg": compare_picture,
        "cut.html": lambda name, data, expected: compare_cut_page(read_html(name, data), expected),
    }
)


def audit(facts: Facts, files: Mapping[str, bytes], *, fresh: bool = False) -> tuple[Finding, ...]:
    """Hold published files, by their names in the output folder, against the episode; () where all agree.

    Names that no reader knows are passed over. The findings' places are in the published files. `fresh` ones were made
    in this process by templates that are ours; anything else may be built to be costly to read.
    """
    return audit_against(expect(facts), files, fresh=fresh)


def audit_against(expected: Expected, files: Mapping[str, bytes], *, fresh: bool = False) -> tuple[Finding, ...]:
    """Hold published files against what `expect` says of an episode, where many are audited."""
    readers = {name.format(slug=expected.episode.slug): reader for name, reader in READERS.items()}
    if fresh:
        own = partial(compare_card, read=read_own_pdf)
        readers = {name: own if reader is compare_card else reader for name, reader in readers.items()}
    found = (
        one.finding() for name, data in files.items() if name in readers for one in readers[name](name, data, expected)
    )
    return tuple(dict.fromkeys(found))


def audit_copy(facts: Facts, name: str, data: bytes, kind: Copy) -> tuple[Finding, ...]:
    """Hold a text that was copied back from where it was published against the episode; `name` is its file's."""
    return tuple(dict.fromkeys(one.finding() for one in compare_copy(name, data, kind, expect(facts))))
