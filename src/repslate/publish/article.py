"""The article: one self-contained page for the website, read on a phone in the gym."""

from __future__ import annotations

from typing import TYPE_CHECKING

from repslate.model.contrast import TEXT_RATIO, lighten_until
from repslate.publish.drawings import body, muscle_bars, session_bar
from repslate.publish.look import Look
from repslate.publish.structured import json_ld
from repslate.publish.view import View

if TYPE_CHECKING:
    from markupsafe import Markup

DARK_PAPER = "#15161a"
MOST_MUSCLES = 10  # rows that a phone's screen shows at once; the body figure has them all
FACES = "<faces>"  # holds the fonts' place until the text is known; no words of the trainer's keep their "<"


def render(view: View, look: Look) -> bytes:
    """Render article.html: UTF-8, no request to anywhere, pictures and fonts inside."""
    from markupsafe import Markup

    exercises = view.exercises
    page = look.fill(
        "article.html",
        view=view,
        drawings=_drawings(view),
        css=Markup(_style(view, look)),  # noqa: S704 - our own style sheet; its one variable is a checked colour
        json_ld=Markup(json_ld(view)),  # noqa: S704 - "<" is escaped there
        picture=look.stills[view.picture.path] if view.picture else None,
        pictures={e.id: [look.stills[p.path] for p in e.pictures] for e in exercises},
        following={e.id: after for e, after in zip(exercises, (*exercises[1:], None), strict=True)},
    )
    return page.replace(FACES, "".join(look.font_faces(embedded=True, text=page))).encode()


def _drawings(view: View) -> dict[str, Markup]:
    """Draw what the workout takes; the drawings' texts are the view's words."""
    from markupsafe import Markup

    asked = view.demands
    rows = asked.muscles[:MOST_MUSCLES]
    drawn = {
        "time": session_bar(asked.bars, label=f"The session: {asked.session}", prefix="time"),
        "sets": muscle_bars(rows, label="Sets per muscle", prefix="sets"),
        "body": body(asked.levels, label="Where the work is", prefix="body") if rows else "",
    }
    return {name: Markup(svg) for name, svg in drawn.items()}  # noqa: S704 - drawn here, every text escaped


def _style(view: View, look: Look) -> str:
    accent = view.series.accent
    colours = {"accent": accent, "accent_dark": lighten_until(accent, DARK_PAPER, TEXT_RATIO)}
    return FACES + look.environment.get_template("article.css").render(colours)
