"""What the outputs are drawn with: templates, fonts and the episode's pictures, all loaded before the first render."""

from __future__ import annotations

import base64
import io
import warnings
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from repslate.model.episode import Picture
from repslate.publish.guard import fetcher
from repslate.publish.templates import Templates
from repslate.publish.view import View
from repslate.source.finding import Finding, Severity

if TYPE_CHECKING:
    from jinja2 import Environment

LATIN, LATIN_EXTENDED = "Repslate Text", "Repslate Text Ext"
FACES = tuple(
    (family, weight, f"fonts/source-sans-3-{subset}-{weight}-normal.woff2")
    for family, subset in ((LATIN, "latin"), (LATIN_EXTENDED, "latin-ext"))
    for weight in (400, 600)
)
WIDEST = 1280  # pixels: twice the article's column on a dense screen
FORMATS = {"JPEG": "image/jpeg", "PNG": "image/png", "WEBP": "image/webp"}


@dataclass(frozen=True, slots=True)
class Still:
    """A picture for a page: at most 1280 px wide, without the camera's notes, which may tell where it was taken."""

    data: bytes
    media_type: str
    width: int
    height: int
    description: str

    @property
    def source(self) -> str:
        """The picture as a data: address."""
        return f"data:{self.media_type};base64,{base64.b64encode(self.data).decode()}"


@dataclass(frozen=True, slots=True)
class Look:
    """Templates, fonts and stills; `stills` by the picture's path."""

    templates: Templates
    stills: dict[str, Still]

    def environment(self, **filters: Callable[[str], str]) -> Environment:
        """Return the Jinja environment with the given filters added."""
        return self.templates.environment(filters)

    def font_faces(self, *, embedded: bool, text: str | None = None) -> Iterator[str]:
        """Yield an @font-face rule a face: `embedded` as data: addresses, else as files for the PDF renderer.

        With `text`, the extended Latin faces are left out where the page has no use for them.
        """
        for family, weight, name in FACES:
            if text is not None and family == LATIN_EXTENDED and all(ord(c) < 0x100 or ord(c) > 0x2000 for c in text):
                continue
            address = (
                f"data:font/woff2;base64,{base64.b64encode(self.templates.read(name)).decode()}"
                if embedded
                else self.templates.path(name).as_uri()
            )
            yield (
                f'@font-face{{font-family:"{family}";font-weight:{weight};font-display:swap;'
                f'src:url("{address}") format("woff2")}}\n'
            )

    def document(self, html: str) -> Any:
        """Lay a page out for print; raise PermissionError if it asks for anything but the templates' own files.

        OSError from WeasyPrint's import where Pango is missing.
        """
        opener = fetcher(self.templates.folders)
        from weasyprint import HTML

        document = HTML(string=html, base_url=None, url_fetcher=opener).render()
        if opener.refused:
            address, reason = opener.refused[0]
            raise PermissionError(f"{address}: {reason}")
        return document

    def preview(self, picture: Picture) -> bytes:
        """Return the picture as a JPEG file, for link previews, which take no data: address."""
        from PIL import Image

        out = io.BytesIO()
        Image.open(io.BytesIO(self.stills[picture.path].data)).convert("RGB").save(out, "JPEG", quality=85)
        return out.getvalue()


def load(view: View, folder: Path, templates: Templates) -> tuple[Look, tuple[Finding, ...]]:
    """Read every picture the view shows from the episode's `folder`; one that cannot be read is an error finding."""
    pictures = [*([view.picture] if view.picture else []), *(p for e in view.exercises for p in e.pictures)]
    stills, findings = {}, []
    for picture in pictures:
        still = _still(folder, picture)
        if isinstance(still, Still):
            stills[picture.path] = still
        else:
            findings.append(
                Finding(
                    "picture-unreadable",
                    Severity.ERROR,
                    picture.span,
                    f"{picture.path} {still}",
                    "save the picture again as JPEG, PNG or WebP",
                )
            )
    return Look(templates, stills), tuple(findings)


def _still(folder: Path, picture: Picture) -> Still | str:
    from PIL import Image, ImageOps, UnidentifiedImageError

    path = (folder / picture.path).resolve()
    if not path.is_relative_to(folder.resolve()):
        return "lies outside the episode's folder"
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            image = Image.open(io.BytesIO(path.read_bytes()), formats=tuple(FORMATS))
            kind = str(image.format)
            image = ImageOps.exif_transpose(image)  # type: ignore[assignment]
            image.thumbnail((WIDEST, WIDEST))
            image.info = {key: value for key, value in image.info.items() if key == "icc_profile"}
    except FileNotFoundError:
        return "is not there"
    except (Image.DecompressionBombWarning, Image.DecompressionBombError):
        return "has more pixels than a page can use"
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError):
        return "is no picture that can be read"
    out = io.BytesIO()
    image.save(out, kind, optimize=True, quality=82)
    return Still(out.getvalue(), FORMATS[kind], *image.size, description=picture.description)
