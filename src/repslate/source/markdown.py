"""The Markdown of workout.md: CommonMark and tables through markdown-it, and the labels as blocks of their own.

Stands before the outline, which asks it for blocks with their lines and for pictures with their places.
"""

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
from rapidfuzz.distance import OSA


class Label(StrEnum):
    """The labels a paragraph can begin with; the value is how repslate writes them."""

    CUES = "Cues"
    EASIER = "Easier"
    HARDER = "Harder"
    CAUTION = "Caution"
    MUSCLES = "Muscles"
    EQUIPMENT = "Equipment"
    QUIET = "Quiet"


LABEL = re.compile(
    r"[ \t]*(?P<mark>\*\*|__|\*|_|)(?P<word>[^\W\d_]+)(?:[ \t]*\((?P<topic>[^()]*)\))?"
    r"[ \t]*(?:(?P=mark)[ \t]*:|:[ \t]*(?P=mark))[ \t]*"
)
_DASHED = re.compile(
    r"[ \t]*(?:\*\*|__)?(?P<word>[A-Z][a-z]+)(?:\*\*|__)?[ \t]*(?:$|\([^()]*\)[ \t]*$|[ \t][-–—](?:[ \t]|$))"
)
KNOWN_LABELS = {
    **{label.value.casefold(): label for label in Label},
    **{"cue": Label.CUES, "cautions": Label.CAUTION, "muscle": Label.MUSCLES},
}


def read_blocks(text: str) -> Iterator[list[Token]]:
    """Yield the top-level blocks of a Markdown text, each as the tokens from its opening to its closing.

    The first token's `map` holds the block's lines, from 0, end excluded. A labelled paragraph, or one that begins with
    a slip of a label, is one token of type "labelled"; a picture has `meta["at"]`, its place within the inline text.
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


def label_of(line: str) -> Label | None:
    """Return the label that a line begins with, or None."""
    found = LABEL.match(line)
    return KNOWN_LABELS.get(found["word"].casefold()) if found else None


def near_label(line: str) -> tuple[str, Label] | None:
    """Return the first word of a line that was likely meant as a label, and that label; None for any other line."""
    found = LABEL.match(line)
    if found:
        word = found["word"].casefold()
        # One slip of the keyboard in a short word, two in a long one, swapped neighbours being one slip.
        near = [(OSA.distance(word, known), known) for known in KNOWN_LABELS if len(known) > 3 and len(word) > 3]
        distance, known = min(near, default=(9, ""))
        return (found["word"], KNOWN_LABELS[known]) if distance <= (1 if len(known) < 8 else 2) else None
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

    A line is nested, so no label, where it stands in a list item or a quote; one that a list item would only go on
    with (less indented than the item) is not.
    """
    line = state.src[state.bMarks[start] : state.eMarks[start]]
    if not label_of(line):
        near = near_label(line)
        if not near or (silent and near[0][0].islower()):  # a wrapped sentence goes on in lower case
            return False
    if (_depth(state) and not (silent and state.sCount[start] < state.blkIndent)) or state.is_code_block(start):
        return False
    if silent:
        return True
    after = start + 1
    rules = state.md.block.ruler.getRules("paragraph")
    while after < end and not state.isEmpty(after):
        if not state.is_code_block(after) and any(rule(state, after, end, True) for rule in rules):
            break
        after += 1
    state.push("labelled", "", 0).map = [start, after]
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
