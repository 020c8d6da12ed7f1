"""What the outputs are drawn with: templates, fonts and the episode's pictures, all loaded before the first render."""

from __future__ import annotations

import base64
import html
import io
import re
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from repslate.model.episode import Picture
from repslate.model.stills import FORMATS, Trouble, open_picture
from repslate.publish.guard import fetcher
from repslate.publish.markdown import to_html
from repslate.publish.templates import LARGEST, Templates
from repslate.publish.typeset import figures, unbroken
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
PATIENCE = 20  # seconds that a template may take; ours take a few hundredths
# What the Latin faces hold, without combining accents; anything else may be in the extended ones.
IN_LATIN = re.compile("[\\0-\\u00ffıŒœʻʼˆ˚˜\\u2009\\u200b–—‘-‚“-„•…′″‹›⁄€™↑↓−∕]*")


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


class OutputError(Exception):
    """An output cannot be published as it is: the check's name, what was found and how to mend it.

    Raised deep inside a template or a layout, where nothing can be returned; render.py makes a finding of it.
    """

    def __init__(self, check: str, message: str, mend: str) -> None:
        super().__init__(message)
        self.check, self.message, self.mend = check, message, mend


@dataclass(frozen=True)  # without slots: cached_property needs __dict__
class Look:
    """Templates, fonts and stills; `stills` by the picture's path.

    `folder` is the episode's, `film_link` the film's address from where the outputs will be, None if there is none.
    """

    templates: Templates
    stills: dict[str, Still]
    folder: Path
    film_link: str | None = None

    @cached_property
    def environment(self) -> Environment:
        """The Jinja environment with the filters of the pages; one for all outputs, as it keeps compiled templates."""
        from markupsafe import Markup

        return self.templates.environment(
            {
                "nb": unbroken,
                "figures": figures,
                "markdown": lambda text: Markup(to_html(text)),  # noqa: S704 - cleaned by nh3
                "phrase": lambda text: Markup(to_html(text, inline=True)),  # noqa: S704 - cleaned by nh3
            }
        )

    def fill(self, name: str, *, keep: Iterable[str] = (), **words: object) -> str:
        """Fill in a template; every text of `keep` must show in the result.

        Raises OutputError where a template leaves one out or runs for longer than 20 s, and what the template raises.
        """
        deadline, pieces, size = time.monotonic() + PATIENCE, list[str](), 0
        for piece in self.environment.get_template(name).generate(**words):
            pieces.append(piece)
            size += len(piece)
            if size > LARGEST:
                text = f"the template {name} makes a page of more than {LARGEST:,} characters"
                raise OutputError("template-error", text, "look for loops within loops in it")
            if time.monotonic() > deadline:
                text = f"the template {name} is not done after {PATIENCE} s"
                raise OutputError("template-error", text, "look for loops within loops in it")
        page = "".join(pieces)
        shown = _seen(re.sub(r"<style.*?</style>|<script.*?</script>|<[^>]*>", "", page, flags=re.DOTALL))
        for text in keep:
            if _seen(text) not in shown:
                begin = " ".join(text.split()[:8])
                raise OutputError(
                    "safety-dropped",
                    f"{name} leaves out “{begin} …”, expected disclosure, notice and every caution in full",
                    "put the words back into your template, or take the file away to have the shipped one",
                )
        return page

    @cached_property
    def fonts(self) -> Any:
        """What WeasyPrint has unpacked of the fonts, which takes longer than laying out a page: one for all cards."""
        from weasyprint.text.fonts import FontConfiguration

        return FontConfiguration()

    def font_faces(self, *, embedded: bool, text: str | None = None) -> Iterator[str]:
        """Yield an @font-face rule a face: `embedded` as data: addresses, else as files for the PDF renderer.

        With `text`, the extended Latin faces are left out where it can do without: they are half of an article.
        """
        for family, weight, name in FACES:
            if text is not None and family == LATIN_EXTENDED and IN_LATIN.fullmatch(text):
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

    def document(self, page: str) -> Any:
        """Lay a page out for print.

        Raises OutputError where it asks for other files than the templates' own or holds characters that no font has;
        OSError from WeasyPrint's import where Pango is missing.
        """
        opener = fetcher(self.templates.folders)
        from weasyprint import HTML

        document = HTML(string=page, base_url=None, url_fetcher=opener).render(font_config=self.fonts)
        if opener.refused:
            address, reason = opener.refused[0]
            raise OutputError(
                "file-refused",
                f"the card asks for a file it may not open: {address}: {reason}",
                "use pictures of the episode's folder and files of the templates folder only",
            )
        if missing := _unprintable(document):
            raise OutputError(
                "character-unprintable",
                f"the card would show empty boxes for {missing}: no font on this computer has these characters",
                "install fonts that have them (Debian, Ubuntu: fonts-noto-core, fonts-noto-cjk, "
                "fonts-noto-color-emoji), or write other characters",
            )
        return document

    def preview(self, picture: Picture) -> bytes:
        """Return the picture as a JPEG file, for link previews, which take no data: address."""
        from PIL import Image

        out = io.BytesIO()
        Image.open(io.BytesIO(self.stills[picture.path].data)).convert("RGB").save(out, "JPEG", quality=85)
        return out.getvalue()


def _seen(text: str) -> str:
    """Return text as it is compared: character references read, runs of blanks as one."""
    return " ".join(html.unescape(text).split())


def _unprintable(document: Any) -> str:
    """Return the characters for which Pango found no glyph in any font; they would print as empty boxes."""
    from weasyprint.text.ffi import ffi, pango

    # Pango has counted them, WeasyPrint 70 does not ask; the layout is at hand while its text box lives.
    ffi.cdef("int pango_layout_get_unknown_glyphs_count(PangoLayout * layout);", override=True)
    missing: dict[str, None] = {}
    boxes = [page._page_box for page in document.pages]
    while boxes:
        box = boxes.pop()
        boxes.extend(getattr(box, "children", ()))
        layout = getattr(box, "pango_layout", None)
        if layout is None or box.text.isascii():
            continue
        layout.reactivate(box.style)
        if pango.pango_layout_get_unknown_glyphs_count(layout.layout):
            missing |= dict.fromkeys(c for c in box.text if not IN_LATIN.fullmatch(c) and not "\u0100" <= c <= "\u024f")
        layout.deactivate()
    return " ".join(missing)


def load(
    view: View, folder: Path, templates: Templates, *, film_link: str | None = None
) -> tuple[Look, tuple[Finding, ...]]:
    """Read every picture the view shows from the episode's `folder`.

    One that cannot be read is an error; the checks have said so, unless it has changed since.
    """
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
    return Look(templates, stills, folder, film_link), tuple(findings)


def _still(folder: Path, picture: Picture) -> Still | Trouble:
    opened = open_picture(folder, picture.path)
    if isinstance(opened, Trouble):
        return opened
    image, kind = opened
    image.info = {key: value for key, value in image.info.items() if key == "icc_profile"}
    out = io.BytesIO()
    image.save(out, kind, optimize=kind != "PNG", quality=82)  # a PNG takes three times as long, to save a twelfth
    return Still(out.getvalue(), FORMATS[kind], *image.size, description=picture.description)
