"""Which elements of a page a reader does not see, by its HTML and its style sheets: on any device, or on some.

A known list of ways is followed, as a browser would follow them, on phone and desk, light and dark, and on paper. It
is no browser: what a script does, or a style sheet from elsewhere, is told by safety.py and not judged here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import IntEnum
from functools import lru_cache
from typing import Any, NamedTuple
from xml.etree.ElementTree import Element, SubElement

from repslate.proof import stylesheet
from repslate.proof.stylesheet import Colour, Declaration, Device, Units, length, number, words
from repslate.proof.tags import Tag, Text

DEEPEST = 256  # elements within each other; our pages come to fifteen, websites to fifty
VOID = frozenset("area base br col embed hr img input link meta source track wbr".split())
INLINE = frozenset(
    "a abbr b bdi bdo br button cite code data dfn em i img input kbd label mark q s samp small span strong sub sup "
    "td th time u var wbr".split()
)
_XHTML = "{http://www.w3.org/1999/xhtml}"
_MOST = 30_000  # elements
_NEVER = frozenset(
    "head script style template noscript title textarea select datalist rp object iframe canvas video audio".split()
)
_PICTURES = frozenset("img svg video canvas iframe object embed".split())
_FOREIGN = frozenset({"svg", "math"})  # in these a tag may close itself
_STRUCK = frozenset({"del", "s", "strike"})
# Our choices. What is fainter or smaller nobody reads; WCAG 2.2 asks for a contrast of 4.5.
_FAINT, _SMALL, _CLEAR = 1.9, 5.3, 0.35  # contrast, pixels (4 points), how opaque
_AWAY = 300.0  # pixels off the left or the top edge
_FAR = 3000.0  # pixels down, where nobody scrolls to
_SCALE = 0.3
_GLYPH = 0.38  # em that a letter takes, at the least
_SIZES = {"h1": 2.0, "h2": 1.5, "h3": 1.17, "h5": 0.83, "h6": 0.67, "small": 0.83, "sub": 0.83, "sup": 0.83}
_NAMED = {
    "xx-small": 9.0, "x-small": 10.0, "small": 13.0, "medium": 16.0, "large": 18.0, "x-large": 24.0, "xx-large": 32.0
}  # fmt: skip
_WHITE, _BLACK, _NIGHT = (1.0, 1.0, 1.0, 1.0), (0.0, 0.0, 0.0, 1.0), (0.07, 0.07, 0.07, 1.0)
_CUTTING = frozenset({"overflow", "overflow-x", "overflow-y"})
_PUT = ("before", "after", "marker")  # what a style sheet can put words into
_SIDES = ("top", "right", "bottom", "left")


class Sight(IntEnum):
    """Whether the text of an element is seen: by everybody, on some devices alone or when unfolded, by nobody."""

    SHOWN = 0
    SOMETIMES = 1
    HIDDEN = 2


class Sights(NamedTuple):
    """Of each start tag of a page, in order, whether the text right in it is seen; and by their numbers, what is rare.

    `boxes` are elements that lie over others, with a paper of their own or a picture; `put` are the words that style
    sheets put before and after what stands in an element.
    """

    seen: tuple[Sight, ...] = ()
    boxes: frozenset[int] = frozenset()
    put: Mapping[int, tuple[str, str]] = {}


def closed_by(tag: str) -> set[str]:
    """Return the open elements that this one's start closes: paragraphs before blocks, items before items, cells."""
    closes = {"p"} if tag not in INLINE else set()
    closes |= {"li": {"li"}, "dt": {"dt", "dd"}, "dd": {"dt", "dd"}, "tr": {"td", "th", "tr"}}.get(tag, set())
    return closes | {"td": {"td", "th"}, "th": {"td", "th"}}.get(tag, set())


def sights(page: Iterable[Tag | Text], *, styled: bool = True) -> Sights:
    """Return what is seen of a page.

    Without `styled` its style sheets are taken on trust, which is ten times as quick.
    """
    tree = _Tree()
    for part in page:
        tree.take(part)
        if len(tree.elements) > _MOST or len(tree.stack) > DEEPEST + 1:
            return Sights()
    if not styled:
        tree.styles.clear()
    if not tree.elements:
        return Sights()
    counted = _counts(tree)
    return _followed(tuple(tree.styles), tuple(_plain(node, counted=counted) for node in tree.elements))


#: A start tag with its attributes, the number of the one it stands in, and how many letters stand right in it.
_Plain = tuple[str, tuple[tuple[str, str], ...], int, int]


def _plain(node: _Node, *, counted: bool) -> _Plain:
    parent = node.parent.at if node.parent else -1
    return _tag(node), tuple(node.element.attrib.items()), parent, node.text if counted else min(node.text, 1)


def _counts(tree: _Tree) -> bool:
    """Tell whether the letters' number matters: where a box may cut some off."""
    rules = [rule for _, css in tree.styles for rule in stylesheet.read_sheet(css).rules]
    said = [one for rule in rules for one in rule.declarations if one.name in _CUTTING]
    inline = any("overflow" in node.element.get("style", "") for node in tree.elements)
    return inline or any(words(one.value) != ["visible"] for one in said)


@lru_cache(maxsize=8)  # pages that differ in their words alone look alike
def _followed(styles: tuple[tuple[str, str], ...], elements: tuple[_Plain, ...]) -> Sights:
    tree = _Tree()
    tree.styles += styles
    for at, (tag, given, parent, letters) in enumerate(elements):
        above = tree.elements[parent] if parent >= 0 else tree.top
        tree.add(tag, dict(given), None if tag == "html" and not at else above)
        tree.count(tree.elements[at], letters)
    return _Page(tree).sights()


@dataclass(slots=True)
class _Node:
    """An element in the tree: `at` is the number of its start tag."""

    at: int
    element: Element
    parent: _Node | None
    text: int = 0  # letters right in it
    whole: int = 0  # letters in it and in all that is in it
    rules: list[tuple[Any, ...]] = field(default_factory=list)
    kind: tuple[Any, ...] = ()  # all that its look depends on, apart from what it is in


class _Tree:
    """Builds the tree that selectors are matched on, element by element as html.py reads them."""

    def __init__(self) -> None:
        self.root = Element(f"{_XHTML}html")
        self.top = _Node(-1, self.root, None)
        self.stack = [self.top]
        self.elements: list[_Node] = []
        self.styles: list[tuple[str, str]] = []

    def take(self, part: Tag | Text) -> None:
        """Take what comes next on the page."""
        if isinstance(part, Text):
            self._words(part.words)
        elif part.is_end:
            self._end(part.name)
        else:
            self._begin(part.name, part.attributes)
            if part.is_empty and any(_tag(node) in _FOREIGN for node in self.stack):
                self._end(part.name)

    def _begin(self, tag: str, given: dict[str, str]) -> None:
        closes = closed_by(tag)
        while len(self.stack) > 1 and _tag(self.stack[-1]) in closes:
            self.stack.pop()
        is_root = tag == "html" and not self.elements
        node = self.add(tag, given, None if is_root else self.stack[-1])
        if tag not in VOID:
            self.stack.append(node)

    def add(self, tag: str, given: dict[str, str], parent: _Node | None) -> _Node:
        """Add an element; the one without a parent is the page's own html."""
        if parent is None:
            node = _Node(len(self.elements), self.root, None)
            self.root.attrib.update(given)
        else:
            node = _Node(len(self.elements), SubElement(parent.element, f"{_XHTML}{tag}", given), parent)
        self.elements.append(node)
        return node

    def count(self, node: _Node | None, letters: int) -> None:
        """Count letters that stand right in an element."""
        if node is not None and letters:
            node.element.text = "x"  # so that :empty is told right
            node.text += letters
        while node is not None and letters:
            node.whole += letters
            node = node.parent

    def _end(self, tag: str) -> None:
        if any(_tag(node) == tag for node in self.stack[1:]):
            while len(self.stack) > 1 and _tag(self.stack.pop()) != tag:
                pass

    def _words(self, data: str) -> None:
        node = self.stack[-1]
        if _tag(node) == "style":
            self.styles.append((node.element.get("media", ""), data))
        self.count(node, len("".join(data.split())))


def _tag(node: _Node) -> str:
    return str(node.element.tag).removeprefix(_XHTML)


@dataclass(frozen=True, slots=True)
class _State:
    """What an element hands down to those in it; `gone` if nobody sees anything of it."""

    gone: bool
    visible: bool
    ink: Colour
    fill: Colour | None  # -webkit-text-fill-color, which goes before the colour
    papers: tuple[Colour, ...]  # what it may stand on; none where a picture is
    size: float
    root: float
    clear: float
    indent: float
    leading: float
    spacing: float
    nowrap: bool
    struck: bool
    folded: bool
    boxed: bool  # inside an element with a paper of its own, apart from html and body
    cover: bool  # lies over all of the page
    box: bool  # lies over something, perhaps, with a paper of its own
    variables: Mapping[str, tuple[Any, ...]]


class _Page:
    """Follows the rules of a page on each device."""

    def __init__(self, tree: _Tree) -> None:
        from cssselect2 import ElementWrapper, Matcher  # type: ignore[import-untyped]

        self.tree = tree
        self.frames: dict[str, list[Declaration]] = {}
        self.queries: dict[str, None] = {}
        self.boxes: set[int] = set()
        self.put: dict[int, tuple[str, str]] = {}
        matcher, has_rules = Matcher(), False
        for media, css in tree.styles:
            sheet = stylesheet.read_sheet(css)
            self.frames |= sheet.frames
            for rule in sheet.rules:
                has_rules = True
                under = replace(rule, media=(*((media.lower(),) if media else ()), *rule.media))
                self.queries |= dict.fromkeys(under.media)
                for selector in rule.selectors:
                    matcher.add_selector(selector, under)
        if has_rules:
            by_element = {node.element: node for node in [tree.top, *tree.elements]}
            for wrapper in ElementWrapper.from_html_root(tree.root).iter_subtree():
                by_element[wrapper.etree_element].rules = matcher.match(wrapper)
        self.styled = {
            node.at: stylesheet.declarations(style) for node in tree.elements if (style := node.element.get("style"))
        }
        for node in self.tree.elements:
            node.kind = self._kind(node)
        self.dark = any("dark" in node.element.get("content", "") for node in tree.elements if _tag(node) == "meta")

    def _kind(self, node: _Node) -> tuple[Any, ...]:
        styled = self.styled.get(node.at, ())
        said = {one.name for *_, rule in node.rules for one in rule.declarations} | {one.name for one in styled}
        flags = _is_never(node), _is_folded(node), _is_closed(node), node.whole if said & _CUTTING else 0
        return (
            _tag(node),
            tuple((order, id(rule)) for _, order, _, rule in node.rules),
            node.element.get("style"),
            flags,
        )

    def sights(self) -> Sights:
        """Return what is seen of each element: on all devices, on some, on none."""
        together = zip(*map(self._on, self._devices()), strict=True)
        seen = tuple(seen[0] if len(set(seen)) == 1 else Sight.SOMETIMES for seen in together)
        return Sights(seen, frozenset(self.boxes), self.put)

    def _devices(self) -> list[Device]:
        """Return a device for every set of conditions that can hold together, as far as they make a difference."""
        queries = tuple(self.queries)
        others = (False, True) if any(not stylesheet.is_understood(query) for query in queries) else (False,)
        found: dict[tuple[bool, ...], Device] = {}
        for width in stylesheet.widths(queries):
            for dark, paper in ((False, False), (True, False), (False, True)):
                for other in others:
                    device = Device(width, dark, paper, other)
                    held = (dark, *(stylesheet.holds(query, device) for query in queries))
                    found.setdefault(held, device)
        return list(found.values())

    def _on(self, device: Device) -> list[Sight]:
        ink, paper = (_WHITE, _NIGHT) if device.dark and self.dark else (_BLACK, _WHITE)
        state = _State(
            False,
            True,
            ink,
            None,
            (paper,),
            16.0,
            16.0,
            1.0,
            0.0,
            1.3,
            0.0,
            False,
            False,
            False,
            False,
            False,
            False,
            {},
        )
        states: dict[int, _State] = {}
        known: dict[tuple[Any, ...], tuple[_State, Sight]] = {}  # a page has many that look alike
        found = []
        covers: list[int] = []
        holds = {query: stylesheet.holds(query, device) for query in self.queries}
        for node in self.tree.elements:
            above = states.get(node.parent.at, state) if node.parent else state
            key = id(above), node.kind
            if key not in known:
                own = self._state(node, above, device, holds)
                known[key] = own, _sight(own)
            states[node.at], sight = known[key]
            found.append(sight)
            if states[node.at].box:
                self.boxes.add(node.at)
            if not states[node.at].gone:
                self._put(node, states[node.at].variables, holds)
            if states[node.at].cover:
                covers.append(node.at)
        if covers:  # something lies over all of the page: only what is in it is seen
            for node in self.tree.elements:
                inside, up = False, node
                while up is not None and not inside:
                    inside, up = up.at in covers, up.parent  # type: ignore[assignment]
                if not inside:
                    found[node.at] = Sight.HIDDEN
        return found

    def _state(self, node: _Node, above: _State, device: Device, holds: Mapping[str, bool]) -> _State:
        if above.gone:
            return above
        if _is_never(node):
            return replace(above, gone=True, box=False)
        said, before = self._declared(node, holds)
        variables = above.variables
        if own := {name: value for name, value in said.items() if name.startswith("--")}:
            variables = {**variables, **own}
        style = {
            name: stylesheet.substituted(value, variables) for name, value in said.items() if not name.startswith("--")
        }
        tag = _tag(node)
        size = _size(style, above, tag, device)
        box = _Box(style, size, size if tag == "html" else above.root, device)
        ink = _first(box.colours("color", above.ink), above.ink)
        fill = _first(box.colours("-webkit-text-fill-color", ink), None) or above.fill
        papers = _papers(box, ink, above.papers)
        state = replace(
            above,
            variables=variables,
            size=size,
            root=box.rem,
            ink=ink,
            fill=fill,
            papers=papers,
            clear=above.clear * box.clear(),
            visible=_visible(style, above),
            indent=box.pixels("text-indent") if "text-indent" in style else above.indent,
            leading=above.leading if (leading := box.leading()) is None else leading,
            spacing=box.spacing() if "letter-spacing" in style else above.spacing,
            nowrap=bool({"nowrap", "pre"} & set(words(style["white-space"])))
            if "white-space" in style
            else above.nowrap,
            struck=above.struck
            or tag in _STRUCK
            or "line-through" in box.said("text-decoration", "text-decoration-line"),
            folded=above.folded or _is_folded(node),
            boxed=above.boxed or (papers is not above.papers and tag not in ("html", "body")),
            cover=box.fixed and box.covers(),
            box=box.lies_over(is_picture=tag in _PICTURES)
            or any(_Box(self._filled(one, variables), size, box.rem, device).lies_over() for one in before),
        )
        gone = (
            (_is_closed(node) and "display" not in style)
            or box.hides()
            or box.cuts(node.whole, state.nowrap)
            or (above.boxed and box.behind())
            or any(self._covered(one, variables, box) for one in before)
            or self._fades(style, box)
        )
        return replace(state, gone=True, cover=False, box=False) if gone else state

    def _declared(
        self, node: _Node, holds: Mapping[str, bool]
    ) -> tuple[dict[str, tuple[Any, ...]], list[dict[str, tuple[Any, ...]]]]:
        """Return what is declared for an element, the strongest last, and the same for what is put before and after."""
        mine: list[tuple[tuple[Any, ...], Declaration]] = []
        pseudo: dict[str, dict[str, tuple[Any, ...]]] = {}
        for specificity, order, of, rule in node.rules:
            if not all(holds[query] for query in rule.media):
                continue
            for at, one in enumerate(rule.declarations):
                if of is None:
                    mine.append(((one.important, False, specificity, order, at), one))
                elif of in _PUT:
                    pseudo.setdefault(of, {})[one.name] = one.value
        for at, one in enumerate(self.styled.get(node.at, ())):
            mine.append(((one.important, True, (0, 0, 0), 0, at), one))
        found: dict[str, tuple[Any, ...]] = {}
        for _, one in sorted(mine, key=lambda pair: pair[0]):
            for name in _shorthand(one.name):
                found.pop(name, None)
            found[one.name] = one.value
        return found, list(pseudo.values())

    def _filled(
        self, said: Mapping[str, tuple[Any, ...]], variables: Mapping[str, tuple[Any, ...]]
    ) -> dict[str, tuple[Any, ...]]:
        return {name: stylesheet.substituted(value, variables) for name, value in said.items()}

    def _put(self, node: _Node, variables: Mapping[str, tuple[Any, ...]], holds: Mapping[str, bool]) -> None:
        """Note the words that style sheets put before and after what stands in an element, on any device."""
        if not any(of in _PUT for _, _, of, _ in node.rules):
            return
        said = dict.fromkeys(_PUT, "")
        for _, _, of, rule in sorted(node.rules, key=lambda one: (one[0], one[1])):
            if of not in _PUT or not all(holds[query] for query in rule.media):
                continue
            style = self._filled({one.name: one.value for one in rule.declarations}, variables)
            if "none" in words(style.get("display", ())):
                said[of] = ""
            elif "content" in style:
                said[of] = _content(style["content"], node.element.attrib)
        before, after = self.put.get(node.at, ("", ""))
        new = said["marker"] or said["before"] or before, said["after"] or after
        if any(new):
            self.put[node.at] = new

    def _covered(self, said: dict[str, tuple[Any, ...]], variables: Mapping[str, tuple[Any, ...]], host: _Box) -> bool:
        """Tell whether what is put before or after a text lies over all of it."""
        style = self._filled(said, variables)
        return _Box(style, host.em, host.rem, host.device).covers() and "content" in style

    def _fades(self, style: Mapping[str, tuple[Any, ...]], box: _Box) -> bool:
        """Tell whether an animation takes the element away."""
        for name in [*words(style.get("animation-name", ())), *words(style.get("animation", ()))]:
            for one in self.frames.get(name, ()):
                if _Box({one.name: one.value}, box.em, box.rem, box.device).hides() or (
                    one.name == "opacity" and _Box({"opacity": one.value}, box.em, box.rem, box.device).clear() < _CLEAR
                ):
                    return True
        return False


def _sight(state: _State) -> Sight:
    if state.gone or not state.visible:
        return Sight.HIDDEN
    ink = state.fill or state.ink
    shown = [stylesheet.over((*ink[:3], ink[3] * state.clear), paper) for paper in state.papers]
    faint = bool(shown) and max(map(stylesheet.contrast, shown, state.papers)) < _FAINT
    unread = (
        state.clear < _CLEAR
        or faint
        or state.size < _SMALL
        or abs(state.indent) > _AWAY
        or state.leading < 0.5
        or state.spacing < -0.3
    )
    return Sight.HIDDEN if unread else Sight.SOMETIMES if state.struck or state.folded else Sight.SHOWN


def _content(value: Sequence[Any], given: Mapping[str, str]) -> str:
    """Return the words that a style sheet puts on a page, "" for signs alone."""
    found = []
    for token in value:
        if token.type == "string":
            found.append(token.value)
        elif token.type == "literal" and token.value == "/":
            break  # what follows is for screen readers
        elif token.type == "function" and token.lower_name == "attr":
            found += [given.get(one.value, "") for one in token.arguments if one.type == "ident"][:1]
    text = "".join(found)
    return text if any(letter.isalnum() for letter in text) else ""


def _is_never(node: _Node) -> bool:
    return _tag(node) in _NEVER


def _is_closed(node: _Node) -> bool:
    """Tell whether an attribute hides an element; a style sheet can bring it back."""
    given = node.element.attrib
    return "hidden" in given or "popover" in given or (_tag(node) == "dialog" and "open" not in given)


def _is_folded(node: _Node) -> bool:
    """Tell whether an element is seen by some alone: inside closed details, or kept from screen readers."""
    up = node.parent
    if node.element.get("aria-hidden") == "true":
        return True
    return up is not None and _tag(up) == "details" and "open" not in up.element.attrib and _tag(node) != "summary"


def _visible(style: Mapping[str, tuple[Any, ...]], above: _State) -> bool:
    said = words(style.get("visibility", ()))
    if not said or said[0] in ("inherit", "unset"):
        return above.visible
    return said[0] not in ("hidden", "collapse")


def _size(style: Mapping[str, tuple[Any, ...]], above: _State, tag: str, device: Device) -> float:
    """Return the size of an element's letters in pixels."""
    own = above.size * _SIZES.get(tag, 1.0)
    for name in ("font-size", "font"):
        for token in style.get(name, ()):
            if token.type == "ident" and token.lower_value in _NAMED:
                return _NAMED[token.lower_value]
            if token.type == "ident" and token.lower_value in ("smaller", "larger"):
                return above.size * (0.83 if token.lower_value == "smaller" else 1.2)
            is_weight = name == "font" and token.type == "number" and token.value
            said = None if is_weight else length((token,), Units(above.size, above.root, device.width, above.size))
            if said is not None:
                return max(0.0, said)
    return own


def _papers(box: _Box, ink: Colour, below: tuple[Colour, ...]) -> tuple[Colour, ...]:
    """Return what the text of an element may stand on: the colours of its background, mixed with what lies below."""
    value = box.style.get("background") or ()
    value = (*value, *(box.style.get("background-image") or ()))
    colour = box.style.get("background-color") or ()
    if any(
        token.type == "url" or (token.type == "function" and token.lower_name in ("url", "image-set"))
        for token in value
    ):
        return ()
    found = stylesheet.colours((*value, *colour), ink, dark=box.device.dark)
    found = [one for one in found if one[3] > 0]
    if not found or not below:
        return below
    return tuple(stylesheet.over(one, paper) for one in found for paper in below)[:16]


def _first(found: Sequence[Colour], otherwise: Any) -> Any:
    return found[0] if found else otherwise


def _shorthand(name: str) -> tuple[str, ...]:
    """Return the properties that a later declaration of this one sets anew."""
    return {
        "background": ("background-color", "background-image"),
        "font": ("font-size", "line-height"),
        "overflow": ("overflow-x", "overflow-y"),
        "inset": _SIDES,
        "margin": ("margin-left", "margin-top"),
        "text-decoration": ("text-decoration-line",),
        "font-size": ("font",),
    }.get(name, ())


@dataclass(frozen=True, slots=True)
class _Box:
    """What is declared for one element, its variables filled in."""

    style: Mapping[str, tuple[Any, ...]]
    em: float
    rem: float
    device: Device

    def said(self, *names: str) -> set[str]:
        """Return the words that stand in some properties."""
        return {word for name in names for word in words(self.style.get(name, ()))}

    def colours(self, name: str, current: Colour) -> list[Colour]:
        """Return the colours in a property."""
        return stylesheet.colours(self.style.get(name, ()), current, dark=self.device.dark)

    def pixels(self, name: str, whole: float | None = None) -> float:
        """Return a length in pixels, 0 for none."""
        return self._pixels(self.style.get(name, ()), whole) or 0.0

    def _pixels(self, value: Iterable[Any], whole: float | None = None) -> float | None:
        width = self.device.width
        return length(tuple(value), Units(self.em, self.rem, width, width if whole is None else whole))

    def clear(self) -> float:
        """Return how opaque the element is."""
        found = 1.0
        for token in self.style.get("opacity", ()):
            found *= 1.0 if (said := number(token)) is None else max(0.0, min(1.0, said))
        for name, given in self._functions("filter"):
            if name == "opacity" and given:
                found *= 1.0 if (said := number(given[0])) is None else said
            elif name == "blur" and given and (self._pixels(given[:1]) or 0) > 3:
                found = 0.0
        return found

    def leading(self) -> float | None:
        """Return the distance of lines in sizes."""
        value = self.style.get("line-height", ())
        if len(value) == 1 and value[0].type == "number":
            return float(value[0].value)
        said = self._pixels(value, self.em)
        return None if said is None or not self.em else said / self.em

    def spacing(self) -> float:
        """Return how far letters are set apart, in sizes."""
        return self.pixels("letter-spacing") / self.em if self.em else 0.0

    @property
    def fixed(self) -> bool:
        """Whether it stays where it is while the page scrolls."""
        return "fixed" in self.said("position")

    def hides(self) -> bool:
        """Tell whether nothing of the element is on the screen."""
        said = self.said("display", "content-visibility")
        return (
            bool(said & {"none", "hidden"})
            or (number_of(self.style.get("zoom", ())) < _SCALE)
            or self._transformed()
            or self._away()
            or self._clipped()
            or self._masked()
            or (
                {"bidi-override", "isolate-override"} & self.said("unicode-bidi") != set()
                and "rtl" in self.said("direction")
            )
        )

    def cuts(self, letters: int, nowrap: bool) -> bool:
        """Tell whether a box is too small for the letters in it and cuts them off."""
        cut = self.said("overflow", "overflow-x", "overflow-y")
        is_clipped = bool(cut & {"hidden", "clip"})
        width, height = (self._least(name) for name in ("width", "height"))
        if self.said("-webkit-line-clamp", "line-clamp") != {"none"} and (
            self.style.get("-webkit-line-clamp") or self.style.get("line-clamp")
        ):
            return is_clipped and letters > 40
        if not (is_clipped or cut & {"auto", "scroll"}) or not letters:
            return False
        across = min(self.device.width, 36 * self.rem)
        if width is not None and width < 2 * self.em:
            return True
        long = letters * _GLYPH * self.em
        if nowrap and is_clipped and long > (across if width is None else width):
            return True
        if height is None:
            return False
        lines = max(1.0, long / max(1.0, across if width is None else width))
        return height < (lines * self.em if is_clipped else self.em) * 0.8

    def _least(self, side: str) -> float | None:
        """Return how wide or high it is at most, None if it grows with what is in it; a share of the page is none."""
        logical = {"width": "max-inline-size", "height": "max-block-size"}[side]
        found = []
        for name in (side, f"max-{side}", logical):
            value = self.style.get(name, ())
            if len(value) == 1 and value[0].type == "percentage":
                found += [0.0] if not value[0].value else []
            elif (said := self._pixels(value)) is not None:
                found.append(said)
        return min(found, default=None)

    def behind(self) -> bool:
        """Tell whether it lies under the paper of what it is in."""
        value = self.style.get("z-index", ())
        is_placed = bool(self.said("position") & {"relative", "absolute", "fixed", "sticky"})
        return is_placed and bool(value) and number_of(value) < 0

    def covers(self) -> bool:
        """Tell whether it lies over all that is around it and lets nothing through."""
        if not (self.said("position") & {"absolute", "fixed"}) or self.behind() or self.clear() < 1 - _CLEAR:
            return False
        inset = self.style.get("inset", ())
        spread = bool(inset) and all(token.type in ("number", "dimension") and token.value <= 0 for token in inset)
        sides = [self.style.get(side, ()) for side in _SIDES]
        flush = [len(one) == 1 and one[0].type in ("number", "dimension") and one[0].value <= 0 for one in sides]
        wide = (flush[1] and flush[3]) or self._whole("width")
        high = (flush[0] and flush[2]) or self._whole("height")
        papers = stylesheet.colours(
            (*self.style.get("background", ()), *self.style.get("background-color", ())), _BLACK, dark=self.device.dark
        )
        return (spread or (wide and high)) and any(one[3] > 1 - _CLEAR for one in papers)

    def lies_over(self, *, is_picture: bool = False) -> bool:
        """Tell whether it is taken out of its place, with a paper of its own or a picture, and so may cover others."""
        placed = self.said("position")
        moved = bool(placed & {"absolute", "fixed"})
        if not moved and placed & {"relative", "sticky"}:
            moved = any(self.pixels(side) for side in _SIDES) or bool(self.style.get("inset"))
        shifted = ("transform", "translate", "margin-top", "margin")
        moved = moved or any(self._is_negative(self.style.get(name, ())) for name in shifted)
        if not moved or self.hides() or self.behind() or self.clear() < _CLEAR:
            return False
        papers = (*self.colours("background", _BLACK), *self.colours("background-color", _BLACK))
        pictures = any(next(self._urls(name), None) for name in ("background", "background-image", "content"))
        return is_picture or pictures or any(one[3] > _CLEAR for one in papers)

    def _is_negative(self, value: Sequence[Any]) -> bool:
        """Tell whether a shift is upwards by more than a line of text."""
        tokens = [one for token in value for one in (token.arguments if token.type == "function" else (token,))]
        return any((self._pixels((one,), 0.0) or 0.0) < -self.em for one in tokens if one.type == "dimension")

    def _urls(self, name: str) -> Iterator[Any]:
        """Yield the pictures in a property."""
        for token in self.style.get(name, ()):
            if token.type == "url" or (token.type == "function" and token.lower_name in ("url", "image-set")):
                yield token

    def _whole(self, name: str) -> bool:
        value = self.style.get(name, ())
        units = ("vw", "vh", "dvh", "svh", "lvh")
        return len(value) == 1 and (
            (value[0].type == "percentage" or (value[0].type == "dimension" and value[0].lower_unit in units))
            and value[0].value >= 100
        )

    def _away(self) -> bool:
        """Tell whether it is moved off the page."""
        width = self.device.width
        start = self.pixels("margin-left"), self.pixels("margin-inline-start"), self._side("margin", 3)
        if (
            min(start) <= -_AWAY
            or max(start) >= width
            or min(self.pixels("margin-top"), self._side("margin", 0)) <= -_AWAY
        ):
            return True
        placed = self.said("position")
        if not placed & {"absolute", "fixed", "relative", "sticky"}:
            return False
        for at, side in enumerate(_SIDES):
            moved = self._pixels(self.style[side]) if side in self.style else self._side("inset", at)
            limit = width if at % 2 else _FAR
            if moved is not None and (moved <= -_AWAY or moved >= limit):
                return True
        return False

    def _side(self, name: str, side: int) -> float:
        """Return one of the four sides of "1em", "1em 2em" and so on: top, right, bottom, left."""
        value = self.style.get(name, ())
        if not value:
            return 0.0
        at = {1: 0, 2: side % 2, 3: 1 if side == 3 else side}.get(len(value), side)
        return self._pixels(value[at : at + 1]) or 0.0

    def _transformed(self) -> bool:
        """Tell whether it is shrunk, turned on edge or pushed off the page."""
        moves = [*self._functions("transform")]
        moves += [(name, tuple(self.style[name])) for name in ("scale", "translate", "rotate") if name in self.style]
        for name, given in moves:
            if name.startswith("scale") and any(abs(said) < _SCALE for said in map(number, given) if said is not None):
                return True
            if name.startswith("translate"):
                moved = [self._pixels((token,)) or 0.0 for token in given]
                if any(abs(one) >= min(_AWAY, self.device.width) for one in moved):
                    return True
            if name in ("rotatex", "rotatey") and given and given[0].type == "dimension":
                turned = abs(given[0].value) % 180 if given[0].lower_unit == "deg" else 0
                if 80 < turned < 100:
                    return True
            if (
                name.startswith("matrix")
                and given
                and any(number(one) == 0 for one in (given[0], given[3:4] or given)[0:1])
            ):
                return True
        return False

    def _clipped(self) -> bool:
        """Tell whether clip or clip-path leaves nothing."""
        if self.said("position") & {"absolute", "fixed"}:
            for name, given in self._functions("clip"):
                sides = [self._pixels((one,)) for one in given]
                if name == "rect" and len(sides) == 4 and None not in sides:
                    top, right, bottom, left = (one or 0.0 for one in sides)
                    if bottom - top < _SMALL or right - left < _SMALL:
                        return True
        for name, given in self._functions("clip-path"):
            shares = [said for said in map(number, given) if said is not None]
            sizes = [self._pixels((one,)) for one in given if one.type in ("dimension", "number", "percentage")]
            if name == "inset" and (
                any(one >= 0.45 for one in shares[:4]) or any((one or 0) > _AWAY for one in sizes[:4])
            ):
                return True
            if name in ("circle", "ellipse") and sizes and (sizes[0] or 0) < 2 * _SMALL:
                return True
            if name in ("polygon", "rect", "xywh") and len(set(sizes)) == 1:
                return True
        return False

    def _masked(self) -> bool:
        """Tell whether a mask lies on it, whatever it lets through, or dots stand for its letters."""
        masks = ("mask", "mask-image", "-webkit-mask-image")
        return any(next(self._functions(name), None) for name in masks) or bool(
            self.said("-webkit-text-security") - {"none"}
        )

    def _functions(self, name: str) -> Iterator[tuple[str, tuple[Any, ...]]]:
        """Yield the functions in a property, each with its arguments."""
        for token in self.style.get(name, ()):
            if token.type == "function":
                given = (one for one in token.arguments if one.type not in ("whitespace", "comment", "literal"))
                yield token.lower_name, tuple(given)


def number_of(value: Sequence[Any]) -> float:
    """Return the number that a value is, 1 for any other."""
    said = number(value[0]) if len(value) == 1 else None
    return 1.0 if said is None else said
