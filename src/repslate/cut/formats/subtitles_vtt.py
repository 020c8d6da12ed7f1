"""subtitles.vtt: WebVTT, what players make of it, and what they pass over."""

from __future__ import annotations

from collections.abc import Iterator

from repslate.cut.cue import Cue, unreadable, unusual
from repslate.cut.webvtt import Block, has_bare_angle, is_authored, plain, read_webvtt
from repslate.source.finding import Finding

POINT = "."
ABREAST = True
_BECAUSE = "W3C WebVTT, file structure"


def read(text: str, file: str) -> Iterator[Cue | Finding]:
    """Yield cues as players read them (W3C WebVTT §6.1), and what they pass over."""
    track = read_webvtt(text, file)
    if not track.signed:
        what = f"{track.unsigned}; no player reads the file"
        yield unreadable(track.first.span, what, "begin the file with WEBVTT and an empty line", _BECAUSE)
        return
    for line in track.header:
        if line.text.startswith("X-TIMESTAMP-MAP"):  # places a piece of a stream; a whole file needs none
            what = "found X-TIMESTAMP-MAP, which belongs to pieces of a stream and is ignored here"
            yield unusual(line.span, what, "delete X-TIMESTAMP-MAP and what follows it", "RFC 8216 §3.5")
        else:
            what = f"found “{line.text[:40]}”, which nothing reads, expected an empty line after WEBVTT"
            yield unusual(line.span, what, "put an empty line under WEBVTT", _BECAUSE)
    has_cue = False
    for block in track.blocks:
        if block.above in ("WEBVTT", "NOTE", "STYLE", "REGION", "cue"):
            what = f"found the end of {_called(block.above)}, expected an empty line above the times"
            yield unusual(block.lines[0].span, what, "put an empty line above the times", _BECAUSE)
        if block.kind == "cue":
            yield from _read_cue(block)
            has_cue = has_cue or block.timings is not None
        else:
            yield from _passed_over(block, after_cue=has_cue)


def _called(kind: str) -> str:
    return {"cue": "another cue", "WEBVTT": "the header"}.get(kind, f"a {kind} block")


def _read_cue(block: Block) -> Iterator[Cue | Finding]:
    line = block.lines[block.arrow or 0]
    text = "\n".join(below.text for below in block.payload)
    if block.timings is None:
        lost = "; its text is left out" if text.strip() else ""
        what = f"found “{line.text[:60]}”, expected times such as 00:01.000 --> 00:04.000{lost}"
        comma = "," in line.text
        help_ = "write a full stop before the milliseconds" if comma else "write MM:SS.mmm or HH:MM:SS.mmm"
        yield unreadable(line.span, what, f"{help_}, for example 01:05.000", _BECAUSE)
        return
    yield Cue(block.timings.start, block.timings.end, plain(text), line.span, block.id)
    if not is_authored(line.text):
        what = f"found “{line.text[:60]}”, which players understand, expected times such as 00:01.000 --> 00:04.000"
        yield unusual(line.span, what, "write two digits for hours, and a space on both sides of the arrow", _BECAUSE)
    if block.side:
        what = f"found times right under “{block.id[:40]}”, which is taken for the cue's name, expected an empty line"
        yield unusual(line.span, what, "put an empty line above the times", _BECAUSE)
    if has_bare_angle(text):
        what = "found “<”, behind which players hide the text, expected &lt;"
        yield unusual(line.span, what, "write &lt; for < in the text", "W3C WebVTT, cue text")


def _passed_over(block: Block, *, after_cue: bool) -> Iterator[Finding]:
    """Yield what there is to say of a block that is no cue: a NOTE is nobody's business, other text is lost."""
    first = block.lines[0]
    if block.kind == "text":
        what = f"found “{first.text[:40]}”, expected times such as 00:01.000 --> 00:04.000; the text is left out"
        yield unreadable(first.span, what, "write times above the text, or NOTE if it is a remark", _BECAUSE)
    elif block.arrow is not None:
        what = f"found a cue behind {block.kind}, which is left out, expected a remark"
        yield unusual(first.span, what, f"write {block.kind} on a line of its own", _BECAUSE)
    elif block.kind != "NOTE" and after_cue:
        what = f"found {block.kind} after a cue, where it is not read, expected it before the first"
        yield unusual(first.span, what, "move STYLE and REGION blocks up, or delete them", _BECAUSE)
