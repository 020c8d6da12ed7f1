"""Every output of one episode as bytes, or the reason why not."""

from __future__ import annotations

import os
from collections.abc import Collection
from contextlib import closing, redirect_stdout
from dataclasses import dataclass, replace
from io import StringIO
from pathlib import Path

from repslate.facts import Facts
from repslate.publish import ARTICLE, OUTPUTS, Output, look
from repslate.publish.cut_page import film_link
from repslate.publish.look import Look, OutputError, UnlaidError, UnprintableError
from repslate.publish.templates import TEMPLATE_FAULTS, Templates, blame, trouble
from repslate.publish.view import View, view
from repslate.source.finding import Finding, Severity, has_error
from repslate.source.interrupt import held_back
from repslate.source.span import Span


@dataclass(frozen=True, slots=True)
class Rendered:
    """The outputs by name; `skipped` are the names of those this machine cannot make. No files if there is an error."""

    files: dict[str, bytes]
    skipped: tuple[str, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Desk:
    """What the editor's page alone needs: the checks' findings, and the folder `out` in which it will lie."""

    findings: Collection[Finding]
    out: Path


def render(
    facts: Facts,
    folder: Path,
    templates: Templates,
    *,
    desk: Desk,
    outputs: Collection[Output] = OUTPUTS,
) -> Rendered:
    """Render the outputs of the episode in `folder`. An error in a template of the user's is a finding."""
    words = view(facts, desk.findings)
    link = film_link(folder / words.cut.film, desk.out) if words.cut and words.cut.film else None
    drawn, findings = look.load(words, folder, templates, film_link=link)
    unusable = (*trouble(templates, folder), *findings)
    if any(finding.severity is Severity.ERROR for finding in unusable):
        return Rendered({}, (), unusable)
    pango = not any(output.needs_pango for output in outputs) or _has_pango()
    if not pango:
        words = replace(words, cards=())
    files: dict[str, bytes] = {}
    skipped, missing = [], ""
    unlaid: list[Finding] = []
    names = {output: output.name.format(slug=words.slug) for output in outputs}
    with closing(drawn):
        for output in sorted(outputs, key=lambda output: not output.needs_pango):  # what links the cards comes later
            name = names[output]
            if output.needs_pango and (missing or not pango):
                skipped.append(name)
                continue
            try:
                data = _made(output, name, words, drawn, folder)
            except UnprintableError as error:
                missing, words = error.characters, replace(words, cards=())
                skipped.append(name)
                continue
            except UnlaidError as error:
                words = replace(words, cards=tuple(card for card in words.cards if card[1] != name))
                unlaid.append(_unlaid_finding(name, templates, error))
                continue
            if isinstance(data, Finding):
                return Rendered({}, (), (data,))
            if data is not None:
                files[name] = data
            if data is not None and output is ARTICLE:  # what it does not link, no other text promises
                linked = tuple(card for card in words.cards if f'href="{card[1]}"'.encode() in data)
                words = replace(words, cards=linked)
    made = {name: files[name] for name in names.values() if name in files}
    unmade = _fonts_finding(skipped, missing) if missing else _pango_finding(skipped)
    if has_error(unlaid):
        return Rendered({}, (), tuple(unlaid))
    return Rendered(made, tuple(skipped), (*unusable, *((unmade,) if skipped else ()), *unlaid))


def _made(output: Output, name: str, words: View, drawn: Look, folder: Path) -> bytes | Finding | None:
    """Return one output's bytes, or what a template of the user's, or its words, stand in the way with."""
    from jinja2 import TemplateError

    try:
        if not output.needs_pango:
            return output.render(words, drawn)
        with held_back() as stop:  # WeasyPrint swallows an interrupt at any picture, and leaves the picture out
            stop()
            return output.render(words, drawn)
    except OutputError as error:
        return Finding(error.check, Severity.ERROR, Span("workout.md"), f"{name}: {error.message}", error.fix)
    except (TemplateError, *TEMPLATE_FAULTS) as error:
        blamed = _template_finding(error, drawn.templates, folder)
        if blamed is None and len(drawn.templates.folders) == 1:
            raise
        return blamed or _some_template_finding(name, error)


def _has_pango() -> bool:
    try:
        with redirect_stdout(StringIO()):  # WeasyPrint prints a notice of its own; the finding says it in our words
            import weasyprint  # noqa: F401 - loads the library
    except OSError:
        return False
    return True


def _unlaid_finding(name: str, templates: Templates, error: Exception) -> Finding:
    """Say that a card cannot be laid out: an error where a template of the user's may be at fault, else a warning."""
    own = (
        templates.path("card.css") != templates.folders[-1] / "card.css"
        or templates.path("card.html") != templates.folders[-1] / "card.html"
    )
    text = (
        f"{name} could not be made: the library that lays it out fails ({error}), expected a page that it can lay out"
    )
    if own:
        help_ = "take out of card.html and card.css what asks most of it, such as transform, or use the shipped ones"
        return Finding("card-unmade", Severity.ERROR, Span("workout.md"), text, help_)
    help_ = "use the other card and report this with the workout: it should not happen"
    return Finding("card-unmade", Severity.WARNING, Span("workout.md"), text, help_)


def _fonts_finding(skipped: list[str], missing: str) -> Finding:
    return Finding(
        "character-unprintable",
        Severity.WARNING,
        Span("workout.md"),
        f"no font on this computer has {missing}, so {' and '.join(skipped)} could not be made: empty boxes would "
        "stand on paper",
        "install fonts that have them (Debian, Ubuntu: sudo apt-get install fonts-noto-core fonts-noto-cjk), or write "
        "other characters",
    )


def _pango_finding(skipped: list[str]) -> Finding:
    return Finding(
        "pango-missing",
        Severity.WARNING,
        Span("workout.md"),
        f"the library Pango is not on this computer, so {' and '.join(skipped)} could not be made; on Debian or "
        "Ubuntu type sudo apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0",
        "macOS: brew install pango; Windows: install Pango with MSYS2 (pacman -S mingw-w64-x86_64-pango)",
    )


def _some_template_finding(name: str, error: Exception) -> Finding:
    """Say that a template of the user's fails, where nothing tells in which line."""
    says = " ".join(str(error).split()) or type(error).__name__
    text = f"{name}: a template of your own fails: {says}, expected templates that Jinja can fill in"
    help_ = "take your templates out of the folder one by one to see which it is, and fix that one"
    return Finding("template-error", Severity.ERROR, Span("workout.md"), text, help_)


def _template_finding(error: Exception, templates: Templates, folder: Path) -> Finding | None:
    found = blame(error, templates)
    if found is None:
        return None
    path, line, says = found
    span = Span(Path(os.path.relpath(path, folder)).as_posix(), line)
    text = f"the template {path.name} fails: {says}, expected a template that Jinja can fill in"
    help_ = f"fix line {line}, or take {path.name} out of the folder to have the shipped one back"
    return Finding("template-error", Severity.ERROR, span, text, help_)
