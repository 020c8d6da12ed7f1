"""The Markdown of workout.md: CommonMark and tables through markdown-it, and the labels as blocks of their own."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from enum import StrEnum
from functools import cache

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererHTML
from markdown_it.ruler import RuleOptionsType
from markdown_it.rules_block import StateBlock
from markdown_it.rules_inline import StateInline, image
from markdown_it.token import Token

from repslate.source.near import nearest


class Label(StrEnum):
    """The labels a paragraph can begin with; the value is how repslate writes them."""

    CUES = "Cues"
    EASIER = "Easier"
    HARDER = "Harder"
    CAUTION = "Caution"
    MUSCLES = "Muscles"
    EQUIPMENT = "Equipment"
    QUIET = "Quiet"


_BEGIN = r"[ \t]*(?P<mark>\*{1,3}|_{1,3}|)"
_END = r"(?P<shut>(?P=mark))?[ \t]*[:\uff1a](?P<after>(?P=mark)(?![*_]))?[ \t]*"
LABEL = re.compile(rf"{_BEGIN}(?P<word>[^\W\d_]+)(?P<near>(?P=mark))?(?:[ \t]*\((?P<topic>[^()]*)\))?{_END}")
# A caution is read however it is typed: "Caution knees:", "Caution - knees:", "Caution for the knees:". A sentence that
# only begins with the word goes on with a verb or the like, and is not.
_CAUTION = re.compile(
    rf"{_BEGIN}(?P<word>cautions?)(?P<near>(?P=mark))?(?:[ \t]*[-–—,/!][ \t]*|[ \t]+)"
    r"(?:(?:for|with|on|about)[ \t]+)?(?:(?:the|your)[ \t]+)?"
    r"(?P<topic>(?!(?:is|are|must|should|if|when|and|as|because|that|needed|advised)\b)[^\W\d_][\w'’/-]*"
    rf"(?:,?[ \t]+[^\W\d_][\w'’/-]*){{0,2}}){_END}",
    re.IGNORECASE,
)
_DASHED = re.compile(
    r"[ \t]*(?:\*\*|__)?(?P<word>[A-Z][a-z]+)(?:\*\*|__)?[ \t]*(?:$|\([^()]*\)[ \t]*$|[ \t][-–—](?:[ \t]|$))"
)
# What may stand before a label: indents, quotes, list marks and signs of warning.
_BEFORE = re.compile(r"(?:[ \t]|>|[⚠❗❕‼\ufe0f]|(?:[-+*•‣◦–—▪●○]|\d{1,3}[.)])(?=[ \t]))*")
_PICTURE = re.compile(r"[ \t]*!\[[^\[\]]*\]\([^()]*\)[ \t]*")
KNOWN_LABELS = {
    **{label.value.casefold(): label for label in Label},
    **{"cue": Label.CUES, "cautions": Label.CAUTION, "muscle": Label.MUSCLES},
}
# Other words of the trade for what a label is for; nothing but words outside an exercise.
MEANT = {
    **dict.fromkeys("contraindication contraindications warning warnings danger safety".split(), Label.CAUTION),
    **dict.fromkeys("regression regressions modification modifications".split(), Label.EASIER),
    **dict.fromkeys("progression progressions".split(), Label.HARDER),
    **dict.fromkeys("tip tips".split(), Label.CUES),
}


def read_blocks(text: str) -> Iterator[list[Token]]:
    """Yield the top-level blocks of a Markdown text, each as the tokens from its opening to its closing.

    The first token's `map` holds the block's lines, from 0, end excluded. It is of type "labelled" where the paragraph
    begins with a label or a slip of one. A picture has `meta["at"]`, its place within the inline text.
    """
    block: list[Token] = []
    for token in _markdown().parse(text):
        if token.level == 0 and token.nesting >= 0 and block:
            yield block
            block = []
        block.append(token)
    if block:
        yield block


def plain_text(tokens: Sequence[Token]) -> str:
    """Return inline tokens as text without Markdown."""
    return RendererHTML().renderInlineAsText(tokens, _markdown().options, {})


def match_label(line: str) -> re.Match[str] | None:
    """Match a label at the beginning of a line: groups mark, word and topic, and what closes the mark, if anything."""
    found = LABEL.match(line)
    return found if found and found["word"].casefold() in KNOWN_LABELS else _CAUTION.match(line)


def label_of(line: str) -> Label | None:
    """Return the label that a line begins with, or None."""
    found = match_label(line)
    return KNOWN_LABELS[found["word"].casefold()] if found else None


def before_label(line: str) -> str:
    """Return the indent, quote and list marks before a label, or before a word meant as "Caution"; "" elsewhere."""
    found = _BEFORE.match(line)
    before = found[0] if found else ""
    near = near_label(line[len(before) :])
    is_caution = near is not None and near[1] is Label.CAUTION and near[0][0].isupper()
    return before if is_caution or label_of(line[len(before) :]) else ""


def near_label(line: str) -> tuple[str, Label] | None:
    """Return the first word of a line that was likely meant as a label, and that label; None for any other line."""
    found = LABEL.match(line)
    if found:
        word = found["word"].casefold()
        if word in MEANT:
            return found["word"], MEANT[word]
        known = nearest(word, KNOWN_LABELS)
        return (found["word"], KNOWN_LABELS[known]) if known else None
    found = _DASHED.match(line)
    label = KNOWN_LABELS.get(found["word"].casefold()) if found else None
    return (found["word"], label) if found and label else None


@cache
def _markdown() -> MarkdownIt:
    markdown = MarkdownIt("commonmark", {"html": False}).enable("table")
    ends = RuleOptionsType(alt=["paragraph", "reference", "blockquote", "list"])
    markdown.block.ruler.before("table", "labelled", _labelled_rule, ends)
    markdown.inline.ruler.at("image", _placed_image)
    return markdown


def _labelled_rule(state: StateBlock, start: int, end: int, silent: bool) -> bool:
    """Make a labelled paragraph a block of its own, which ends the prose or list before it without a blank line.

    A picture alone on its line ends them too. A line is nested, so neither, where it stands in a list item or a quote;
    one that a list item would only go on with (less indented than the item) is not.
    """
    line = state.src[state.bMarks[start] : state.eMarks[start]]
    is_picture = silent and _PICTURE.fullmatch(line)
    if not is_picture and not label_of(line):
        near = near_label(line)
        if not near or (silent and near[0][0].islower()):  # a wrapped sentence goes on in lower case
            return False
    if (_depth(state) and not (silent and state.sCount[start] < state.blkIndent)) or state.is_code_block(start):
        return False
    if silent:
        return True
    after = start + 1
    rules = state.md.block.ruler.getRules("paragraph")
    state.parentType = "root"  # "paragraph", which a heading's rule leaves behind, lets no list begin but at 1
    while after < end and not state.isEmpty(after):
        if not state.is_code_block(after) and any(rule(state, after, end, True) for rule in rules):
            break
        after += 1
    state.push("labelled", "", 1).map = [start, after]
    text = state.push("inline", "", 0)
    text.map, text.content, text.children = [start, after], state.getLines(start, after, 0, False), []
    state.push("labelled_end", "", -1)
    state.line = after
    return True


def _depth(state: StateBlock) -> int:
    """Return how deep the line is nested, the table that it would end not counted."""
    if state.parentType != "table":
        return state.level
    return next(token.level for token in reversed(state.tokens) if token.type == "table_open")


def _placed_image(state: StateInline, silent: bool) -> bool:
    """Read an image as markdown-it does and note where in the inline text it stands, which its token leaves out."""
    start = state.pos
    if not image(state, silent):
        return False
    if not silent:
        state.tokens[-1].meta["at"] = (start, state.pos)
    return True
