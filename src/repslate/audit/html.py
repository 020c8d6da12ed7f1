"""A published page, read as a browser shows it: its visible text in pieces, and apart from that what machines read."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field

from repslate.audit.reading import Datum, Document, Excess, Link, Piece, Place, Role, too_many
from repslate.audit.tags import Lines, Tag, Text, cut

_VOID = frozenset("area base br col embed hr img input link meta source track wbr".split())
_UNREAD = frozenset({"style", "script", "template", "noscript"})
_INLINE = frozenset(
    "a abbr b bdi bdo br button cite code data dfn em i img input kbd label mark q s samp small span strong sub sup "
    "td th time u var wbr".split()
)
_CELLS = frozenset({"td", "th"})
_DRAWN = frozenset({"text", "title", "desc"})
_HEADING = re.compile("h([1-6])")
_UNSEEN = re.compile(r"display\s*:\s*none|visibility\s*:\s*hidden", re.IGNORECASE)
_ALONE = frozenset({"data-at", "data-from"})
_JSON_LD = "application/ld+json"
_DEEPEST = 256  # elements within each other; our pages come to fifteen, websites to fifty
_MOST = 200_000  # tags, lines and references; a page of 120 exercises has a tenth of that
_LONGEST_DATA = 500_000  # characters of one piece of structured data
_TAIL = 500  # characters of a paragraph that tell whether a link stands at its end


def read_html(name: str, data: bytes) -> Document:
    """Read a page; bytes that are no UTF-8 are shown as a browser would, with the replacement character."""
    text = data.decode("utf-8", "replace").removeprefix("\ufeff")
    for sign, what in (("<", "tags"), ("&", "character references"), ("\n", "lines")):
        if (count := text.count(sign)) > _MOST:
            return Document(name, (), unread=(f"{count:,} {what}", f"at most {_MOST:,}"))
    page = _Page(name, text)
    for part in cut(text):
        page.take(part)
        if page.unread:
            break
    page.flush()
    return Document(name, tuple(page.pieces), tuple(page.links), tuple(page.data), page.ids, page.unread)


@dataclass(slots=True)
class _Open:
    """An open element: whether it hides what is in it, and where its text begins."""

    tag: str
    hides: bool


@dataclass(slots=True)
class _Anchor:
    address: str
    place: Place
    words: list[str] = field(default_factory=list)


class _Page:
    """Collects pieces from tags and texts; one that is not closed is closed by the next block."""

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.lines = Lines(text)
        self.at = 0
        self.unread: Excess | None = None
        self.over: Excess | None = None
        self.pieces: list[Piece] = []
        self.links: list[Link] = []
        self.data: list[Datum] = []
        self.ids: dict[str, int] = {}
        self.stack: list[_Open] = []
        self.open: Counter[str] = Counter()  # the tags of the stack
        self.taken_out = 0  # how many of the stack take words out of a paragraph that is seen
        self.text: list[str] = []
        self.tail = ""  # the end of that text
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
        if len(self.stack) > _DEEPEST:
            self.unread = f"elements more than {_DEEPEST} deep within each other", "fewer"

    def place(self) -> Place:
        return Place(self.name, *self.lines.place(self.at))

    def _begin(self, tag: str, given: dict[str, str]) -> None:
        if tag not in _INLINE or (tag == "a" and self._is_separate()):
            self.flush()
        elif tag in _CELLS or tag == "br":
            self._say(" ")
        self._implied_end(tag)
        self._attributes(tag, given)
        if tag == "script" and given.get("type") == _JSON_LD:
            self.script = ""
        if tag not in _VOID:
            hides = "hidden" in given or bool(_UNSEEN.search(given.get("style", "")))
            self.stack.append(_Open(tag, hides))
            self.open[tag] += 1
            self.taken_out += hides and tag in _INLINE

    def _close(self) -> _Open:
        """Close the innermost element."""
        one = self.stack.pop()
        self.open[one.tag] -= 1
        self.taken_out -= one.hides and one.tag in _INLINE
        return one

    def _end(self, tag: str) -> None:
        if tag not in _INLINE:
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
            return
        if self.taken_out:
            return
        if data.strip() and self.start is None:
            self.start = self._skipped(data)
        self._say(data)
        if self.anchor:
            self.anchor.words.append(data)

    def _say(self, data: str) -> None:
        self.text.append(data)
        if data.strip() or not self.tail.endswith(" "):
            self.tail = (self.tail + (data[-_TAIL:] if data.strip() else " "))[-_TAIL:]

    def flush(self) -> None:
        """End the piece that is being read."""
        text = " ".join("".join(self.text).split())
        if text and self.start:
            role, level = self._role()
            if role is Role.HIDDEN and self.open["head"]:
                self.data.append(Datum("title", text, self.start, len(self.pieces)))
            else:
                self.pieces.append(Piece(text, self.start, role, level))
        self.text, self.tail, self.start = [], "", None

    def _skipped(self, data: str) -> Place:
        """Return where the first letter of a run of text stands, or of the reference that gives it."""
        blank = len(data) - len(data.lstrip())
        return Place(self.name, *self.lines.place(self.at + blank))

    def _is_separate(self) -> bool:
        """Tell whether the links of a paragraph follow each other without a word between, as buttons do."""
        return (
            bool(self.links)
            and self.links[-1].piece == len(self.pieces)
            and self.tail.rstrip().endswith(self.links[-1].words)
        )

    def _implied_end(self, tag: str) -> None:
        """Close what this element's start closes: paragraphs before blocks, items before items, cells before cells."""
        closes = {"p"} if tag not in _INLINE else set()
        closes |= {"li": {"li"}, "dt": {"dt", "dd"}, "dd": {"dt", "dd"}, "tr": {"td", "th", "tr"}}.get(tag, set())
        closes |= {"td": {"td", "th"}, "th": {"td", "th"}}.get(tag, set())
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

    def _role(self) -> tuple[Role, int]:
        tags = [one.tag for one in self.stack]
        if "svg" in tags:
            return Role.DRAWING, 0
        if any(one.hides for one in self.stack) or "head" in tags:
            return Role.HIDDEN, 0
        for tag in reversed(tags):
            if heading := _HEADING.fullmatch(tag):
                return Role.HEADING, int(heading[1])
            if tag in ("tr", "li", "dt", "dd", "p", "caption"):
                inner = "li" if tag == "p" and "li" in tags else tag
                return {"tr": Role.ROW, "li": Role.ITEM, "caption": Role.CAPTION}.get(inner, Role.TEXT), 0
        return Role.TEXT, 0
