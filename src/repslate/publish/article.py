"""The article: one self-contained page for the website, read on a phone in the gym."""

from __future__ import annotations

from repslate.model.contrast import TEXT_RATIO, lighten_until
from repslate.publish.look import Look
from repslate.publish.markdown import to_html
from repslate.publish.structured import json_ld
from repslate.publish.typeset import figures, unbroken
from repslate.publish.view import View

DARK_PAPER = "#15161a"


def render(view: View, look: Look) -> bytes:
    """Render article.html: UTF-8, no request to anywhere, pictures and fonts inside."""
    from markupsafe import Markup

    environment = look.environment(
        nb=unbroken,
        figures=figures,
        markdown=lambda text: Markup(to_html(text)),  # noqa: S704 - cleaned by nh3
        phrase=lambda text: Markup(to_html(text, inline=True)),  # noqa: S704 - cleaned by nh3
    )
    exercises = view.exercises
    page = environment.get_template(
        "article.html"
    ).render(
        view=view,
        description=view.opening,
        css=Markup(_style(view, look)),  # noqa: S704 - our own style sheet; its one variable is a checked colour
        json_ld=Markup(json_ld(view)),  # noqa: S704 - "<" is escaped there
        picture=look.stills[view.picture.path] if view.picture else None,
        pictures={e.id: [look.stills[p.path] for p in e.pictures] for e in exercises},
        following={e.id: after for e, after in zip(exercises, (*exercises[1:], None), strict=True)},
    )
    return page.encode()


def _style(view: View, look: Look) -> str:
    accent = view.series.accent
    colours = {"accent": accent, "accent_dark": lighten_until(accent, DARK_PAPER, TEXT_RATIO)}
    faces = "".join(look.font_faces(embedded=True))
    return faces + look.environment().get_template("article.css").render(colours)
