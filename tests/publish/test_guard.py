"""The walls: which addresses become links, and what WeasyPrint gets to open. Every trap is a real render."""

from __future__ import annotations

import io
from pathlib import Path

import pypdf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.publish.guard import allowed_link, fetcher

GOOD = [
    "https://video.example/w/7",
    "http://site.example/a%20b?x=1&y=2#t=3",
    "HTTPS://SITE.EXAMPLE",
    "https://bücher.example/ü",
    "mailto:robin@site.example",
    "#a1",
    "pictures/goblet-squat.jpg",
    "./pictures/row.jpg",
    "pictures/../other.html?v=2",
    "row.jpg#../x",
]
BAD = [
    "",
    "//host.example/x",
    "/etc/passwd",
    "\\\\host.example\\x",
    "/\\host.example",
    "https:\\\\host.example",
    "javascript:alert(1)",
    "JaVaScRiPt:alert(1)",
    "java\tscript:alert(1)",
    "java\nscript:alert(1)",
    " javascript:alert(1)",
    "\x01javascript:alert(1)",
    "\u00a0javascript:alert(1)",
    "java\u200bscript:alert(1)",
    "javascript&colon;alert(1)",
    "javascript&#58;alert(1)",
    "&#106;avascript:alert(1)",
    "&amp;#106;avascript:alert(1)",
    "java&Tab;script:alert(1)",
    "javascript%3Aalert(1)",
    "vbscript:x",
    "data:text/html,x",
    "data:image/png;base64,AAAA",
    "file:///etc/passwd",
    "tel:+441632960000",
    "ftp://site.example/x",
    "blob:x",
    "../secret.txt",
    "pictures/../../secret.txt",
    "%2e%2e/secret.txt",
    "%252e%252e/secret.txt",
    "&period;&period;/secret.txt",
    "..%2fsecret.txt",
    "..%5csecret.txt",
    "%2fetc/passwd",
    "x%00.jpg",
    "https:",
    "https://",
    "https:/site.example",
    "https:site.example",
    "https://good.example@evil.example/",
    "https://[x/",
    "mailto:",
    "mailto:nobody",
    "https://site.example/a b",
    "C:\\secret.txt",
]


@pytest.mark.parametrize("url", GOOD)
def test_plain_addresses_pass(url: str) -> None:
    assert allowed_link(url)


@pytest.mark.parametrize("url", BAD, ids=repr)
def test_everything_else_is_refused(url: str) -> None:
    assert not allowed_link(url)


@given(st.text(alphabet="./%2eE5cf\\&#ajv:x?", max_size=24))
def test_what_passes_never_leaves_the_folder(url: str) -> None:
    from urllib.parse import unquote, urljoin

    if allowed_link(url):
        base = "https://site.example/series/episode/"
        assert unquote(urljoin(base, url)).startswith(base)


SECRET = "the-secret-word"  # noqa: S105 - what must not leak
IMAGE = b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><rect width="9" height="9"/></svg>'


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    inside = tmp_path / "episode"
    (inside / "pictures").mkdir(parents=True)
    (inside / "pictures" / "row.svg").write_bytes(IMAGE)
    (tmp_path / "secret.txt").write_text(SECRET)
    (tmp_path / "secret.css").write_text(f'p::after{{content:"{SECRET}"}}')
    (tmp_path / "secret.svg").write_bytes(IMAGE)
    (tmp_path / "episode-twin").mkdir()
    (tmp_path / "episode-twin" / "row.svg").write_bytes(IMAGE)
    (inside / "link.txt").symlink_to(tmp_path / "secret.txt")
    (inside / "link.svg").symlink_to(tmp_path / "secret.svg")
    return inside


def render(folder: Path, html: str, css: str = "") -> tuple[bytes, list[tuple[str, str]]]:
    from weasyprint import CSS, HTML

    served = fetcher([folder])
    base = folder.as_uri() + "/"
    sheets = [CSS(string=css, url_fetcher=served, base_url=base)] if css else []
    pdf = HTML(string=f"<title>t</title>{html}", base_url=base, url_fetcher=served).write_pdf(stylesheets=sheets)
    return pdf, served.refused


def leaked(pdf: bytes) -> bool:
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    text = "".join(page.extract_text() for page in reader.pages)
    attached = b"".join(data for files in reader.attachments.values() for data in files)
    return SECRET in text or SECRET.encode() in attached or SECRET.encode() in pdf


@pytest.mark.parametrize(
    "html",
    [
        '<img src="pictures/row.svg">',
        '<img src="pictures/row.svg?v=2">',
        '<img src="data:image/svg+xml,%3Csvg xmlns=%22http://www.w3.org/2000/svg%22/%3E">',
        '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><image href="pictures/row.svg"/></svg>',
    ],
)
def test_the_folder_itself_is_served(folder: Path, html: str) -> None:
    assert render(folder, html)[1] == []


HTML_TRAPS = [
    '<img src="http://127.0.0.1:9/x.png">',
    '<img src="https://site.example/x.png">',
    '<img src="//site.example/x.png">',
    '<img src="/etc/passwd">',
    '<img src="file:///etc/passwd">',
    '<img src="FILE:///etc/passwd">',
    '<img src="file://otherhost/etc/passwd">',
    '<img src="ftp://site.example/x.png">',
    '<img src="../secret.svg">',
    '<img src="%2e%2e/secret.svg">',
    '<img src="../episode-twin/row.svg">',
    '<img src="link.svg">',
    '<img src="pictures/absent.svg">',
    '<img src="pictures/%00.svg">',
    '<object data="../secret.svg"></object>',
    '<embed src="../secret.svg">',
    '<link rel="stylesheet" href="../secret.css"><p>x</p>',
    '<link rel="attachment" href="../secret.txt">',
    '<link rel="attachment" href="link.txt">',
    '<a rel="attachment" href="../secret.txt">x</a>',
    '<style>@import url("../secret.css");</style><p>x</p>',
    '<style>p{background:url("../secret.svg")}</style><p>x</p>',
    '<style>@font-face{font-family:f;src:url("../secret.txt")}p{font-family:f}</style><p>x</p>',
    '<p style="list-style-image:url(../secret.svg);display:list-item">x</p>',
    '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><image href="../secret.svg"/></svg>',
    '<img src="data:image/svg+xml,%3Csvg xmlns=%22http://www.w3.org/2000/svg%22 width=%229%22 height=%229%22'
    '%3E%3Cimage href=%22file:///etc/passwd%22/%3E%3C/svg%3E">',
]


@pytest.mark.parametrize("html", HTML_TRAPS)
def test_a_trap_in_the_page_is_refused_and_leaks_nothing(folder: Path, html: str) -> None:
    pdf, refused = render(folder, html)
    assert refused, "rendered on as if nothing had been asked for"
    assert not leaked(pdf)


@pytest.mark.parametrize("css", ['@import "../secret.css";', 'p{background:url("http://127.0.0.1:9/x.png")}'])
def test_a_trap_in_a_stylesheet_is_refused_and_leaks_nothing(folder: Path, css: str) -> None:
    pdf, refused = render(folder, "<p>x</p>", css)
    assert refused
    assert not leaked(pdf)


@pytest.mark.parametrize(
    "html",
    [
        '<iframe src="../secret.txt"></iframe>',
        '<video src="../secret.txt" poster="../secret.svg"></video>',
        '<img srcset="../secret.svg 2x">',
        '<link rel="icon" href="../secret.svg">',
        '<svg xmlns="http://www.w3.org/2000/svg"><use href="../secret.svg#x"/></svg>',
    ],
)
def test_what_weasyprint_never_opens_leaks_nothing(folder: Path, html: str) -> None:
    assert not leaked(render(folder, html)[0])
