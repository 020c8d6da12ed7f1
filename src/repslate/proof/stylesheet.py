"""A page's style sheets as rules on the properties that can take text from a reader's eyes, and the values of these.

Read with the libraries that lay our cards out, tinycss2 and cssselect2; a browser knows more selectors than they do.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

#: Every property that seen.py asks for; a name that begins with "--" is a variable.
PROPERTIES = frozenset(
    "-webkit-line-clamp -webkit-mask-image -webkit-text-fill-color -webkit-text-security animation "
    "animation-name background background-color background-image bottom clip clip-path color content "
    "content-visibility direction display filter font font-size height inset inset-block inset-inline left "
    "letter-spacing line-clamp line-height margin margin-inline margin-inline-start margin-left margin-top mask "
    "mask-image max-block-size max-height max-inline-size max-width opacity overflow overflow-x overflow-y "
    "position right rotate scale text-decoration text-decoration-line text-indent text-overflow top transform "
    "translate unicode-bidi visibility white-space width z-index zoom".split()
)
MOST_RULES = 5000
_DATA = re.compile(r"url\(\s*[\"']?data:[^)]*\)")
_PIXELS = {"px": 1.0, "pt": 4 / 3, "pc": 16.0, "in": 96.0, "cm": 96 / 2.54, "mm": 96 / 25.4, "q": 96 / 101.6}
_WIDTH = re.compile(r"(min|max)-(?:device-)?width")
_HIGH = 8.0  # pixels that a hundredth of a screen is high
_DEEPEST = 12  # blocks within blocks, variables within variables
_LONGEST = 400  # tokens that variables may come to


@dataclass(frozen=True, slots=True)
class Device:
    """What a page is read on: a screen so many pixels wide, light or dark, or paper."""

    width: int
    dark: bool = False
    paper: bool = False
    others: bool = False  # whether conditions that nobody here understands hold


@dataclass(frozen=True, slots=True)
class Declaration:
    """One declaration: its value as tokens."""

    name: str
    value: tuple[Any, ...]
    important: bool


@dataclass(frozen=True, slots=True)
class Rule:
    """Declarations with the selectors they are for, under the `media` conditions that they hold for."""

    selectors: tuple[Any, ...]
    declarations: tuple[Declaration, ...]
    media: tuple[str, ...]


@dataclass(slots=True)
class Sheet:
    """What a style sheet says: its rules in order, and what each animation ends in. `whole` if all could be read."""

    rules: list[Rule] = field(default_factory=list)
    frames: dict[str, list[Declaration]] = field(default_factory=dict)
    whole: bool = True


@lru_cache(maxsize=64)
def read_sheet(css: str) -> Sheet:
    """Read a style sheet; what cannot be read in it a browser passes over too."""
    import tinycss2  # type: ignore[import-untyped]

    sheet = Sheet()
    nodes = tinycss2.parse_stylesheet(_DATA.sub("url()", css), skip_comments=True, skip_whitespace=True)
    try:
        _rules(nodes, sheet, (), "")
    except RecursionError:  # brackets by the thousand, which the library writes out one within the other
        sheet.whole = False
    return sheet


def declarations(css: str) -> tuple[Declaration, ...]:
    """Read what a style attribute says."""
    import tinycss2

    return tuple(_declared(tinycss2.parse_blocks_contents(css, skip_comments=True, skip_whitespace=True)))


def _rules(nodes: Sequence[Any], sheet: Sheet, media: tuple[str, ...], parent: str, deep: int = 0) -> None:
    import tinycss2

    for node in nodes:
        if len(sheet.rules) >= MOST_RULES or deep > _DEEPEST:
            sheet.whole = False
            return
        if node.type == "qualified-rule":
            _qualified(node, sheet, media, parent, deep)
        elif node.type == "at-rule" and node.lower_at_keyword == "import":
            sheet.whole = False
        elif node.type == "at-rule" and node.content is not None:
            name = node.lower_at_keyword
            inside = tinycss2.parse_blocks_contents(node.content, skip_comments=True, skip_whitespace=True)
            if name.endswith("keyframes"):
                frames = sheet.frames.setdefault(tinycss2.serialize(node.prelude).strip().strip("\"'"), [])
                for frame in inside:
                    if frame.type == "qualified-rule":
                        frames += _declared(tinycss2.parse_blocks_contents(frame.content))
            elif name in ("media", "container", "supports", "layer", "scope", "starting-style"):
                is_media = name == "media"
                asked = tinycss2.serialize(node.prelude).strip().lower() if is_media else f"@{name}"
                under = media if name in ("layer", "scope") else (*media, asked)
                if parent:
                    _nested(inside, sheet, under, parent)
                _rules(inside, sheet, under, parent, deep + 1)


def _qualified(node: Any, sheet: Sheet, media: tuple[str, ...], parent: str, deep: int) -> None:
    import tinycss2

    prelude = tinycss2.serialize(node.prelude).strip()
    if parent:
        prelude = prelude.replace("&", f":is({parent})") if "&" in prelude else f":is({parent}) {prelude}"
    inside = tinycss2.parse_blocks_contents(node.content, skip_comments=True, skip_whitespace=True)
    _nested(inside, sheet, media, prelude)
    blocks = [one for one in inside if one.type in ("qualified-rule", "at-rule")]
    if blocks and len(prelude) < _LONGEST:
        _rules(blocks, sheet, media, prelude, deep + 1)


def _nested(inside: Sequence[Any], sheet: Sheet, media: tuple[str, ...], prelude: str) -> None:
    """Add the declarations that stand in a block to the selectors before it."""
    said = tuple(_declared(inside))
    if said and (selectors := _selectors(prelude)):
        sheet.rules.append(Rule(selectors, said, media))


def _selectors(prelude: str) -> tuple[Any, ...]:
    """Return what a list of selectors selects; one that the library does not know spoils the list, as in a browser."""
    import cssselect2  # type: ignore[import-untyped]

    try:
        return tuple(cssselect2.compile_selector_list(prelude))
    except cssselect2.SelectorError:
        return ()


def _declared(nodes: Sequence[Any]) -> Iterator[Declaration]:
    for node in nodes:
        if node.type == "declaration" and (node.lower_name in PROPERTIES or node.name.startswith("--")):
            value = tuple(one for one in node.value if one.type not in ("whitespace", "comment"))
            yield Declaration(node.name if node.name.startswith("--") else node.lower_name, value, node.important)


# ---- conditions


def widths(queries: Sequence[str]) -> list[int]:
    """Return the widths at which a page's look may change, and one on either side of each."""
    found = {320, 390, 1280}
    for one in re.finditer(r"(\d+(?:\.\d+)?)(px|r?em)", " ".join(queries)):
        at = int(float(one[1]) * (1 if one[2] == "px" else 16))
        found |= {at - 1, at, at + 1}
    return sorted(width for width in found if 240 <= width <= 4000)


def holds(query: str, device: Device) -> bool:
    """Tell whether a condition of @media holds on a device."""
    if query.startswith("@"):
        return device.others
    return any(_all_hold(one.strip(), device) for one in query.split(",")) if query else True


def _all_hold(query: str, device: Device) -> bool:
    negated = query.startswith("not ")
    parts = [part.strip() for part in re.split(r"\band\b", query.removeprefix("not ").removeprefix("only "))]
    held = all(_holds(part.strip("() "), device) for part in parts)
    return held != negated


def _holds(part: str, device: Device) -> bool:
    if part in ("all", "screen", "print"):
        return part == "all" or (part == "print") is device.paper
    name, _, value = (one.strip() for one in part.partition(":"))
    said = re.fullmatch(r"(\d+(?:\.\d+)?)(px|r?em)", value)
    wide = _WIDTH.fullmatch(name)
    if wide and said:
        limit = float(said[1]) * (1 if said[2] == "px" else 16)
        return device.width >= limit if wide[1] == "min" else device.width <= limit
    if name == "prefers-color-scheme":
        return (value == "dark") is device.dark
    if compared := re.fullmatch(r"width\s*([<>]=?)\s*(\d+(?:\.\d+)?)(px|r?em)", part):
        limit = float(compared[2]) * (1 if compared[3] == "px" else 16)
        sign = compared[1]
        is_less = device.width < limit if sign[0] == "<" else device.width > limit
        return is_less or (len(sign) == 2 and device.width == limit)
    return device.others


def is_understood(query: str) -> bool:
    """Tell whether a condition holds or not whatever else there is."""
    return all(holds(query, Device(width, others=True)) == holds(query, Device(width)) for width in (320, 1280))


# ---- values


def substituted(value: Sequence[Any], variables: Mapping[str, tuple[Any, ...]], deep: int = 0) -> tuple[Any, ...]:
    """Return a value with its variables filled in, as far as they go."""
    found: list[Any] = []
    for token in value:
        if token.type == "function" and token.lower_name == "var" and deep < _DEEPEST:
            given = [one for one in token.arguments if one.type not in ("whitespace", "comment")]
            name = given[0].value if given and given[0].type == "ident" else ""
            found += substituted(variables.get(name) or tuple(given[2:]), variables, deep + 1)
        else:
            found.append(token)
        if len(found) > _LONGEST:
            break
    return tuple(found)


def words(value: Sequence[Any]) -> list[str]:
    """Return the words of a value, in lower case."""
    return [token.lower_value for token in value if token.type == "ident"]


def number(token: Any) -> float | None:
    """Return the value of a number or a percentage, 50% as 0.5."""
    if token.type == "number":
        return float(token.value)
    return float(token.value) / 100 if token.type == "percentage" else None


@dataclass(frozen=True, slots=True)
class Units:
    """What relative lengths are of, in pixels: the letters here, those of the page, the screen's width, and 100 %."""

    em: float
    rem: float
    wide: float
    whole: float


def length(tokens: Sequence[Any], units: Units, deep: int = 0) -> float | None:
    """Return a length in pixels, None where it is none."""
    if len(tokens) != 1 or deep > _DEEPEST:
        return None
    token = tokens[0]
    if token.type == "number":
        return float(token.value) if token.value == 0 or deep else None
    if token.type == "percentage":
        return float(token.value) / 100 * units.whole
    if token.type == "dimension":
        unit, value = token.lower_unit, float(token.value)
        em, rem, wide = units.em, units.rem, units.wide / 100
        relative = {"em": em, "rem": rem, "ex": em / 2, "ch": em / 2, "lh": em * 1.3, "rlh": rem * 1.3}
        relative |= {"vw": wide, "vi": wide, "vmin": min(wide, _HIGH), "vmax": max(wide, _HIGH)}
        relative |= dict.fromkeys(("vh", "vb", "svh", "dvh", "lvh"), _HIGH)
        scale = _PIXELS.get(unit, relative.get(unit))
        return None if scale is None else value * scale
    if token.type in ("function", "() block"):
        name = token.lower_name if token.type == "function" else "calc"
        inner = token.arguments if token.type == "function" else token.content
        return _calculated(name, inner, lambda one: length(one, units, deep + 1))
    return None


def _calculated(name: str, tokens: Sequence[Any], value: Callable[[Sequence[Any]], float | None]) -> float | None:
    """Return what calc(), min(), max() or clamp() comes to."""
    groups: list[list[Any]] = [[]]
    for token in tokens:
        if token.type == "literal" and token.value == ",":
            groups.append([])
        elif token.type not in ("whitespace", "comment"):
            groups[-1].append(token)
    said = [one for one in (_sum(group, value) for group in groups) if one is not None]
    if len(said) != len(groups):
        return None
    match name:
        case "calc" if len(said) == 1:
            return said[0]
        case "min":
            return min(said)
        case "max":
            return max(said)
        case "clamp" if len(said) == 3:
            return max(said[0], min(said[1], said[2]))
    return None


def _sum(tokens: Sequence[Any], value: Callable[[Sequence[Any]], float | None]) -> float | None:
    """Return a sum of products, taken from left to right with the products first."""
    total, product, sign, by = 0.0, 0.0, 1.0, ""
    for at, token in enumerate(tokens):
        if at % 2:
            if token.type != "literal" or token.value not in "+-*/":
                return None
            if token.value in "+-":
                total, sign, by = total + sign * product, 1.0 if token.value == "+" else -1.0, ""
            else:
                by = token.value
            continue
        said = value([token])
        if said is None or (by == "/" and not said):
            return None
        product = product * said if by == "*" else product / said if by == "/" else said
    return total + sign * product


Colour = tuple[float, float, float, float]  # red, green, blue and how opaque, 0 to 1


def colours(value: Sequence[Any], current: Colour, *, dark: bool) -> list[Colour]:
    """Return the colours of a value, those within a gradient too."""
    from tinycss2 import color5

    found: list[Colour] = []
    for token in value:
        said = color5.parse_color(token, color_schemes=("dark",) if dark else ("light",))
        if said == "currentcolor":
            found.append(current)
        elif said is not None and (plain := _plain(said)) is not None:
            found.append(plain)
        elif token.type == "function" and token.lower_name.endswith("gradient"):
            found += colours(token.arguments, current, dark=dark)
    return found


def _plain(colour: Any) -> Colour | None:
    alpha = _unit(1.0 if colour.alpha is None else colour.alpha)
    for space in ("srgb", "xyz-d65", "xyz-d50"):
        try:
            first, second, third = colour.to(space).coordinates
        except NotImplementedError:  # a space that the library cannot turn into this one
            continue
        if space == "srgb":
            return _unit(first), _unit(second), _unit(third), alpha
        light = _unit(second)  # the grey that is as light
        grey = light * 12.92 if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055
        return grey, grey, grey, alpha
    return None


def _unit(value: float | None) -> float:
    return max(0.0, min(1.0, value or 0.0))


def over(top: Colour, below: Colour) -> Colour:
    """Return what a colour looks like on an opaque one."""
    share = top[3]
    red, green, blue = (one * share + other * (1 - share) for one, other in zip(top[:3], below[:3], strict=True))
    return red, green, blue, 1.0


def contrast(one: Colour, other: Colour) -> float:
    """Return the contrast ratio of two opaque colours (WCAG 2.2), in binary fractions: no ratio here is close."""
    lighter, darker = sorted((_light(one), _light(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _light(colour: Colour) -> float:
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in colour[:3]]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
