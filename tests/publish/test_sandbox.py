"""A template of one's own may go round and multiply texts, within bounds that no page comes near."""

from __future__ import annotations

from pathlib import Path

import pytest
from jinja2.exceptions import SecurityError

from repslate.publish import sandbox
from repslate.publish.look import Look, OutputError
from repslate.publish.templates import find

LOOPS = "{% for a in range(999) %}" * 3 + "{% endfor %}" * 3
REFUSED = [
    LOOPS,
    "{% macro m(n) %}{% if n %}{{ m(n - 1) }}{{ m(n - 1) }}{% endif %}{% endmacro %}{{ m(40) }}",
    "{{ 'a'.center(3000000000) }}",
    "{{ 'a'|center(width=3000000000) }}",
    "{{ 'a' * 3000000000 }}",
    "{{ [1] * 3000000000 }}",
    "{{ '%3000000000d' % 1 }}",
    "{{ '%*d'|format(3000000000, 1) }}",
    "{{ '{:3000000000}'.format(1) }}",
    "{{ '{:{}}'.format(1, 3000000000) }}",
    "{{ 9 ** (9 ** 9) }}",
    "{% set x = namespace(t='aaaa') %}{% for a in range(60) %}{% set x.t = x.t ~ x.t %}{% endfor %}",
    "{% set x = namespace(t='aaaa') %}{% for a in range(60) %}{% set x.t = x.t + x.t %}{% endfor %}",
    "{% set x = namespace(t=[1]) %}{% for a in range(60) %}{% set x.t = x.t + x.t %}{% endfor %}",
    "{{ ('a' * 99999)|replace('a', 'a' * 99999) }}",
    "{{ ('a' * 99999).replace('a', 'a' * 99999) }}",
    "{{ ('a' * 9999)|list|join('a' * 9999) }}",
    "{{ [1]|batch(3000000000, 1)|list }}",
]


def filled(folder: Path, template: str) -> str:
    (folder / "article.html").write_text(template, "utf-8")
    return Look(find(folder), {}, folder).fill("article.html", words=["a", "b"])


@pytest.mark.parametrize("template", REFUSED)
def test_what_would_take_hours_or_gigabytes_is_refused(tmp_path: Path, template: str) -> None:
    with pytest.raises(SecurityError):
        filled(tmp_path, template)


def test_a_page_without_end_is_refused(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="more than 10,000,000 characters"):
        filled(tmp_path, "{% for a in range(900) %}{{ 'a' * 99999 }}{% endfor %}")


@pytest.mark.parametrize(
    ("template", "page"),
    [
        ("{% for a in words %}{{ loop.index }}{{ a|upper }}{% if not loop.last %}, {% endif %}{% endfor %}", "1A, 2B"),
        ("{{ words|join(' and ') ~ '!' }}", "a and b!"),
        ("{{ '%.1f kg'|format(22.5) }} {{ '{} m'.format(5) }}", "22.5 kg 5 m"),
        ("{% macro m(a) %}<{{ a }}>{% endmacro %}{{ m(1) }}", "<1>"),
        ("{{ 'ab'.center(6) }}{{ 3 * 4 + 2 ** 3 }}{{ '-' * 3 }}", "  ab  20---"),
        ("{% set spend = 1 %}{% for a in words recursive %}{{ a ~ spend }}{% else %}none{% endfor %}", "a1b1"),
    ],
)
def test_what_pages_need_works(tmp_path: Path, template: str, page: str) -> None:
    assert filled(tmp_path, template) == page


def test_each_run_has_its_own_rounds(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sandbox, "ROUNDS", 3)
    assert filled(tmp_path, "{% for a in '123' %}{{ a }}{% endfor %}") == "123"
    assert filled(tmp_path, "{% for a in '123' %}{{ a }}{% endfor %}") == "123"
    with pytest.raises(SecurityError, match="more than 3 times"):
        filled(tmp_path, "{% for a in '12' %}{% for b in '12' %}{% endfor %}{% endfor %}")
