"""The templates: found by name, the user's first, in a sandbox, and an error in one of them has a place."""

from __future__ import annotations

from pathlib import Path

import pytest
from jinja2 import TemplateError

from repslate.publish.templates import TEMPLATE_FAULTS, blame, find


@pytest.mark.parametrize("name", ["x.html", "x.html.j2", "x.md", "x.txt", "x.css"])
def test_every_template_is_escaped_whatever_its_name(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_text("{{ word }}")
    assert find(tmp_path).environment().get_template(name).render(word="<b>&") == "&lt;b&gt;&amp;"


def test_the_users_file_comes_before_the_shipped_one(tmp_path: Path) -> None:
    shipped = find()
    name = "fonts/OFL.txt"
    assert name in shipped.names()
    (tmp_path / "fonts").mkdir()
    (tmp_path / name).write_text("mine")
    assert find(tmp_path).read(name) == b"mine"
    other = "fonts/source-sans-3-latin-400-normal.woff2"
    assert find(tmp_path).read(other) == shipped.read(other)
    with pytest.raises(FileNotFoundError):
        shipped.path("absent.html")


FAULTS = [
    ("line\n{{ missing }}", 2, "'missing' is undefined"),
    ("{% if %}", 1, "Expected an expression"),
    ("\n\n{{ word.missing }}", 3, "no attribute 'missing'"),
    ("{{ word | nosuch }}", 1, "nosuch"),
    ("{{ 1 / 0 }}", 1, "division by zero"),
    ("{{ word + 1 }}", 1, "str"),
    ("{{ ''.__class__.__mro__ }}", 1, "unsafe"),
    ("{{ words.append(1) }}", 1, "unsafe"),
    ("{% for n in range(10**9) %}{% endfor %}", 1, "range"),
    ("{% include 'absent.html' %}", 1, "absent.html"),
    ("{% include '../secret.txt' %}", 1, "secret.txt"),
    ("{% include 'article.html' %}", 1, "recursion"),
]


@pytest.mark.parametrize(("text", "line", "says"), FAULTS, ids=[text for text, _, _ in FAULTS])
def test_an_error_in_a_template_has_its_file_and_line(tmp_path: Path, text: str, line: int, says: str) -> None:
    own = tmp_path / "own"
    own.mkdir()
    (tmp_path / "secret.txt").write_text("secret")
    (own / "article.html").write_text(text)
    templates = find(own)
    with pytest.raises((TemplateError, *TEMPLATE_FAULTS)) as caught:
        templates.environment().get_template("article.html").render(word="w", words=[1])
    path, at, message = blame(caught.value, templates) or (None, None, "")
    assert (path, at) == (own / "article.html", line)
    assert says in message


def test_an_error_that_is_not_the_users_is_not_blamed_on_them(tmp_path: Path) -> None:
    with pytest.raises(TemplateError) as caught:
        find(tmp_path).environment().from_string("{{ missing }}").render()
    assert blame(caught.value, find(tmp_path)) is None
