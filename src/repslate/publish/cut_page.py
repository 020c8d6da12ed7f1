"""The editor's page: whether each chapter sits on the cut, at one look, beside the editing program.

Its pictures are inside. The film stays where it is: the page points to it by a relative path and asks for nothing
before someone plays it.
"""

from __future__ import annotations

import base64
import os
from pathlib import Path
from urllib.parse import quote

from repslate.cut.video import frame_at
from repslate.model.contrast import TEXT_RATIO, lighten_until
from repslate.publish.article import DARK_PAPER, FACES
from repslate.publish.cut_words import Moment
from repslate.publish.look import Look
from repslate.publish.view import View
from repslate.source.new_file import is_address, place_new, room_beside
from repslate.source.places import is_file, real

MARK = b'<meta name="generator" content="repslate">'  # in the head of the template
HIGHEST = 3  # folders up to the film: one further away is told of on no page that may be passed on
WIDTH = 480  # pixels of a frame: twice what is shown on a wide screen, for sharp ones


def render(view: View, look: Look) -> bytes | None:
    """Render cut.html, or None where the episode's folder holds neither film nor subtitles nor edit."""
    if view.cut is None:
        return None
    from markupsafe import Markup

    page = look.fill(
        "cut.html",
        view=view,
        cut=view.cut,
        frames=_frames(view, look) if view.cut.film else {},
        film_link=look.film_link or view.cut.film,
        css=Markup(_style(view, look)),  # noqa: S704 - our own style sheet; its one variable is a checked colour
    )
    return page.replace(FACES, "".join(look.font_faces(embedded=True, text=page))).encode()


def save(page: Path, data: bytes) -> str | None:
    """Write the page whole or not at all; if `page` is no place for it, write nothing and return why."""
    if is_address(page):
        return f"{page} is an address, expected a file of this computer"
    if page.suffix.lower() not in {".html", ".htm"}:  # no file that an episode is made of ends so
        return f"{page} does not end as a page does, expected .html"
    try:
        with room_beside(page) as room:
            whole = room / "page"
            whole.write_bytes(data)
            if not os.path.lexists(page):
                place_new(whole, page)
            elif _is_page(page):
                whole.replace(page)
            else:
                return f"{page} is there already and is no page that repslate wrote, expected a new name"
    except OSError as error:
        return f"{page} could not be written ({error.strerror or error}), expected a place that may be written to"
    return None


def _is_page(path: Path) -> bool:
    """Tell a page that we wrote from any other file, and from a link to one."""
    if path.is_symlink() or not is_file(path):
        return False
    with path.open("rb") as stream:
        return MARK in stream.read(4096)


def film_link(film: Path, page_folder: Path) -> str | None:
    """Return the relative address of the film from the page's folder; None where it climbs more than three folders."""
    try:
        path = os.path.relpath(real(film), real(page_folder))
    except ValueError:  # another drive of a Windows machine
        return None
    parts = Path(path).parts
    return None if parts.count(os.pardir) > HIGHEST else quote(os.fsencode(Path(path).as_posix()))


def _frames(view: View, look: Look) -> dict[str, str]:
    """Return the frames that the page shows as data: addresses, by their time in decimal seconds."""
    wanted: dict[str, Moment] = {}
    for stop in view.cut.stops if view.cut else ():
        for moment in (stop.before, stop.start, stop.proposal):
            if moment:
                wanted[moment.at] = moment
    film = look.folder / view.cut.film if view.cut else look.folder
    pictures = {at: frame_at(film, moment.time, width=WIDTH) for at, moment in wanted.items()}
    return {at: f"data:image/jpeg;base64,{base64.b64encode(data).decode()}" for at, data in pictures.items() if data}


def _style(view: View, look: Look) -> str:
    accent = view.series.accent
    colours = {"accent": accent, "accent_dark": lighten_until(accent, DARK_PAPER, TEXT_RATIO)}
    return FACES + look.environment.get_template("cut.css").render(colours)
