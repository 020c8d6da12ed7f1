"""What a published file may point at and what the PDF renderer may open: the walls round the trainer's own folder."""

from __future__ import annotations

import html
import mimetypes
import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any, Protocol
from urllib.parse import unquote, urlsplit
from urllib.request import url2pathname

from repslate.source.places import leads_out, real

_SCHEME = re.compile(r"([a-z][a-z0-9+.-]*):", re.IGNORECASE)  # RFC 3986, 3.1
_UNSEEN = {"Cc", "Cf", "Zs", "Zl", "Zp"}  # controls, format characters, every kind of blank
_MAILBOX = re.compile(r"[^\s@/]+@[^\s@/]+")


def allowed_link(url: str) -> bool:
    """Tell whether `url` may become a link or a picture's address.

    Allowed: http and https with a host, mailto with an address, "#part", and a relative path that stays in the
    folder. The address is judged as a browser reads it: character references resolved, per cent signs decoded,
    no blanks or unseen characters, no backslash (the WHATWG URL standard reads it as a slash).
    """
    plain = _settle(url, html.unescape)
    if not plain or "\\" in plain or any(unicodedata.category(character) in _UNSEEN for character in plain):
        return False
    scheme = _SCHEME.match(plain)
    if scheme is None:
        return _stays_inside(plain)
    if scheme[1].lower() in {"http", "https"}:
        return _has_host(plain)
    return scheme[1].lower() == "mailto" and _MAILBOX.match(plain, scheme.end()) is not None


def _has_host(url: str) -> bool:
    """Tell whether a web address names a host in the plain way, with no user name that could pass for one."""
    try:
        parts = urlsplit(url)
        return url[len(parts.scheme) + 1 :].startswith("//") and bool(parts.hostname) and "@" not in parts.netloc
    except ValueError:  # urlsplit's answer to brackets that hold no IPv6 address
        return False


def _stays_inside(url: str) -> bool:
    """Tell whether a relative address leads nowhere above the folder it stands in, however it is encoded."""
    path = _settle(re.split(r"[?#]", url, maxsplit=1)[0], unquote)
    return path.isprintable() and "\\" not in path and not leads_out(path)


def _settle(text: str, decode: Callable[[str], str]) -> str:
    """Decode until nothing changes: what is encoded twice may be decoded twice."""
    while (decoded := decode(text)) != text:
        text = decoded
    return text


class Fetcher(Protocol):
    """What WeasyPrint takes as `url_fetcher`; `refused` lists each address that was not opened, and why."""

    refused: list[tuple[str, str]]

    def fetch(self, url: str, headers: Mapping[str, str] | None = None) -> Any:
        """Open `url` or raise ValueError, which WeasyPrint turns into a log line."""
        ...


def fetcher(folders: Iterable[Path]) -> Fetcher:
    """Return a fetcher that opens files in `folders`, and data: addresses, and nothing else.

    Give the same object to HTML(…) and to every CSS(…), and look at `refused` after rendering: WeasyPrint renders on
    without what was refused, and inside an inline SVG says nothing of it (seen in 70.0). OSError if Pango is absent.
    """
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    roots = tuple(real(folder) for folder in folders)

    class FolderFetcher(URLFetcher):  # type: ignore[misc] # WeasyPrint ships no types
        """Serves the given folders; reads the very path it has judged."""

        def __init__(self) -> None:
            super().__init__(allowed_protocols={"data"}, allow_redirects=False)
            self.refused: list[tuple[str, str]] = []

        def fetch(self, url: str, headers: Mapping[str, str] | None = None) -> Any:
            if url[:5].lower() == "data:":
                return super().fetch(url, headers)
            body = _read_inside(url, roots)
            if isinstance(body, str):
                self.refused.append((url, body))
                raise ValueError(f"{url}: {body}")
            kind = mimetypes.guess_type(urlsplit(url).path)[0] or "application/octet-stream"
            return URLFetcherResponse(url, body, {"Content-Type": kind})

    made: Fetcher = FolderFetcher()
    return made


def _read_inside(url: str, roots: tuple[Path, ...]) -> bytes | str:
    """Return the bytes of a file: address inside `roots`, or the reason why not."""
    try:
        parts = urlsplit(url)
        if parts.scheme.lower() != "file":
            return "only files of the episode's folder are opened, nothing from the network"
        path = Path(url2pathname(parts.path)).resolve()
        if parts.netloc not in {"", "localhost"} or not any(path.is_relative_to(root) for root in roots):
            return "it lies outside the episode's folder"
        return path.read_bytes()
    except ValueError:  # a NUL in the path, brackets in the host
        return "it is no address of a file"
    except OSError as error:
        return error.strerror or "it cannot be read"
