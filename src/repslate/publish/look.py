"""What the outputs are drawn with: templates, fonts and the episode's pictures, all loaded before the first render."""

from __future__ import annotations

import base64
import io
import re
import time
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from repslate.model.episode import Picture
from repslate.model.stills import FORMATS, Trouble, open_picture, unreadable
from repslate.publish.guard import fetcher
from repslate.publish.markdown import to_html
from repslate.publish.templates import LARGEST, TEMPLATE_FAULTS, Templates
from repslate.publish.typeset import bdi, figures, unbroken
from repslate.publish.view import View
from repslate.source.finding import Finding
from repslate.source.interrupt import held_back

if TYPE_CHECKING:
    from jinja2 import Environment

LATIN, LATIN_EXTENDED = "Repslate Text", "Repslate Text Ext"
FACES = tuple(
    (family, weight, f"fonts/source-sans-3-{subset}-{weight}-normal.woff2")
    for family, subset in ((LATIN, "latin"), (LATIN_EXTENDED, "latin-ext"))
    for weight in (400, 600)
)
MOST_MISSING = 12  # characters that a message names
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
    """An output cannot be published as it is: the check's name, what was found and how to fix it.

    Raised deep inside a template or a layout, where nothing can be returned; render.py makes a finding of it.
    """

    def __init__(self, check: str, message: str, fix: str) -> None:
        super().__init__(message)
        self.check, self.message, self.fix = check, message, fix


class UnprintableError(Exception):
    """A page for print holds `characters` that no font on this machine has; the rest of a build can do without it."""

    def __init__(self, characters: str) -> None:
        super().__init__(characters)
        self.characters = characters


class UnlaidError(Exception):
    """The layout library fails over a page for print, by a fault of its own; the rest of a build can do without it."""


#: What the layout library was seen to raise over pages that ask too much of it, or might.
LAYOUT_FAULTS = (AssertionError, *TEMPLATE_FAULTS)


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
                "bdi": bdi,
                "nb": unbroken,
                "figures": figures,
                "markdown": lambda text: Markup(to_html(text)),  # noqa: S704 - cleaned by nh3
                "phrase": lambda text: Markup(to_html(text, inline=True)),  # noqa: S704 - cleaned by nh3
            }
        )

    def fill(self, name: str, **words: object) -> str:
        """Fill in a template.

        Raises OutputError where it runs for longer than 20 s, and what the template raises.
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
        return "".join(pieces)

    @cached_property
    def fonts(self) -> Any:
        """What WeasyPrint has unpacked of the fonts, which takes longer than laying out a page: one for all cards."""
        from weasyprint.text.fonts import FontConfiguration

        return FontConfiguration()

    def close(self) -> None:
        """Remove what was unpacked; WeasyPrint does it when Python collects the object, at an interrupt never."""
        if "fonts" in self.__dict__:
            with held_back():
                self.fonts.__del__()

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

        Raises OutputError where it asks for other files than the templates' own, UnprintableError where no font has
        its characters, UnlaidError where the layout fails; OSError from WeasyPrint's import where Pango is missing.
        """
        opener = fetcher(self.templates.folders)
        from weasyprint import HTML

        try:
            document = HTML(string=page, base_url=None, url_fetcher=opener).render(font_config=self.fonts)
        except OSError as error:  # nothing but the unpacked fonts is written
            raise OutputError(
                "temporary-folder",
                f"the fonts of the card could not be unpacked in {temporary()} ({error.strerror or error})",
                "make room there, or name another folder with the variable TMPDIR (on Windows TEMP)",
            ) from None
        except LAYOUT_FAULTS as error:
            raise UnlaidError(repr(error)) from error
        if opener.refused:
            address, reason = opener.refused[0]
            raise OutputError(
                "file-refused",
                f"the card asks for a file it may not open: {address}: {reason}",
                "use pictures of the episode's folder and files of the templates folder only",
            )
        if missing := _unprintable(document):
            raise UnprintableError(missing)
        return document

    def preview(self, picture: Picture) -> bytes:
        """Return the picture as a JPEG file, for link previews, which take no data: address."""
        from PIL import Image

        out = io.BytesIO()
        image = Image.open(io.BytesIO(self.stills[picture.path].data)).convert("RGBA")
        page = Image.new("RGBA", image.size, "white")  # JPEG knows no transparency
        Image.alpha_composite(page, image).convert("RGB").save(out, "JPEG", quality=85)
        return out.getvalue()


def temporary() -> str:
    """Return the name of the system's temporary folder, for a message."""
    import tempfile

    try:
        return tempfile.gettempdir()
    except OSError:
        return "any temporary folder"


def _unprintable(document: Any) -> str:
    """Return the characters for which Pango found no glyph in any font, at most a dozen; they print as empty boxes."""
    from weasyprint.text.ffi import ffi, pango

    missing: dict[str, None] = {}
    boxes = [page._page_box for page in document.pages]
    while boxes:
        box = boxes.pop()
        boxes.extend(getattr(box, "children", ()))
        layout = getattr(box, "pango_layout", None)
        if layout is None or box.text.isascii() or not box.text.strip():
            continue
        layout.reactivate(box.style)  # the layout is at hand while its text box lives
        run = layout.get_first_line()[0].runs
        while run != ffi.NULL:
            glyphs = run.data.glyphs
            for glyph in glyphs.glyphs[0 : glyphs.num_glyphs]:
                if glyph.glyph & pango.PANGO_GLYPH_UNKNOWN_FLAG:
                    missing[chr(glyph.glyph - pango.PANGO_GLYPH_UNKNOWN_FLAG)] = None
            run = run.next
        layout.deactivate()
    shown = list(missing)[:MOST_MISSING]
    return " ".join(shown) + (" …" if len(missing) > len(shown) else "")


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
            findings.append(unreadable(picture, still))
    return Look(templates, stills, folder, film_link), tuple(findings)


def _still(folder: Path, picture: Picture) -> Still | Trouble:
    opened = open_picture(folder, picture.path)
    if isinstance(opened, Trouble):
        return opened
    image, kind = opened
    out = io.BytesIO()
    image.save(out, kind, optimize=kind != "PNG", quality=82)  # a PNG takes three times as long, to save a twelfth
    return Still(out.getvalue(), FORMATS[kind], *image.size, description=picture.description)
