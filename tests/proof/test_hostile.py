"""Published files that are made to be costly: each is told as such, and nothing of them is drawn in this process."""

from __future__ import annotations

import os
import subprocess
import sys
import zlib
from collections.abc import Callable
from pathlib import Path

import pytest

from proof.sampled import Sample
from repslate.proof import pdf
from repslate.proof.html import read_html
from repslate.proof.pdf import Unreadable, read_own_pdf, read_pdf
from repslate.proof.stylesheet import read_sheet
from repslate.proof.tags import Tag, Text, cut
from repslate.source import apart

SAMPLES = Path(__file__).parents[2] / "samples"
WORDS = b"BT /F 9 Tf 20 20 Td (Goblet squat) Tj ET\n"
FONT = b"/Font<</F<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>>>"


def made(content: bytes, *, pages: int = 1, further: tuple[bytes, ...] = ()) -> bytes:
    """A PDF whose pages all draw `content`; objects 5 and on are `further`, number 5 is called /A."""
    bodies = (
        b"<</Type/Catalog/Pages 2 0 R>>",
        b"<</Type/Pages/Count %d/Kids[%s]>>" % (pages, b"3 0 R " * pages),
        b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 595 842]/Contents 4 0 R/Resources<</XObject<</A 5 0 R>>%s>>>>" % FONT,
        stream(content),
        *(further or (b"null",)),
    )
    out, places = b"%PDF-1.7\n", []
    for number, body in enumerate(bodies, 1):
        places.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (number, body)
    table = b"xref\n0 %d\n0000000000 65535 f \n" % (len(bodies) + 1) + b"".join(
        b"%010d 00000 n \n" % at for at in places
    )
    return out + table + b"trailer<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF" % (len(bodies) + 1, len(out))


def stream(content: bytes, keys: bytes = b"") -> bytes:
    packed = zlib.compress(content, 9)
    return b"<</Length %d/Filter/FlateDecode%s>>stream\n%s\nendstream" % (len(packed), keys, packed)


def nested_forms() -> bytes:
    """Ten forms of which each draws the next one eight times: a billion squares in three kilobytes."""
    form = b"/Type/XObject/Subtype/Form/BBox[0 0 595 842]/Resources<</XObject<</A %d 0 R>>>>"
    deep = [stream(b"q /A Do Q\n" * 8, form % (6 + n)) for n in range(9)]
    return made(WORDS + b"/A Do\n" * 8, further=(*deep, stream(b"0 0 500 800 re f\n", form % 4)))


def text(lines: int) -> bytes:
    """Text at ever other places: PDFium takes what is written twice in one place for one."""
    at = (b"1 0 0 1 %d %d Tm (Goblet squat) Tj\n" % (n % 100 * 5, n // 100 * 4) for n in range(lines))
    return b"BT /F 9 Tf\n" + b"".join(at) + b"ET\n"


COSTLY = [
    ("forms in forms", nested_forms, "to be read"),
    ("a page without end", lambda: made(WORDS, pages=5000), "5,000 pages"),
    ("letters without end", lambda: made(text(20_000)), "letters"),
    ("bytes without end", lambda: b"%PDF-1.7\n" + bytes(17 * 1024 * 1024), "17 MiB"),
]


@pytest.mark.parametrize(("file", "says"), [one[1:] for one in COSTLY], ids=[one[0] for one in COSTLY])
def test_a_costly_pdf_is_told(file: Callable[[], bytes], says: str) -> None:
    found = read_pdf(file())
    assert isinstance(found, Unreadable)
    assert says in found.found


def test_a_card_says_the_same_in_a_process_of_its_own(boathouse: Sample) -> None:
    for name in ("card-a4.pdf", "card-letter.pdf"):
        assert read_pdf(boathouse.files[name]) == read_own_pdf(boathouse.files[name])


def test_no_file_from_disk_is_drawn_in_this_process(boathouse: Sample, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf, "read_own_pdf", lambda data: pytest.fail("drawn here"))
    assert not isinstance(read_pdf.__wrapped__(boathouse.files["card-a4.pdf"]), Unreadable)


def test_nothing_beside_the_reader_is_taken_for_a_module(
    boathouse: Sample, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "json.py").write_text("raise SystemExit(9)")
    monkeypatch.chdir(tmp_path)
    assert not isinstance(read_pdf.__wrapped__(boathouse.files["card-a4.pdf"]), Unreadable)


def test_a_process_that_waits_for_ever_is_ended(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    script = tmp_path / "waits.py"
    script.write_text("import sys\nsys.stdin.buffer.read()\nimport threading\nthreading.Event().wait()")
    monkeypatch.setattr(apart, "WAIT", 0.5)
    assert apart.run(script, b"") == "more than 0.5 seconds"


@pytest.mark.skipif(sys.platform == "win32", reason="Windows limits no process")
def test_memory_and_time_are_limited(tmp_path: Path) -> None:
    begin = "from repslate.source.apart import confine\nconfine()\n"
    large, endless = tmp_path / "large.py", tmp_path / "endless.py"
    large.write_text(begin + "bytearray(2 << 30)\nprint('had it')")
    endless.write_text(begin + "while True: pass")
    assert apart.run(large, b"") == "more memory than a file may take"
    assert apart.run(endless, b"") == f"more than {apart.SECONDS} seconds"


# ---- pages


@pytest.mark.parametrize(
    "piece", ["<a ", "<a", "<!--", "</", "<?", "<![", "<a b='", "<svg/", "<h2", "<script>", "<a <b "]
)
def test_what_is_never_closed_takes_the_rest_with_it(piece: str) -> None:
    """As in a browser; read again from every place where it could begin, a page of a megabyte takes an hour."""
    shown = [piece.text for piece in read_html("a.html", f"<p>Before</p>{piece * 50_000}".encode()).pieces]
    assert shown[:1] == ["Before"]
    assert "".join(shown[1:]) in ("", "<script>" * 49_999)


CUT = [
    ("<p class=a b='c' d>x</p>", "<p class=a b=c d=> x </p>"),
    ("a < b & c &lt;i&gt;", "a < b & c <i>"),
    ("<!-- <p> -->a<!-->b<!--->c<!doctype html>d<?php ?>e</ f>g", "a b c d e g"),
    (
        "<title>a &amp; <b></title><script>if (a<b) '</p>'</script>x",
        "<title> a & <b> </title> <script> if (a<b) '</p>' </script> x",
    ),
    ("<br/><path d='M0 0'/><a href=x/>", "<br/> <path d=M0 0/> <a href=x/>"),
    ("<P A=1 a=2>&#65;&#9999999999;&amp", "<p a=1> A\ufffd&"),
]


@pytest.mark.parametrize(("page", "parts"), CUT)
def test_a_page_is_cut_as_a_browser_cuts_it(page: str, parts: str) -> None:
    def shown(one: Tag | Text) -> str:
        if isinstance(one, Text):
            return one.words
        inside = " ".join([one.name, *(f"{key}={value}" for key, value in one.attributes.items())])
        return f"</{inside}>" if one.is_end else f"<{inside}{'/' * one.is_empty}>"

    assert " ".join(map(shown, cut(page))) == parts


@pytest.mark.parametrize(
    ("file", "text", "says"),
    [
        ("article.html", "<p>Words</p>" * 5_000, "4,000 paragraphs"),
        ("article.html", "<br>" * 200_001, "200,001 tags"),
        ("article.html", "&a" * 200_001, "200,001 character references"),
        ("article.html", "<script type=application/ld+json>" + "1" * 500_001, "500,001 characters of structured data"),
        ("article.html", "<div>" * 300 + "Words", "256 deep"),
        ("article.html", "<p>" + "word " * 5_000, "a paragraph of"),
        ("article.md", "Words\n\n" * 5_000, "4,000 paragraphs"),
        ("description.txt", "words " * 50 + "\n" + "words\n" * 50_000, "4,000 paragraphs"),
        ("cut.html", "<a id=b href=#b></a>" * 9_000, "8,000 links"),
    ],
)
def test_a_file_that_holds_too_much_is_told_and_not_compared(
    boathouse: Sample, file: str, text: str, says: str
) -> None:
    (found,) = boathouse.read_back(file, text)
    assert (found.check, says in found.message, "expected" in found.message) == ("audit-unreadable", True, True)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="has no pipes with names")
@pytest.mark.parametrize("name", ["article.html", "card-a4.pdf", "build.json", "caption.txt"])
def test_a_pipe_among_the_published_files_is_told(boathouse: Sample, tmp_path: Path, name: str) -> None:
    folder = tmp_path / "out" / boathouse.expected.episode.slug
    folder.mkdir(parents=True)
    os.mkfifo(folder / name)
    line = [
        sys.executable,
        "-m",
        "repslate",
        "audit",
        str(SAMPLES / "boathouse-kettlebells"),
        "--out",
        str(tmp_path / "out"),
    ]
    told = subprocess.run(line, capture_output=True, text=True, timeout=60, check=False)
    assert f"“{name}” is not an ordinary file" in told.stdout


@pytest.mark.parametrize("css", ["a{} {{color: red}}", "@keyframes {} {{}}", "@media {} {{p {{color: red}}}}"])
def test_brackets_by_the_thousand_in_a_style_sheet_are_read_past(css: str) -> None:
    assert read_sheet(css.format("(x)")).whole
    assert not read_sheet(css.format("(" * 5_000 + ")" * 5_000)).whole
