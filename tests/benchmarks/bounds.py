"""What a hostile file costs: `python tests/benchmarks/bounds.py [--only WORDS] [--sizes 128,256,512,1024] [--slow]`.

Each reader gets files that are nothing but what is costly to read, in several sizes, each in a process of its own.
A row gives the processor seconds and the peak memory at each size, less what an ordinary episode costs, and how the
seconds grow from one size to the next. A row fails above 5 s, 512 MiB, or 2.3 times for twice the size (times below
a quarter of a second are not compared).
"""

# ruff: noqa: E501, E731, PLR0912  the shapes stand side by side, as one looks for one among them

from __future__ import annotations

import argparse
import contextlib
import os
import resource
import shutil
import signal
import sys
import tempfile
import time
import zlib
from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path

ROOT = Path(__file__).parents[2]
EPISODE = ROOT / "samples" / "boathouse-kettlebells"
SECONDS, MEMORY, GROWTH, COMPARED = 5.0, 512, 2.3, 0.25
STOP = 10  # seconds after which a run is ended; the sizes above it are not tried

Shape = Callable[[int], bytes]


def again(piece: str, *, before: str = "", after: str = "", most: int | None = None) -> Shape:
    """Return a shape that repeats a piece up to the size; "{n}" in it is counted up, `most` bounds the pieces."""

    def made(size: int) -> bytes:
        room = size - len((before + after).encode())
        if "{n" not in piece:
            count = room // len(piece.encode())
            return (before + piece * (count if most is None else min(most, count)) + after).encode()
        parts: list[str] = []
        used = 0
        while True:
            part = piece.format(n=len(parts) + 1)
            used += len(part.encode())
            if used > room or len(parts) == most:
                return (before + "".join(parts) + after).encode()
            parts.append(part)

    return made


def nested(opening: str, closing: str, *, before: str = "", inner: str = "", after: str = "") -> Shape:
    """Return a shape that opens as often as the size allows, then closes as often."""

    def made(size: int) -> bytes:
        times = (size - len(before + inner + after)) // len(opening + closing)
        return (before + opening * times + inner + closing * times + after).encode()

    return made


TITLE = "---\nformat: 1\ntitle: T\n---\n"
PLAIN = f"{TITLE}## Block · 2 rounds\n\n### Goblet squat\n"
SRT = "1\n00:00:01,000 --> 00:10:00,000\n"
CUE = "{n}\n00:00:01,000 --> 00:00:02,000\n"


def pdf(*bodies: bytes, pages: int = 1) -> bytes:
    """Return a PDF: object 1 is the catalogue, 2 the pages, 3 the page; `bodies` are objects 4 and on."""
    kids = b"3 0 R " * pages
    page = (
        b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 595 842]/Contents 4 0 R/Resources<</XObject<</A 5 0 R>>"
        b"/Pattern<</P 5 0 R>>/Font<</F<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>>>>>>>"
    )
    objects = [b"<</Type/Catalog/Pages 2 0 R>>", b"<</Type/Pages/Count %d/Kids[%s]>>" % (pages, kids), page, *bodies]
    out, places = b"%PDF-1.7\n", []
    for number, body in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (number, body)
    table = b"xref\n0 %d\n0000000000 65535 f \n" % (len(objects) + 1)
    table += b"".join(b"%010d 00000 n \n" % place for place in places)
    return out + table + b"trailer<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF" % (len(objects) + 1, len(out))


def stream(data: bytes, keys: bytes = b"") -> bytes:
    """Return a compressed stream object."""
    packed = zlib.compress(data, 9)
    return b"<</Length %d/Filter/FlateDecode%s>>stream\n%s\nendstream" % (len(packed), keys, packed)


FORM = b"/Type/XObject/Subtype/Form/BBox[0 0 595 842]/Resources<</XObject<</A %d 0 R>>/Font<</F<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>>>>>"
TEXT = b"BT /F 9 Tf 20 20 Td (Goblet squat) Tj ET\n"


def pdf_text(size: int) -> bytes:
    """Text packed so well that a small file draws millions of letters; `size` counts packed bytes."""
    return pdf(stream(TEXT * (size * 6)), b"null")


def pdf_forms(_: int) -> bytes:
    """Twelve forms, each of which draws the next one eight times."""
    deep = [stream(b"q /A Do Q\n" * 8, FORM % (6 + n)) for n in range(9)]
    return pdf(stream(TEXT + b"/A Do\n" * 8), *deep, stream(b"0 0 500 800 re f\n", FORM % 4))


def pdf_paths(size: int) -> bytes:
    """A page filled over and over."""
    return pdf(stream(TEXT + b"0 0 595 842 re f\n" * (size * 4)), b"null")


def pdf_curves(size: int) -> bytes:
    """One path of very many curves, drawn as a dashed line."""
    curve = b"0 0 m 900 900 10 500 595 842 c\n"
    return pdf(stream(TEXT + b"[.01 .01] 0 d 9 w\n" + curve * (size // 4) + b"S\n"), b"null")


def pdf_pages(size: int) -> bytes:
    """The same page as often as the size allows."""
    return pdf(stream(TEXT), b"null", pages=size // 6)


def pdf_image(_: int) -> bytes:
    """A picture of 30,000 × 30,000 dots, drawn many times."""
    keys = b"/Type/XObject/Subtype/Image/Width 30000/Height 30000/ColorSpace/DeviceGray/BitsPerComponent 8"
    picture = zlib.compressobj(9)
    packed = b"".join(picture.compress(bytes(30000 * 100)) for _ in range(300)) + picture.flush()
    body = b"<</Length %d/Filter/FlateDecode%s>>stream\n%s\nendstream" % (len(packed), keys, packed)
    return pdf(stream(TEXT + b"q 595 0 0 842 0 0 cm /A Do Q\n" * 40), body)


def pdf_pattern(_: int) -> bytes:
    """A pattern of tiles a hundredth of a point wide over the whole page, a hundred times."""
    keys = b"/Type/Pattern/PatternType 1/PaintType 1/TilingType 1/BBox[0 0 9 9]/XStep .05/YStep .05/Resources<<>>"
    fill = b"/Pattern cs /P scn 0 0 595 842 re f\n"
    return pdf(stream(TEXT + fill * 100), stream(b"1 0 0 rg 0 0 .04 .04 re f\n", keys))


def pdf_shading(size: int) -> bytes:
    """Very many transparency groups, each as large as the page."""
    form = stream(b"/A Do\n", FORM % 6 + b"/Group<</S/Transparency/I true/K true>>")
    return pdf(
        stream(TEXT + b"q /A Do Q\n" * (size // 8)),
        form,
        stream(b"0 0 9 9 re f", FORM % 4 + b"/Group<</S/Transparency>>"),
    )


def markdown() -> Iterator[tuple[str, Shape]]:
    """Yield what is costly in Markdown, as the text under an exercise."""
    for piece in (
        "[", "![", "[a](", "[a](b", "[a](<b", "![a](b.png) ", "[a][b]", "*", "**a ", "*a _b ", "_", "a_", "`", "`a", "\\", "&", "&a", "<", "<a ",
        "<!--", "<?", "<!A ", "<![CDATA[", "</", "<a>", "a@", "http://", "a\n", "a  \n", "a\n\n", "- a\n", "-\n", "1. a\n", "> a\n", "|a", "|a|b|\n|-|-|\n",
        "# a\n", "#a\n", "a\n=\n", "```\n", "~~~ \n", "    a\n", "---\n", "[a]: b\n", "[{n}]: b\n", "[{n}]: b\n[{n}]\n", "Cues:\n- a\n", "Caution: a\n", "Caution (a): b\n", "**Caution: a** b\n",
        "Cue ", "Easier: a\n", "• a\n", "  - a\n", "\t", " ", "a\t", " \n", "(", "a(b) ", "“", "1 ", "3 × 8 ", "\ufffd", "é", "word ", "- [ ] a\n",
        "| a |\n", "![", "![a]", "![a]( ", "**", "*a**a ", "~~a ", "!", "<a@b.c>", "<http://a> ", "&#1234;", "&copy; ", "Note: a\n", "Safety: a\n", "10 reps\n\n", "A1: a\n", "press the knees out, ", "if it hurts, stop. ",
    ):  # fmt: skip
        yield f"md {piece!r}", again(piece, before=PLAIN + "3 × 8\n\n")
    yield "md quotes nested", nested("> ", "", before=PLAIN + "3 × 8\n\n", inner="a\n")
    yield "md lists nested", nested("- ", "", before=PLAIN + "3 × 8\n\n", inner="a\n")
    yield "md links nested", nested("[", "](a)", before=PLAIN + "3 × 8\n\n", inner="a")
    yield "md emphasis nested", nested("*a ", " a*", before=PLAIN + "3 × 8\n\n")
    yield (
        "md stairs",
        lambda size: (PLAIN + "3 × 8\n\n" + "".join("  " * n + "- a\n" for n in range(int(size**0.5)))).encode(),
    )
    yield (
        "md table wide",
        lambda size: (
            PLAIN + "3 × 8\n\n" + "|a" * (size // 12) + "|\n" + "|-" * (size // 12) + "|\n" + "|b\n" * (size // 6)
        ).encode(),
    )


def workouts() -> Iterator[tuple[str, Shape]]:
    """Yield what is costly in workout.md beside its Markdown."""
    yield "exercises", again("### A{n} Goblet squat\n3 × 8\n\n", before=TITLE + "## Block\n\n")
    yield "exercises unknown", again("### Zorbax wibble {n}\n3 × 8\n\n", before=TITLE + "## Block\n\n")
    yield (
        "exercises unlike",
        again(
            "### Frontal zwick {n}\n3 × 8 @ 20 kg, rest 60 s\n\nCaution: Mind your knees.\n\n",
            before=TITLE + "## Block\n\n",
        ),
    )
    yield "blocks", again("## Block {n} · 3 rounds\n\n### Row {n}\n3 × 8\n\n", before=TITLE)
    yield "blocks empty", again("## Block {n}\n", before=TITLE)
    for name, words in (
        ("unknown", "zorbax wibble "),
        ("known", "goblet squat "),
        ("letters", "a "),
        ("one word", "zorbax"),
        ("signs", "- ("),
        ("digits", "1"),
        ("slip", "gobelt squt "),
        ("kit", "kettlebell "),
        ("ly", "slowly "),
    ):
        yield f"name of {name}", again(words, before=TITLE + "## Block\n\n### ", after="\n3 × 8\n")
        yield f"block name of {name}", again(words, before=TITLE + "## ", after="\n\n### Row\n3 × 8\n")
        yield (
            f"title of {name}",
            again(words, before="---\nformat: 1\ntitle: ", after="\n---\n## Block\n\n### Row\n3 × 8\n"),
        )
    for dose in (
        "3 × 8 ",
        "8–",
        "8/",
        "8,",
        "8-",
        "1",
        "1 ",
        "x",
        "3 × ",
        "@ 20 kg ",
        "20 kg + ",
        "tempo 3-1-1-0, ",
        "rest 60 s, ",
        "each side ",
        "then ",
        "1:",
        "1.",
        "per ",
        "60 s ",
        "a ",
        "RPE 8 ",
        "to failure ",
        "%",
        "(",
        "½",
        "+ ",
        "; ",
        "min ",
    ):
        yield f"dose {dose!r}", again(dose, before=PLAIN, after="\n\nWords.\n")
        yield f"heading {dose!r}", again(dose, before=TITLE + "## Block · 3 rounds · ", after="\n\n### Row\n3 × 8\n")
    yield "doses on lines", again("3 × 8 @ 20 kg\n", before=PLAIN)
    yield "silences", again("<!-- quiet: rest-missing a -->\n", before=PLAIN + "3 × 8\n")
    yield "comments", again("<!-- a -->\n", before=PLAIN + "3 × 8\n")
    yield "comments open", again("<!-- a ", before=PLAIN + "3 × 8\n")
    yield "anchors", again("a-", before=PLAIN + "3 × 8 {#", after="}\n")
    yield "ids", again("### Row {n} {{row}}\n3 × 8\n", before=TITLE + "## Block\n")
    yield "pictures", again("![Someone {n}](pictures/{n}.png)\n\n", before=PLAIN + "3 × 8\n\n")
    yield "equipment", again("thing {n}, ", before=PLAIN + "3 × 8\n\nEquipment: ", after="\n")
    yield "muscles", again("muscle {n}, ", before=PLAIN + "3 × 8\n\nMuscles: ", after="\n")
    yield "cues", again("- Stand tall {n}\n", before=PLAIN + "3 × 8\n\nCues:\n")
    yield "cautions", again("Caution: Mind the knees, stop if it hurts {n}.\n", before=PLAIN + "3 × 8\n\n")
    yield "harmful words", again("no pain no gain burns fat detox ", before=PLAIN + "3 × 8\n\n", after="\n")


def yamls() -> Iterator[tuple[str, Shape]]:
    """Yield what is costly in YAML."""
    yield "nested [", nested("[", "]", before="a: ")
    yield "nested {", nested("{a: ", "}", before="a: ")
    yield "nested [ open", again("[", before="a: ")
    yield "nested -", again("- ", before="a:\n  ")
    yield "nested ?", again("? ", before="")
    yield "stairs", lambda size: "".join(" " * n + "a:\n" for n in range(int((2 * size) ** 0.5))).encode()
    yield (
        "aliases",
        lambda size: (
            "a0: &a0 [x]\n" + "".join(f"a{n}: &a{n} [{f'*a{n - 1},' * 9}]\n" for n in range(1, size // 48))
        ).encode(),
    )
    yield "anchors", again("k{n}: &a{n} b\n")
    yield "keys", again("k{n}: b\n")
    yield "keys twice", again("title: b\n")
    yield "list", again("b, ", before="hashtags: [", after="]\n")
    yield "long text", again("word ", before="summary: ")
    yield "long word", again("w", before="summary: ")
    yield "long key", again("w", after=": a\n")
    yield "long number", again("1", before="episode: ")
    yield "quoted", again("\\", before='summary: "')
    yield "quoted x", again("\\x41", before='summary: "', after='"\n')
    yield "lines", again("  word\n", before="summary: >\n")
    yield "empty lines", again("\n", before="summary: |\n")
    yield "comments", again("# a\n")
    yield "colons", again(": ")
    yield "tags", again("!!str ", before="a: ")
    yield "documents", again("---\n")
    yield "tabs", again("\t", before="a: ")
    yield "blanks", again(" ", before="a: ", after="b\n")
    yield (
        "merge",
        lambda size: (
            "a0: &a0 {x: 1}\n" + "".join(f"a{n}: &a{n} {{<<: *a{n - 1}}}\n" for n in range(1, size // 26))
        ).encode(),
    )


def series() -> Iterator[tuple[str, Shape]]:
    """Yield what is costly in a list of a series' own exercises."""
    yield (
        "entries",
        again(
            "- name: Zorbax {n}\n  pattern: squat\n  equipment: [mat]\n  muscles: [quadriceps]\n", before="exercises:\n"
        ),
    )
    yield "names", again("name {n}, ", before="exercises:\n- name: Zorbax\n  aliases: [", after="]\n")


def subtitles() -> Iterator[tuple[str, Shape]]:
    """Yield what is costly in subtitles and in what is said."""
    for words in (
        "1 ", "one ", "twenty five and a half ", "seventeen ", "and a half ", "two to three ", "three sets of eight ", "8 reps at 20 kilos ", "1.5 ", "1,5 ", "100 ", "1", "hundred ", "goblet squat ", "squat ", "row ", "gobelt ", "next up ", "rest ",
        "zorbax ", "a ", "knees ", "pain ", "doctor ", "not ", "sorry ", "no ", "or ", "to ", "kilos ", "minutes ", "each side ", "x", "<i>", "<", "{", "&amp;", "&", "[Music] ", "- ", "♪ ", "\n- a", "word\n", "half ", "point ", "a quarter ", "each ", "more ", "round ", "as many as possible ", "until ", "ten, sorry, ten ", "é ", "①", "²", "and ", "of ", "the ", "then ", "press ", "between ",
    ):  # fmt: skip
        yield f"one cue {words!r}", again(words, before=SRT, after="\n")
    for words in (
        "one",
        "goblet squat",
        "three sets of eight at 20 kilos",
        "next up is the one arm row, two sets of ten to twelve",
        "zorbax wibble",
        "stop if your knees hurt",
        "rest a minute",
        "a",
        "",
    ):
        yield f"cues {words!r}", again(f"{CUE}{words}\n\n")
    yield (
        "cues in turn",
        lambda size: "".join(
            f"{n}\n{n // 3600:02}:{n // 60 % 60:02}:{n % 60:02},000 --> {n // 3600:02}:{n // 60 % 60:02}:{n % 60:02},900\nthen {('goblet squat', 'row', 'swing', 'push-up', 'plank')[n % 5]}, {n % 20} reps\n\n"
            for n in range(size // 60)
        ).encode(),
    )
    yield "blank lines", again("\n")
    yield "arrows", again(" --> ")
    yield "arrow lines", again("00:00:01,000 --> \n")
    yield "times", again("00:00:01,000 --> 00:00:02,000\n")
    yield "digits", again("1")
    yield "blanks", again(" ")
    yield "blanks in a time", again(" ", before="1\n00:00:01,000", after="--> 00:00:02,000\na\n")


def webvtt() -> Iterator[tuple[str, Shape]]:
    """Yield what is costly in WebVTT."""
    head = "WEBVTT\n\n"
    for piece in (
        "NOTE a\n\n",
        "STYLE\n\n",
        "REGION\n\n",
        "id\n",
        "00:01.000 --> 00:02.000\na\n\n",
        "00:01.000 --> 00:02.000\n",
        "a --> b\n",
        " --> ",
        "-->",
        "00:01.000 --> 00:02.000 a:b\na\n\n",
    ):
        yield f"vtt {piece!r}", again(piece, before=head)
    for piece in ("<c>", "<c", "</c>", "<00:01.000>", "&lt;", "&", "<v a>", "<", "<c.a", "<lang en>"):
        yield f"vtt text {piece!r}", again(piece, before=head + "00:01.000 --> 00:02.000\n")
    yield "vtt settings", again("a:b ", before=head + "00:01.000 --> 00:02.000 ", after="\na\n")
    yield "vtt blanks", again(" ", before=head + "00:01.000", after="--> 00:02.000\na\n")


def transcripts() -> Iterator[tuple[str, Shape]]:
    """Yield what is costly in a plain transcript."""
    for piece in (
        "a\n",
        "[0:01] squat\n",
        "[0:01 ",
        "[",
        "0:01 a\n",
        "0:01",
        "1",
        "1:",
        "1 - ",
        "1:1 ",
        "\n",
        " ",
        "[0:01] \n",
        "(0:01) a\n",
        "word ",
    ):
        yield f"transcript {piece!r}", again(piece, before="[0:00] Hello\n")
    yield "transcript blanks", again(" ", before="[0:00] Hello\n[", after="0:01] a\n")
    yield "transcript dashes", again("0:01 - 0:02 ", before="")


def chapters() -> Iterator[tuple[str, Shape]]:
    """Yield what is costly in chapters.txt."""
    for piece in (
        "0:01 Goblet squat\n",
        "0:01 Zorbax {n}\n",
        "0:01 a\n",
        "a\n",
        "0:01\n",
        "\n",
        "0:",
        "1",
        "0:01 ",
        "- ",
        "{{",
        "}}",
        "&amp;",
        "&",
        "0:01 Row {{row}}\n",
        "0:{n:02} a + b + c\n",
    ):
        yield (
            f"list {piece!r}",
            again(piece if "{n" in piece else piece.replace("{{", "{").replace("}}", "}"), before="0:00 Welcome\n"),
        )
    for words in (
        "a + ",
        "Superset A: ",
        "zorbax ",
        "goblet squat ",
        "squat ",
        "(",
        "a/",
        "- ",
        "a ",
        "&amp;",
        "{a} ",
        " ",
    ):
        yield f"list title {words!r}", again(words, before="0:00 Welcome\n0:10 ", after="\n")
    yield (
        "list titles of 200",
        lambda size: "".join(f"{n // 60}:{n % 60:02} {'zorbax wibble ' * 13}\n" for n in range(size // 190)).encode(),
    )
    yield (
        "list titles of parts",
        lambda size: "".join(f"{n // 60}:{n % 60:02} {'a + ' * 45}\n" for n in range(size // 190)).encode(),
    )


def ffmetadata() -> Iterator[tuple[str, Shape]]:
    """Yield what is costly in chapters.ffmeta."""
    head = ";FFMETADATA1\n"
    for piece in (
        "[CHAPTER]\n",
        "a\\\n",
        "\\\n",
        "\\",
        "\\\\",
        "=",
        "a=b\n",
        ";\n",
        "[CHAPTER]\nTIMEBASE=1/1000\nSTART=0\nEND=1000\ntitle=a\n",
        "[CHAPTER]\nTIMEBASE=1/1000\nSTART={n}000\nEND={n}999\ntitle=Zorbax {n}\n",
        "\n",
        "a",
    ):
        yield f"ffmeta {piece!r}", again(piece, before=head)
    yield "ffmeta value", again("\\\n", before=head + "[CHAPTER]\nTIMEBASE=1/1000\nSTART=0\nEND=1000\ntitle=a")
    yield "ffmeta one key", again("a", before=head + "[CHAPTER]\n")
    yield "ffmeta one key with ends", again("a\\\n", before=head + "[CHAPTER]\n")


EVENT = "{n:06} AX V C 00:00:00:00 00:00:01:00 01:00:00:00 01:00:01:00\n"


def edits() -> Iterator[tuple[str, Shape]]:
    """Yield what is costly in an edit list."""
    head = "TITLE: T\nFCM: NON-DROP FRAME\n"
    for piece in (
        EVENT,
        "* FROM CLIP NAME: a\n",
        "* LOC: 01:00:00:00 RED a\n",
        EVENT + "* LOC: 01:00:00:00 RED Goblet squat {n}\n",
        EVENT + "M2 AX 050.0 00:00:00:00\n",
        "M2 AX 050.0 00:00:00:00\n",
        "FCM: DROP FRAME\n",
        "\n",
        "a\n",
        " ",
        "1",
        "1 ",
        "00:",
        "* ",
        "000001 ",
        "|C:ResolveColorBlue |M:a |D:1\n",
        EVENT + " |C:ResolveColorBlue |M:a |D:1\n",
    ):
        yield f"edl {piece[:30]!r}", again(piece, before=head)
    yield (
        "edl events in turn",
        lambda size: (
            head
            + "".join(f"{n % 999:03} AX V C {_tc(n)} {_tc(n + 1)} {_tc(n)} {_tc(n + 1)}\n" for n in range(size // 62))
        ).encode(),
    )
    yield (
        "edl events and markers",
        lambda size: (
            head
            + "".join(
                f"{n % 999:03} AX V C {_tc(n)} {_tc(n + 1)} {_tc(n)} {_tc(n + 1)}\n* LOC: {_tc(n)} RED Row {n}\n"
                for n in range(size // 90)
            )
        ).encode(),
    )


def _tc(second: int) -> str:
    return f"{second // 3600:02}:{second // 60 % 60:02}:{second % 60:02}:00"


def timelines() -> Iterator[tuple[str, Shape]]:
    """Yield what is costly in OpenTimelineIO."""
    yield "otio nested [", nested("[", "]")
    yield "otio nested {", nested('{"a":', "}", inner="1")
    yield "otio digits", again("1")
    yield "otio strings", again('"a",', before="[", after="1]")
    yield "otio escapes", again("\\u0041", before='["', after='"]')
    yield "otio keys", again('"{n}":1,', before="{{".replace("{{", "{"), after='"z":1}')
    clip = (
        '{"OTIO_SCHEMA":"Clip.1","name":"a","markers":[],"effects":[],"media_reference":null,"source_range":{"OTIO_SCHEMA":"TimeRange.1",'
        '"start_time":{"OTIO_SCHEMA":"RationalTime.1","value":0,"rate":25},"duration":{"OTIO_SCHEMA":"RationalTime.1","value":25,"rate":25}}},'
    )
    marker = (
        '{"OTIO_SCHEMA":"Marker.2","name":"Row","color":"RED","marked_range":{"OTIO_SCHEMA":"TimeRange.1",'
        '"start_time":{"OTIO_SCHEMA":"RationalTime.1","value":0,"rate":25},"duration":{"OTIO_SCHEMA":"RationalTime.1","value":0,"rate":25}}},'
    )
    head = '{"OTIO_SCHEMA":"Timeline.1","name":"t","tracks":{"OTIO_SCHEMA":"Stack.1","name":"s","markers":[%s],"children":[%s{"OTIO_SCHEMA":"Track.1","name":"v","kind":"Video","children":['
    yield "otio clips", again(clip, before=head % ("", ""), after=clip[:-1] + "]}]}}")
    tail = clip[:-1] + "]}]}}"
    yield "otio markers", lambda size: (head % (marker * (size // len(marker)) + marker[:-1], "") + tail).encode()
    yield (
        "otio clips and markers",
        lambda size: (
            head % ((marker * (size // 2 // len(marker)) + marker[:-1]), "") + clip * (size // 2 // len(clip)) + tail
        ).encode(),
    )
    stack = '{"OTIO_SCHEMA":"Stack.1","name":"s","children":['
    yield "otio stacks", nested(stack, "]}", before='{"OTIO_SCHEMA":"Timeline.1","name":"t","tracks":', after="}")
    yield (
        "otio tracks",
        again(
            '{"OTIO_SCHEMA":"Track.1","name":"v","kind":"Video","children":[]},',
            before='{"OTIO_SCHEMA":"Timeline.1","name":"t","tracks":{"OTIO_SCHEMA":"Stack.1","name":"s","markers":[],"children":[',
            after='{"OTIO_SCHEMA":"Track.1","name":"v","kind":"Video","children":[]}]}}',
        ),
    )


def html() -> Iterator[tuple[str, Shape]]:
    """Yield what is costly in a page."""
    for piece in (
        "<a ", "<a", "<!--", "</", "<?", "<!", "<![", "<![CDATA[", "<", "&", "&a", "&#", "&amp", "<h2>", "<h2>a", "<p>", "<div>", "<div>a", "<a href=x>", "<a href=x>a", "<a href=x>a</a>", "<a href=x>a</a>\n", "</div>", "<td>", "<tr><td>a", "<li>a", "<li>a<ul>", "<b>", "<b>a",
        "<script>", "<style>", "<title>", "<textarea>", "<svg>", "<img alt=a>", "<a b='", "<a b=\"", "<a b=c ", "<br>", "a ", "a\n", "\n", "10 reps ", "10 reps, rest 60 s. ", "<p>Goblet squat 3 × 8</p>\n", "<h2>Goblet squat</h2>\n", "<li>Goblet squat 3 × 8</li>", "1", "1 ", "×", "1:", "0:01 a\n", "<p hidden>", "<p hidden>a", "<span hidden>a", "<i id=a{n}>", "<script type=application/ld+json>", "<meta name=a content=b>", "<!doctype", "<a/", "<a\n", "<p title=a>", "Caution: a. ", "kg ", "20 kg ", "(", "–", "<b>a</b>", "http://a ", "<a\x0c", "<template>", "<plaintext>", "<noscript>", "<iframe>",
    ):  # fmt: skip
        yield f"html {piece!r}", again(piece, before="<!doctype html><title>T</title><body>")
    ld = '<!doctype html><title>T</title><script type="application/ld+json">'
    yield "html data nested", nested("[", "]", before=ld, after="</script>")
    yield "html data long", again("a", before=ld + '{"name":"', after='"}</script>')
    yield "html data list", again('{"@type":"HowToStep","name":"a"},', before=ld + '{"a":[', after="1]}</script>")
    yield "html data digits", again("1", before=ld, after="</script>")
    yield "html attributes", again("a{n}=b ", before="<p ", after=">")


def posts() -> Iterator[tuple[str, Shape]]:
    """Yield what is costly in plain text that was published."""
    for piece in (
        "a\n",
        "a ",
        "0:01 a\n",
        "0:01 Goblet squat\n",
        "10 reps\n",
        "1",
        "1 ",
        "1:",
        "http://",
        "http://a ",
        "http://a.,",
        "#a ",
        "- a\n",
        "- ",
        " ",
        "\n",
        "Goblet squat 3 × 8\n",
        "Goblet squat ",
        "Caution: a\n",
        "20 kg ",
        "3 × 8 ",
        "×",
        "–",
        "(",
        "a: b\n",
        "Superset A · 3 rounds\n",
        "A1 ",
        "rest 60 s ",
        "minutes ",
        "&",
        "\r",
    ):
        yield f"post {piece!r}", again(piece)


def articles() -> Iterator[tuple[str, Shape]]:
    """Yield what is costly in the article as Markdown."""
    for piece in (
        "[",
        "![",
        "[a](",
        "[a](<b",
        "*",
        "*a _b ",
        "_",
        "`",
        "`a",
        "<",
        "<!--",
        "<?",
        "</",
        "&",
        "> a\n",
        "- a\n",
        "|a",
        "|a|b|\n|-|-|\n",
        "# a\n",
        "## Goblet squat\n3 × 8\n",
        "[a]: b\n",
        "a\n\n",
        "1 ",
        "10 reps ",
        "[a](b) ",
        "**a ",
        "| Goblet squat | 3 × 8 |\n",
        "- 3 × 8\n",
    ):
        yield f"article {piece!r}", again(piece, before="# T\n\n")
    yield "article quotes nested", again("> ", before="# T\n\n", after="a\n")
    yield "article lists nested", again("- ", before="# T\n\n", after="a\n")
    yield "article links nested", nested("[", "](a)", before="# T\n\n", inner="a")


def jsons() -> Iterator[tuple[str, Shape]]:
    """Yield what is costly in the record of a build."""
    yield "nested [", nested("[", "]")
    yield "nested {", nested('{"a":', "}", inner="1")
    yield "digits", again("1")
    yield "names", again('"{n}":"a",', before='{"format":1,"outputs":{', after='"z":"a"},"inputs":{}}')
    yield "long", again("a", before='{"format":1,"episode":"', after='"}')


def templates() -> Iterator[tuple[str, Shape]]:
    """Yield templates of one's own whose work has nothing to do with their size."""
    for text in (
        "{% for a in range(99999) %}{% for b in range(99999) %}{% for c in range(99999) %}{% endfor %}{% endfor %}{% endfor %}",
        "{{ 'a'.center(3000000000) }}", "{{ 'a' * 3000000000 }}", "{{ 9 ** 9 ** 9 }}", "{{ '%3000000000d' % 1 }}", "{{ 'a'|center(3000000000) }}", "{{ '{:3000000000}'.format(1) }}",
        "{% macro m() %}{{ m() }}{{ m() }}{% endmacro %}{{ m() }}", "{% set x = namespace(t='a' * 1000) %}{% for a in range(60) %}{% set x.t = x.t + x.t %}{% endfor %}", "{{ range(99999)|list * 99999 }}", "{{ ('a' * 99999)|replace('a', 'a' * 99999) }}",
        "{% include 'article.html' %}", "{% extends 'article.html' %}", "{{ lipsum(n=99999) }}", "{% for a in 'a' * 90000000 %}{{ a }}{% endfor %}", "{{ 'a'.ljust(3000000000) }}", "{{ 1 << 99999999999 }}",
        "{{ ('a,' * 900000).split(',')|join('a' * 9999) }}", "{{ 'a'|indent(3000000000, true) }}", "{{ ('a ' * 9999999)|wordwrap(1) }}", "{{ [1]|batch(3000000000, 1)|list }}", "{{ [1]|slice(3000000000)|list }}",
    ):  # fmt: skip
        yield f"template {text}"[:60], lambda _, text=text: text.encode()  # type: ignore[misc]


#: Each case: its name, the command, the file it makes, its shape, whether other sizes make another file.
Case = tuple[str, str, str, Shape, bool]


def cases() -> Iterator[Case]:
    """Yield every case."""
    for name, shape in (*workouts(), *markdown()):
        yield f"workout.md: {name}", "check", "workout.md", shape, True
    for name, shape in yamls():
        front = lambda size, shape=shape: (
            b"---\nformat: 1\ntitle: T\n" + shape(size - 80) + b"\n---\n## Block\n\n### Row\n3 \xc3\x97 8\n"
        )
        yield f"front matter: {name}", "check", "workout.md", front, True
        yield f"series.yaml: {name}", "check", "series.yaml", shape, True
        yield f"exercises.yaml: {name}", "check", "exercises.yaml", shape, True
    for name, shape in series():
        yield f"exercises.yaml: {name}", "check", "exercises.yaml", shape, True
    for name, shape in subtitles():
        yield f"subtitles.srt: {name}", "check", "subtitles.srt", shape, True
    for name, shape in webvtt():
        yield f"subtitles.vtt: {name}", "check", "subtitles.vtt", shape, True
        yield f"chapters.vtt: {name}", "check", "chapters.vtt", shape, True
    for name, shape in transcripts():
        yield f"transcript.txt: {name}", "check", "transcript.txt", shape, True
    for name, shape in subtitles():
        yield f"draft: {name}", "draft", "subtitles.srt", shape, True
    for name, shape in chapters():
        yield f"chapters.txt: {name}", "check", "chapters.txt", shape, True
    for name, shape in ffmetadata():
        yield f"chapters.ffmeta: {name}", "check", "chapters.ffmeta", shape, True
    for name, shape in edits():
        yield f"cut.edl: {name}", "check", "cut.edl", shape, True
    for name, shape in timelines():
        yield f"cut.otio: {name}", "check", "cut.otio", shape, True
    for file in ("article.html", "cut.html"):
        for name, shape in html():
            yield f"audit {file}: {name}", "audit", file, shape, True
    for file in ("description.txt", "caption.txt", "chapters.txt"):
        for name, shape in posts():
            yield f"audit {file}: {name}", "audit", file, shape, True
    for name, shape in articles():
        yield f"audit article.md: {name}", "audit", "article.md", shape, True
    for name, shape in webvtt():
        yield f"audit chapters.vtt: {name}", "audit", "chapters.vtt", shape, True
    for name, shape in ffmetadata():
        yield f"audit chapters.ffmeta: {name}", "audit", "chapters.ffmeta", shape, True
    for name, shape in jsons():
        yield f"audit build.json: {name}", "audit", "build.json", shape, True
    for made in (pdf_text, pdf_paths, pdf_curves, pdf_pages, pdf_shading):
        yield f"audit card-a4.pdf: {made.__name__}", "audit", "card-a4.pdf", made, True
    for fixed in (pdf_forms, pdf_image, pdf_pattern):
        yield f"audit card-a4.pdf: {fixed.__name__}", "audit", "card-a4.pdf", fixed, False
    for name, shape in templates():
        yield f"build: {name}", "build", "templates/article.html", shape, False


def repslate(arguments: list[str], cwd: Path) -> int:
    """Run a command of repslate in this process, silently; return what it would exit with."""
    from repslate.cli import main as run

    os.chdir(cwd)
    sys.argv = ["repslate", *arguments]
    with (cwd / "stdout").open("w") as out, contextlib.redirect_stdout(out), contextlib.redirect_stderr(out):
        try:
            run()
        except SystemExit as end:
            return end.code if isinstance(end.code, int) else int(end.code is not None)
        except Exception as error:  # noqa: BLE001  whatever it is, it is what the row has to show
            print(f"{type(error).__name__}: {error}"[:200])
            return 3
    return 0


def measured(arguments: list[str], cwd: Path) -> tuple[float, int, int]:
    """Run a command in a fork that has every library loaded; return its processor seconds, peak MiB and exit code."""
    sys.stdout.flush()
    pid = os.fork()
    if not pid:
        resource.setrlimit(resource.RLIMIT_CPU, (STOP, STOP + 2))
        resource.setrlimit(resource.RLIMIT_AS, (4 << 30, 4 << 30))
        os._exit(repslate(arguments, cwd))
    begin = time.monotonic()
    while True:
        done, status, usage = os.wait4(pid, os.WNOHANG)
        if done:
            return usage.ru_utime + usage.ru_stime, usage.ru_maxrss // 1024, os.waitstatus_to_exitcode(status)
        if time.monotonic() - begin > 6 * STOP:
            os.kill(pid, signal.SIGKILL)
        time.sleep(0.005)


class Bench:
    """A folder with an ordinary episode and its build, from which each case is made anew."""

    def __init__(self, scratch: Path) -> None:
        self.scratch = scratch
        self.episode = scratch / "plain"
        shutil.copytree(EPISODE, self.episode)
        for arguments in (["build", "plain", "--out", "out"], ["audit", "plain", "--out", "out"], ["check", "plain"]):
            repslate(arguments, scratch)  # here, not in a fork, so that the forks have the libraries
        self.slug = next(path.name for path in (scratch / "out").iterdir() if not path.name.startswith("."))
        self.floor: dict[str, tuple[float, int]] = {}

    def run(self, case: Case, size: int) -> tuple[float, int, int]:
        """Make the case's file in that size and run its command."""
        _, command, file, shape, _ = case
        return self._run(command, file, shape(size) if size else None)

    def _run(self, command: str, file: str, data: bytes | None) -> tuple[float, int, int]:
        work = self.scratch / "work"
        shutil.rmtree(work, ignore_errors=True)
        shutil.copytree(self.episode, work / "ep")
        if command == "audit":
            shutil.copytree(self.scratch / "out", work / "out")
            place = work / "out" / self.slug / file
            line = ["audit", "ep", "--out", "out"]
        elif command == "build":
            place = work / file
            place.parent.mkdir()
            line = ["build", "ep", "--out", "out", "--templates", "templates"]
        elif command == "draft":
            place = work / file
            line = ["draft", file, "--out", "drafted"]
        else:
            place = work / "ep" / file
            line = ["check", "ep"]
        if data is not None:
            if file.startswith("chapters") and command == "check":
                (work / "ep" / "chapters.txt").unlink()
            place.write_bytes(data)
        elif command == "draft":
            place.write_text(SRT + "a\n")
        seconds, memory, code = measured(line, work)
        if code not in (0, 1, 2):
            tail = (work / "stdout").read_text("utf-8", "replace").strip().splitlines()[-1:]
            print("      ended with", code, *tail, flush=True)
        return seconds, memory, code

    def plain(self, case: Case) -> tuple[float, int]:
        """Return what the command costs where the file is an ordinary one."""
        command = case[1]
        if command not in self.floor:
            self.floor[command] = self.run(case, 0)[:2]
        return self.floor[command]


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--only", nargs="*", default=[], help="cases whose name has one of these words")
    parser.add_argument("--sizes", default="128,256,512,1024", help="KiB, each twice the one before")
    parser.add_argument("--failing", action="store_true", help="print the failing rows alone")
    given = parser.parse_args()
    sizes = [int(float(size) * 1024) for size in given.sizes.split(",")]
    failed = rows = 0
    with tempfile.TemporaryDirectory() as scratch:
        bench = Bench(Path(scratch))
        for case in cases():
            if given.only and not any(word in case[0] for word in given.only):
                continue
            seconds: list[float] = []
            faults: list[str] = []
            memory = 0
            floor = bench.plain(case)
            for size in sizes if case[4] else sizes[-1:]:
                used, peak, code = bench.run(case, size)
                memory = max(memory, peak)
                seconds.append(max(0.0, used - floor[0]))
                if code not in (0, 1, 2):
                    faults.append(f"ended with {code}")
                if used > SECONDS:
                    faults.append("slow")
                    break
            if memory > MEMORY:
                faults.append("memory")
            pairs = [(one, two) for one, two in pairwise(seconds) if one > COMPARED]
            if any(two / one > GROWTH for one, two in pairs):
                faults.append("growth")
            rows += 1
            failed += bool(faults)
            if faults or not given.failing:
                growth = " ".join(f"{two / one:4.1f}" for one, two in pairs) or "-"
                print(
                    f"{case[0]:<60} {' '.join(f'{one:6.2f}' for one in seconds)} s  ×{growth}  {memory} MiB  {', '.join(faults)}",
                    flush=True,
                )
    print(f"{rows} rows, {failed} failed")
    sys.exit(bool(failed))


if __name__ == "__main__":
    main()
