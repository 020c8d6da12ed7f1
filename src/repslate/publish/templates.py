"""Finds the templates, the shipped ones and the user's own, and says where in them an error lies."""

from __future__ import annotations

import os
import traceback
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from repslate.source.finding import Finding, Severity
from repslate.source.places import is_file, is_folder, real
from repslate.source.span import Span

if TYPE_CHECKING:
    from jinja2 import Environment

#: What a template of the user's may raise while it runs: Jinja's own errors are dealt with by `blame` as well.
TEMPLATE_FAULTS = (ArithmeticError, AttributeError, LookupError, RuntimeError, TypeError, ValueError)


LONGEST_RANGE = 1000
LARGEST = 10_000_000  # characters or items made in one step, or of a whole page


@dataclass(frozen=True, slots=True)
class Templates:
    """The folders that templates are looked for in: the user's, if any, before the shipped one."""

    folders: tuple[Path, ...]

    def environment(self, filters: Mapping[str, Callable[[str], str]] | None = None) -> Environment:
        """Return a sandboxed Jinja environment that escapes whatever a template's name is and allows nothing undefined.

        select_autoescape would leave "article.html.j2" unescaped; the plain sandbox lets a template change lists.
        """
        from jinja2 import FileSystemLoader, StrictUndefined

        from repslate.publish.sandbox import CountingEnvironment

        environment = CountingEnvironment(
            loader=FileSystemLoader(self.folders),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            keep_trailing_newline=True,
        )
        environment.globals["range"] = _range
        environment.filters.update(filters or {})
        return environment

    def path(self, name: str) -> Path:
        """Return where the file `name` of the look is; the user's comes before the shipped one."""
        for folder in self.folders:
            if is_file(folder / name):
                return folder / name
        raise FileNotFoundError(name)

    def read(self, name: str) -> bytes:
        """Return the bytes of the file `name`."""
        return self.path(name).read_bytes()

    def names(self) -> tuple[str, ...]:
        """Return the shipped names, which a folder of the user's can stand in for."""
        shipped = self.folders[-1]
        return tuple(sorted(path.relative_to(shipped).as_posix() for path in shipped.rglob("*") if is_file(path)))


def _range(*ends: int) -> range:
    """Jinja's range, at most a thousand steps: no page needs more, and loops within loops stall the build."""
    steps = range(*ends)
    if len(steps) > LONGEST_RANGE:
        raise OverflowError(f"range is longer than {LONGEST_RANGE} steps")
    return steps


def trouble(templates: Templates, episode: Path) -> tuple[Finding, ...]:
    """Say what is wrong with the user's folder before anything runs: no file of use, or text that is not UTF-8."""
    if len(templates.folders) == 1:
        return ()
    own, used = templates.folders[0], [name for name in templates.names() if is_file(templates.folders[0] / name)]
    if not used:
        known = ", ".join(name for name in templates.names() if not name.startswith("fonts/"))
        text = f"{own.name} holds no template that is used, expected one of {known}"
        return (Finding("templates-unused", Severity.WARNING, Span("workout.md"), text, "check the files' names"),)
    findings = []
    for name in used:
        try:
            if name.endswith((".html", ".css")):
                (own / name).read_text("utf-8")
        except UnicodeDecodeError:
            span = Span(Path(os.path.relpath(own / name, episode)).as_posix())
            text = f"the template {name} is no UTF-8 text"
            findings.append(Finding("template-error", Severity.ERROR, span, text, "save it again as UTF-8"))
    return tuple(findings)


def find(own: Path | None = None) -> Templates:
    """Return the templates: those in the folder `own` by name, the rest as shipped."""
    installed = Path(str(files("repslate"))) / "templates"
    shipped = installed if is_folder(installed) else Path(__file__).parents[3] / "templates"
    return Templates((shipped,) if own is None else (real(own), shipped))


def blame(error: Exception, templates: Templates) -> tuple[Path, int, str] | None:
    """Return the user's template and line that an error comes from, and what it says; None if it is not theirs.

    Jinja puts the template's own file and line into the traceback of what a template raises.
    """
    from jinja2 import TemplateSyntaxError

    own = templates.folders[:-1]
    if isinstance(error, TemplateSyntaxError) and error.filename:
        places = [(Path(error.filename), error.lineno)]
    else:
        places = [(Path(frame.filename), frame.lineno or 1) for frame in traceback.extract_tb(error.__traceback__)]
    for path, line in reversed(places):
        if any(path.is_relative_to(folder) for folder in own):
            return path, line, " ".join(str(error).split()) or type(error).__name__
    return None
