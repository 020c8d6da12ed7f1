"""Description and caption promise the printable card where the article links it, and nowhere else."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from repslate.api import read
from repslate.publish import OUTPUTS
from repslate.publish import render as renderer
from repslate.publish.templates import find

SAMPLE = Path(__file__).parents[2] / "samples" / "boathouse-kettlebells"
TEXTS = ("description.txt", "caption.txt")
CARDS = {"card-a4.pdf", "card-letter.pdf"}
LINK = re.compile(r'<a href="(card-[^"]*)">')


def rendered(templates: Path | None) -> dict[str, bytes]:
    facts = read(SAMPLE).value
    assert facts is not None
    done = renderer.render(
        facts,
        SAMPLE,
        find(templates),
        desk=renderer.Desk((), SAMPLE),
        outputs=[one for one in OUTPUTS if one.name in {"article.html", *TEXTS, *CARDS}],
    )
    return done.files


def test_the_article_links_both_cards_and_the_texts_promise_them() -> None:
    files = rendered(None)
    assert set(LINK.findall(files["article.html"].decode())) == CARDS <= files.keys()
    assert all(b"printable card: https://" in files[name] for name in TEXTS)


def test_without_cards_nothing_is_linked_or_promised(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(renderer, "_has_pango", lambda: False)
    files = rendered(None)
    assert not LINK.findall(files["article.html"].decode())
    assert not any(b"card" in files[name] for name in TEXTS)
    assert all(b": https://heronwick.example/workouts/12-boathouse-kettlebells" in files[name] for name in TEXTS)


def test_a_template_of_ones_own_that_links_no_card_takes_the_promise_back(tmp_path: Path) -> None:
    page = find().read("article.html").decode()
    (tmp_path / "article.html").write_text(page.replace("{% if view.cards %}", "{% if false %}"), "utf-8")
    files = rendered(tmp_path)
    assert not LINK.findall(files["article.html"].decode())
    assert not any(b"card" in files[name] for name in TEXTS)
