"""A published page, read as a browser shows it: its visible text in pieces, and apart from that what machines read."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field
from itertools import pairwise

from repslate.proof.reading import Datum, Document, Excess, Link, Piece, Place, Role, seen, too_many
from repslate.proof.seen import DEEPEST, INLINE, VOID, Sight, Sights, closed_by, sights
from repslate.proof.tags import Lines, Tag, Text, cut

_UNREAD = frozenset({"style", "script", "template", "noscript"})
_CELLS = frozenset({"td", "th"})
_HEADING = re.compile("h([1-6])")
_AROUND = frozenset("nav aside footer form button dialog".split())
_AROUND_NAMES = frozenset(
    "nav navigation menu breadcrumb breadcrumbs related footer sidebar cookie cookies share sharing social comment "
    "comments toc newsletter subscribe banner masthead widget tags pagination search contentinfo complementary".split()
)  # in the names of classes, as websites have them (our choice)
_ALONE = frozenset({"data-at", "data-from"})
LINE = "data-line"  # an attribute: the line of a Markdown source
BOX = "box"  # the name of a datum: an element that lies over others
_JSON_LD = "application/ld+json"
_MOST = 200_000  # tags, lines and references; a page of 120 exercises has a tenth of that
_LONGEST_DATA = 500_000  # characters of one piece of structured data
_LONGEST_SCRIPT = 5_000  # characters of a script that are looked at
_TAIL = 500  # characters of a paragraph that tell whether a link stands at its end


def read_html(
    name: str, data: bytes, *, styled: bool = True, ours: bool = False, of_markdown: bool = False
) -> Document:
    """Read a page; bytes that are no UTF-8 are shown as a browser would, with the replacement character.

    Without `styled` nothing is said of what its style sheets hide; of a page that is `ours`, made just now by our own
    template, nothing at all, since it hides nothing. One made `of_markdown` tells in LINE where its elements stood.
    """
    text = data.decode("utf-8", "replace").removeprefix("\ufeff")
    for sign, what in (("<", "tags"), ("&", "character references"), ("\n", "lines")):
        if (count := text.count(sign)) > _MOST:
            return Document(name, (), unread=(f"{count:,} {what}", f"at most {_MOST:,}"))
    parts = list(cut(text))
    page = _Page(name, text, Sights() if ours else sights(parts, styled=styled), of_markdown=of_markdown)
    for part in parts:
        page.take(part)
        if page.unread:
            break
    page.flush()
    return Document(name, tuple(page.pieces), tuple(page.links), tuple(page.data), page.ids, page.unread)


@dataclass(slots=True)
class _Open:
    """An open element, and whether the text right in it is seen."""

    tag: str
    sight: Sight
    around: bool
    after: str = ""  # the words that a style sheet puts behind what is in it


@dataclass(slots=True)
class _Anchor:
    address: str
    place: Place
    words: list[str] = field(default_factory=list)


def _is_around(tag: str, given: dict[str, str]) -> bool:
    named = re.split(r"[\W_]+", f"{given.get('class', '')} {given.get('id', '')} {given.get('role', '')}".lower())
    return tag in _AROUND or not _AROUND_NAMES.isdisjoint(named)


class _Page:
    """Collects pieces from tags and texts; one that is not closed is closed by the next block."""

    def __init__(self, name: str, text: str, seen: Sights, *, of_markdown: bool) -> None:
        self.name = name
        self.seen = seen
        self.tags = 0  # start tags so far
        self.lines = Lines(text)
        self.at = 0
        self.line = 1 if of_markdown else None
        self.unread: Excess | None = None
        self.over: Excess | None = None
        self.pieces: list[Piece] = []
        self.links: list[Link] = []
        self.data: list[Datum] = []
        self.ids: dict[str, int] = {}
        self.stack: list[_Open] = []
        self.open: Counter[str] = Counter()  # the tags of the stack
        self.text: list[str] = []
        self.sure: list[str] = []  # of it what everybody sees
        self.tail = ""  # the end of that text
        self.cells: list[int] = []
        self.start: Place | None = None
        self.anchor: _Anchor | None = None
        self.script: str | None = None

    def take(self, part: Tag | Text) -> None:
        """Take what comes next on the page."""
        self.at = part.at
        if isinstance(part, Text):
            self._words(part.words)
        elif part.is_end:
            self._end(part.name)
        else:
            self._begin(part.name, part.attributes)
            if part.is_empty and (self.open["svg"] or self.open["math"]):
                self._end(part.name)
        self.unread = self.over or too_many(len(self.pieces), len(self.links) + len(self.data) + len(self.ids))
        if len(self.stack) > DEEPEST:
            self.unread = f"elements more than {DEEPEST} deep within each other", "fewer"

    def place(self) -> Place:
        return self._at(self.at)

    def _at(self, at: int) -> Place:
        return Place(self.name, *self.lines.place(at)) if self.line is None else Place(self.name, self.line)

    def _begin(self, tag: str, given: dict[str, str]) -> None:
        if tag not in INLINE or (tag == "a" and self._is_separate()):
            self.flush()
        elif tag in _CELLS or tag == "br":
            if tag in _CELLS:
                self.cells.append(len(self.text))
            self._say(" ")
        if self.line is not None and given.get(LINE, "").isdecimal():
            self.line = int(given[LINE][:7])
        self._implied_end(tag)
        self._attributes(tag, given)
        if tag == "script" and given.get("type") == _JSON_LD:
            self.script = ""
        elif tag == "script" and "src" in given:
            self.data.append(Datum("script", given["src"], self.place(), len(self.pieces)))
        at, self.tags = self.tags, self.tags + 1
        sight = self.seen.seen[at] if at < len(self.seen.seen) else Sight.SHOWN
        around = _is_around(tag, given) or bool(self.stack and self.stack[-1].around)
        before, after = self.seen.put.get(at, ("", ""))
        if at in self.seen.boxes and not around:
            self.data.append(Datum(BOX, tag, self.place(), len(self.pieces)))
        if tag not in VOID:
            self.stack.append(_Open(tag, sight, around, after))
            self.open[tag] += 1
        self._put(before)

    def _put(self, words: str) -> None:
        """Add words that a style sheet puts on the page."""
        if words:
            self.start = self.start or self.place()
            self._say(words)

    def _close(self) -> _Open:
        """Close the innermost element."""
        one = self.stack[-1]
        if one.after:
            self._put(one.after)
            if one.tag not in INLINE:
                self.flush()
        self.stack.pop()
        self.open[one.tag] -= 1
        return one

    def _end(self, tag: str) -> None:
        if tag not in INLINE and not (self.stack and self.stack[-1].tag == tag and self.stack[-1].after):
            self.flush()
        if tag == "a" and self.anchor:
            words = " ".join("".join(self.anchor.words).split())
            self.links.append(Link(self.anchor.address, words, self.anchor.place, len(self.pieces)))
            self.anchor = None
        if self.open[tag]:
            while self._close().tag != tag:
                pass

    def _words(self, data: str) -> None:
        if self.stack and self.stack[-1].tag in _UNREAD:
            if self.script is not None:
                if len(data) > _LONGEST_DATA:
                    self.over = f"{len(data):,} characters of structured data", f"at most {_LONGEST_DATA:,}"
                    return
                self.data.append(Datum(_JSON_LD, data, self.place()))
                self.script = None
            elif self.stack[-1].tag == "script":
                self.data.append(Datum("script", data[:_LONGEST_SCRIPT], self.place(), len(self.pieces)))
            return
        sight = self.stack[-1].sight if self.stack else Sight.SHOWN
        if sight is Sight.HIDDEN and not self._is_hidden():
            return  # words taken out of a paragraph that is seen
        if data.strip() and self.start is None:
            self.start = self._skipped(data)
        self._say(data, sight)
        if self.anchor:
            self.anchor.words.append(data)

    def _say(self, data: str, sight: Sight = Sight.SHOWN) -> None:
        self.text.append(data)
        if sight is not Sight.SOMETIMES:
            self.sure.append(data)
        if data.strip() or not self.tail.endswith(" "):
            self.tail = (self.tail + (data[-_TAIL:] if data.strip() else " "))[-_TAIL:]

    def flush(self) -> None:
        """End the piece that is being read."""
        text = seen("".join(self.text))
        if text and self.start:
            role, level = self._role()
            around = bool(self.stack and self.stack[-1].around)
            if role is Role.HIDDEN and self.open["head"]:
                self.data.append(Datum("title", text, self.start, len(self.pieces)))
            else:
                cells = self._parted() if role is Role.ROW else ()
                self.pieces.append(Piece(text, self.start, role, level, seen("".join(self.sure)), cells, around))
        self.text, self.sure, self.cells, self.tail, self.start = [], [], [], "", None

    def _parted(self) -> tuple[str, ...]:
        """Return the cells of the row that is being read, empty ones left out."""
        ends = [*self.cells, len(self.text)]
        cells = (seen("".join(self.text[start:end])) for start, end in pairwise(ends))
        return tuple(filter(None, cells))

    def _skipped(self, data: str) -> Place:
        """Return where the first letter of a run of text stands, or of the reference that gives it."""
        blank = len(data) - len(data.lstrip())
        return self._at(self.at + blank)

    def _is_separate(self) -> bool:
        """Tell whether the links of a paragraph follow each other without a word between, as buttons do."""
        return (
            bool(self.links)
            and self.links[-1].piece == len(self.pieces)
            and self.tail.rstrip().endswith(self.links[-1].words)
        )

    def _implied_end(self, tag: str) -> None:
        """Close what this element's start closes: paragraphs before blocks, items before items, cells before cells."""
        closes = closed_by(tag)
        while self.stack and self.stack[-1].tag in closes:
            self._close()

    def _attributes(self, tag: str, given: dict[str, str]) -> None:
        here, at = self.place(), len(self.pieces)
        if "id" in given:
            self.ids.setdefault(given["id"], at)
        if tag == "meta":
            self.data.append(Datum(given.get("property") or given.get("name", ""), given.get("content", ""), here, at))
        elif tag == "link":
            self.data.append(Datum(given.get("rel", ""), given.get("href", ""), here, at))
        elif tag == "a" and "href" in given:
            self.anchor = _Anchor(given["href"], here)
        elif tag == "img" and given.get("alt"):
            self.flush()
            self.pieces.append(Piece(given["alt"], here, Role.ALT))
        for key, value in given.items():
            if key in _ALONE:
                self.data.append(Datum(key, value, here, at))
            elif key in ("aria-label", "title") and value and tag != "svg":
                self.pieces.append(Piece(value, here, Role.LABEL))

    def _is_hidden(self) -> bool:
        """Tell whether the block that is being read is hidden, not only words of it."""
        block = next((one for one in reversed(self.stack) if one.tag not in INLINE), None)
        return block is not None and block.sight is Sight.HIDDEN

    def _role(self) -> tuple[Role, int]:
        tags = [one.tag for one in self.stack]
        if "svg" in tags:
            return Role.DRAWING, 0
        if self._is_hidden() or "head" in tags:
            return Role.HIDDEN, 0
        for tag in reversed(tags):
            if heading := _HEADING.fullmatch(tag):
                return Role.HEADING, int(heading[1])
            if tag in ("tr", "li", "dt", "dd", "p", "caption"):
                inner = "li" if tag == "p" and "li" in tags else tag
                return {"tr": Role.ROW, "li": Role.ITEM, "caption": Role.CAPTION}.get(inner, Role.TEXT), 0
        return Role.TEXT, 0
