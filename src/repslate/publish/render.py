"""Every output of one episode as bytes, or the reason why not.

Stands before folder.py: nothing is written until all is made.
"""

from __future__ import annotations

import os
from contextlib import redirect_stdout
from dataclasses import dataclass
from io import StringIO
from pathlib import Path

from repslate.facts import Facts
from repslate.publish import OUTPUTS, look
from repslate.publish.look import OutputError
from repslate.publish.templates import TEMPLATE_FAULTS, Templates, blame, trouble
from repslate.publish.view import view
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span


@dataclass(frozen=True, slots=True)
class Rendered:
    """The outputs by name; `skipped` are the names of those this machine cannot make. No files if there is an error."""

    files: dict[str, bytes]
    skipped: tuple[str, ...]
    findings: tuple[Finding, ...]


def render(facts: Facts, folder: Path, templates: Templates) -> Rendered:
    """Render all outputs of the episode in `folder`. An error in a template of the user's is a finding."""
    from jinja2 import TemplateError

    words = view(facts)
    drawn, findings = look.load(words, folder, templates)
    unusable = (*trouble(templates, folder), *findings)
    if any(finding.severity is Severity.ERROR for finding in unusable):
        return Rendered({}, (), unusable)
    pango = _has_pango()
    files, skipped = {}, []
    for output in OUTPUTS:
        name = output.name.format(slug=words.slug)
        if output.needs_pango and not pango:
            skipped.append(name)
            continue
        try:
            data = output.render(words, drawn)
        except OutputError as error:
            finding = Finding(error.check, Severity.ERROR, Span("workout.md"), f"{name}: {error.message}", error.mend)
            return Rendered({}, (), (finding,))
        except (TemplateError, *TEMPLATE_FAULTS) as error:
            blamed = _template_finding(error, templates, folder)
            if blamed is None:
                raise
            return Rendered({}, (), (blamed,))
        if data is not None:
            files[name] = data
    return Rendered(files, tuple(skipped), (*unusable, *((_pango_finding(skipped),) if skipped else ())))


def _has_pango() -> bool:
    try:
        with redirect_stdout(StringIO()):  # WeasyPrint prints a notice of its own; the finding says it in our words
            import weasyprint  # noqa: F401 - loads the library
    except OSError:
        return False
    return True


def _pango_finding(skipped: list[str]) -> Finding:
    return Finding(
        "pango-missing",
        Severity.WARNING,
        Span("workout.md"),
        f"the library Pango is not on this computer, so {' and '.join(skipped)} could not be made; on Debian or "
        "Ubuntu type sudo apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0",
        "macOS: brew install pango; Windows: install Pango with MSYS2 (pacman -S mingw-w64-x86_64-pango)",
    )


def _template_finding(error: Exception, templates: Templates, folder: Path) -> Finding | None:
    found = blame(error, templates)
    if found is None:
        return None
    path, line, says = found
    span = Span(Path(os.path.relpath(path, folder)).as_posix(), line)
    text = f"the template {path.name} fails: {says}, expected a template that Jinja can fill in"
    help_ = f"mend line {line}, or take {path.name} out of the folder to have the shipped one back"
    return Finding("template-error", Severity.ERROR, span, text, help_)
