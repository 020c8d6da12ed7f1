"""The commands: each asks the api and prints what it answers. What they need is imported when they are called."""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer
from typer.core import TyperGroup

from repslate.source.places import beneath, is_file, is_folder, is_there

if TYPE_CHECKING:
    from repslate.checks.pages import Page


class _Commands(TyperGroup):
    """The commands, whose usage errors Typer prints itself: with the user's own words in them."""

    def main(self, *args: Any, **kwargs: Any) -> Any:
        """Run one of them."""
        from repslate.cli.printer import made_visible

        with made_visible():
            return super().main(*args, **kwargs)


app = typer.Typer(
    cls=_Commands,
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
    epilog="Start with: repslate new my-first-episode",
)


class Format(StrEnum):
    """How findings and figures are printed."""

    TEXT = "text"
    JSON = "json"


class CopyOf(StrEnum):
    """What a text that was copied back is a copy of."""

    CAPTION = "caption"
    DESCRIPTION = "description"
    CHAPTERS = "chapters"
    ARTICLE = "article"


def _refused(text: str) -> typer.BadParameter:
    """Return the usage error that says so in one line, whatever a name in it holds."""
    from repslate.cli import report

    return typer.BadParameter(report.visible(text))


def _episode(path: Path) -> Path:
    """Take an episode's folder, or the workout.md in it."""
    folder = path.parent if path.name == "workout.md" and not is_folder(path) else path
    if not is_folder(folder):
        raise _refused(f"there is no folder {folder}; give the folder in which workout.md is")
    return folder


def _place(path: Path) -> Path:
    """Take a place to write to, never an address, which would pass for the name of a folder."""
    from repslate.source.new_file import is_address

    if is_address(path):
        raise typer.BadParameter(f"{path} is an address; give a place on this computer")
    return path


def _episodes(paths: list[Path]) -> list[Path]:
    """Take episodes' folders and folders of such folders; pass over what else lies there, as in `samples/*`."""
    from repslate.cli import report

    beside = [path for path in paths if is_file(path) and path.name != "workout.md"]
    if len(beside) == len(paths):
        beside = []
    for path in beside:
        typer.echo(report.visible(f"{path} is no episode's folder and is passed over"), err=True)
    return [episode for path in paths if path not in beside for episode in _within(_episode(path))]


def _within(folder: Path) -> list[Path]:
    """Return the episodes in a folder that is none itself; a folder that holds none stands for itself."""
    if is_there(folder / "workout.md"):
        return [folder]
    return [path.parent for path in beneath(folder, "workout.md")] or [folder]


def _spoken(path: Path) -> Path:
    """Take an episode's folder, the workout.md in it, or a file of what is said."""
    from repslate.cut.formats import SUBTITLES

    if is_file(path) and path.name != "workout.md":
        return path
    folder = _episode(path)
    if not any(is_there(folder / name) for name in SUBTITLES):
        raise _refused(f"{folder} has no subtitles; expected one of {', '.join(SUBTITLES)}")
    return folder


Episode = Annotated[
    Path, typer.Argument(metavar="EPISODE", help="The episode's folder, or its workout.md.", callback=_episode)
]
Episodes = Annotated[
    list[Path],
    typer.Argument(metavar="EPISODE", help="Episodes' folders, or a folder of such folders.", callback=_episodes),
]
As = Annotated[
    Format | None,
    typer.Option("--format", help="text: one line a finding. json: one document. Else what suits the terminal."),
]


def _version(*, asked: bool) -> None:
    if asked:
        from importlib.metadata import version

        typer.echo(f"repslate {version('repslate')}")
        raise typer.Exit


@app.callback()
def start(
    *,
    version: Annotated[
        bool, typer.Option("--version", help="Print the version.", callback=_version, is_eager=True)
    ] = False,
) -> None:
    """Publish a filmed workout: article, printable card, chapters, description and caption from one workout.md."""


@app.command(epilog="Example: repslate new my-first-episode")
def new(
    folder: Annotated[
        Path, typer.Argument(metavar="FOLDER", help="A folder that is not there yet, or is empty.", callback=_place)
    ],
) -> None:
    """Write a starter episode that builds as it stands."""
    from repslate.cli import report
    from repslate.cli.starter import write_starter

    refusal = write_starter(folder)
    if refusal:
        raise _refused(refusal)
    typer.echo(report.visible(f"A starter episode is in {folder}. Change workout.md and chapters.txt, then:"))
    typer.echo(report.visible(f"  repslate build {folder}"))


@app.command(epilog="Example: repslate check episodes/07-hinge-squat-carry")
def check(episodes: Episodes, *, format_: As = None) -> None:
    """Say what to look at in an episode. Writes nothing.

    With --format json: {"findings": [{"check", "severity", "file", "line", "column", "length", "message", "help",
    "because"}], "quieted": [the same fields and "reason"]}.
    """
    from repslate import api
    from repslate.cli import report
    from repslate.cli.printer import Printer

    if format_ is Format.JSON:
        from repslate.documents import findings_json, seen_from_here

        checked = [seen_from_here(api.check(folder), folder) for folder in episodes]
        typer.echo(findings_json(checked))
        raise typer.Exit(int(any(each.failed for each in checked)))
    failed = False
    printer = Printer(plain=format_ is Format.TEXT)
    for folder in printer.each(episodes, "Checking"):
        one = api.check(folder)
        failed |= one.failed
        printer.findings(one.findings, folder)
        printer.close(folder, f"checked, {report.counted(one.findings, len(one.quieted))}")
    raise typer.Exit(int(failed))


@app.command(epilog="Example: repslate build episodes/07-hinge-squat-carry --out output")
def build(
    episodes: Episodes,
    *,
    out: Annotated[
        Path,
        typer.Option(metavar="DIR", help="Where the episodes' output folders are.", file_okay=False, callback=_place),
    ] = Path("output"),
    templates: Annotated[
        Path | None,
        typer.Option(
            metavar="DIR",
            help="Your own templates; they stand in for the shipped ones of the same name.",
            exists=True,
            file_okay=False,
        ),
    ] = None,
) -> None:
    """Check an episode, then write all that is published.

    It goes to output/<slug>/. With an error nothing is written, and what an earlier build wrote stays. Files of your
    own in that folder stay too.
    """
    from repslate import api
    from repslate.cli import report
    from repslate.cli.printer import Printer

    failed = False
    taken: set[str] = set()
    printer = Printer()
    for folder in printer.each(episodes, "Building"):
        built = api.build(folder, out, templates=templates, taken=taken)
        printer.findings(built.findings, folder)
        failed |= built.value is None
        what = f"{len(built.value.written)} files in {built.value.folder}" if built.value else "not built"
        printer.close(folder, f"{what}, {report.counted(built.findings)}")
        if built.value is not None:
            taken.add(built.value.folder.name)
    raise typer.Exit(int(failed))


@app.command(epilog="Example: repslate show episodes/07-hinge-squat-carry --format json")
def show(
    episode: Episode,
    *,
    page: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Write the editor's page there, whatever errors there are.", dir_okay=False),
    ] = None,
    plan: Annotated[
        bool,
        typer.Option("--plan", help="Print the whole workout.md in the canonical notation, as it would be read again."),
    ] = False,
    format_: As = None,
) -> None:
    """Show the workout as repslate understands it. What is wrong with it goes to standard error.

    With --format json: title, slug, goal, level and the other keys of the front matter; "blocks": [{"name", "kind",
    "letter", "title", "rounds", "rest", "clock", "turn", "cap", "reps_by_round", "goes_on", "on", "off", "intervals",
    "sharing", "people", "cautions", "exercises": [{"id", "label", "name", "sets", "reps", "reps_by_set", "seconds",
    "metres", "calories", "breaths", "steps", "lengths", "count_by_set", "complex", "twenty_ones", "myo_reps",
    "partials", "hold", "last_set_max", "as_many_as_possible", "per_side", "load", "effort", "tempo", "rest",
    "rest_as_needed", "drops", "rest_pause", "cluster", "words", "cues", "easier", "harder", "cautions", "pictures",
    …}]}]; "chapters": [{"time", "title", "exercise"}]; "numbers": what is computed, with units, and the sets of the
    "week" with the episodes beside this one; "findings" as check has them. Ranges are [low, high], times are seconds,
    what is not said is null.
    """
    from repslate import api
    from repslate.cli import report
    from repslate.cli import show as shown

    checked = api.check(episode)
    if page is not None:
        written = api.write_cut_page(checked, episode, page)
        checked = replace(checked, findings=(*checked.findings, *written))
    failed = int(checked.failed)
    week = api.week(episode, checked.value) if checked.value else None
    if format_ is Format.JSON:
        from repslate.documents import seen_from_here, to_json

        typer.echo(to_json(seen_from_here(checked, episode), week=week))
        raise typer.Exit(failed)
    if plan and checked.value:
        from repslate.model.written_plan import write_plan

        typer.echo(write_plan(checked.value.episode), nl=False)
    for line in shown.listing(checked.value, week) if checked.value and not plan else ():
        typer.echo(report.visible(line))
    for finding in checked.findings if failed else ():
        typer.echo(report.line(finding, episode), err=True)
    raise typer.Exit(failed)


@app.command(epilog="Example: repslate explain rest-missing")
def explain(
    name: Annotated[str | None, typer.Argument(metavar="CHECK", help="The name in brackets after a finding.")] = None,
    of: Annotated[str | None, typer.Argument(metavar="FILE", help="With schema: one of those it lists.")] = None,
) -> None:
    """Say what a check asks or how a number is computed, and whose figures it rests on. Without a name: list them.

    checks lists the checks with their weights; front-matter, series and exercises the keys of those files, schema with
    one of the three its JSON Schema; json the fields of every document that --format json prints.
    """
    from importlib.resources import files

    from repslate.checks import pages, table
    from repslate.checks.pages import read_numbers
    from repslate.model.schemas import MODELS, described
    from repslate.source.near import nearest

    if of is not None and name != "schema":
        raise _refused("only schema takes a second word")
    known, numbers = {page.name: page for page in pages()}, read_numbers()
    width = max(map(len, known))
    if name is None:
        asks = {name: page.asks for name, page in known.items()} | {name: rows[0] for name, rows in numbers.items()}
        for each, words in asks.items():
            typer.echo(_filled(f"{each:<{width}}  {words}", width + 2))
    elif name == "checks":
        for each, weight, asked in table():
            typer.echo(_filled(f"{each:<{width}}  {weight:<14}  {asked}", width + 18))
    elif name == "json":
        typer.echo(files("repslate.cli").joinpath("json.txt").read_text("utf-8"), nl=False)
    elif name == "schema":
        _schema(of)
    elif name in numbers or name in MODELS:
        rows = (
            numbers[name][1:] if name in numbers else [f"{', '.join(keys)}: {says}" for keys, says in described(name)]
        )
        for row in rows:
            typer.echo(_filled(row, 0 if name in numbers else 4))
    elif name in known:
        _page(known[name])
    else:
        close = nearest(name, known)
        hint = f"did you mean {close}?" if close else "repslate explain, without a name, lists them"
        raise _refused(f"no check is called {name}; {hint}")


def _page(page: Page) -> None:
    typer.echo(f"{page.name} ({page.severity})\n\n{_filled(page.asks)}")
    for word, text in (("Why", page.why), ("Source", page.source), ("Fix", page.fix)):
        if text:
            typer.echo("\n" + _filled(f"{word}: {text}"))
    for word, text in (("Wrong", page.wrong), ("Right", page.right)):
        if text:
            typer.echo(f"\n{word}:\n" + "\n".join(f"    {line}".rstrip() for line in text.splitlines()))


def _schema(name: str | None) -> None:
    import json

    from repslate.model.schemas import MODELS, schema

    if name in MODELS:
        typer.echo(json.dumps(schema(name), indent=2))
    elif name is None:
        for each, (of, _) in MODELS.items():
            typer.echo(f"{each:<14}{of}")
    else:
        raise _refused(f"no settings file is called {name}; there are {', '.join(MODELS)}")


@app.command(epilog="Example: repslate audit episodes/07-hinge-squat-carry")
def audit(
    episode: Episode,
    *,
    out: Annotated[
        Path, typer.Option(metavar="DIR", help="Where the episodes' output folders are.", file_okay=False)
    ] = Path("output"),
    text: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="A text copied back from a website or a host.", exists=True, dir_okay=False),
    ] = None,
    kind: Annotated[CopyOf | None, typer.Option("--as", help="What the text is a copy of.")] = None,
    format_: As = None,
) -> None:
    """Read back what was published and hold it against the episode. Writes nothing.

    With --text and --as it is a copied text that is read, in place of the files in output/<slug>/.
    With --format json: {"files": [the names read], "changed": [those whose bytes are not the build's], "stale": [the
    sources that changed since], "findings": as check has them}.
    """
    from repslate import api
    from repslate.cli import report
    from repslate.cli.printer import Printer
    from repslate.proof.published import Copy
    from repslate.source.finding import Severity

    if (text is None) != (kind is None):
        raise _refused("--text FILE and --as KIND go together; give both or neither")
    audited = api.audit_copy(episode, text, Copy(kind)) if text and kind else api.audit(episode, out)
    read_back = audited.value
    if read_back is None and not audited.findings:
        raise _refused(f"{out} has no build of {episode}; build it first, or say where it is: --out DIR")
    failed = int(audited.failed)
    folder = read_back.folder if read_back else episode
    if format_ is Format.JSON:
        from repslate.documents import seen_from_here, to_json

        typer.echo(to_json(seen_from_here(audited, folder)))
        raise typer.Exit(failed)
    printer = Printer(plain=format_ is Format.TEXT)
    printer.findings(audited.findings, folder)
    count, altered = (len(read_back.files), len(read_back.changed)) if read_back else (0, 0)
    read = f"{count} file{'' if count == 1 else 's'} read back"
    changed = f", {altered} changed since the build" if altered else ""
    agree = all(one.severity is Severity.NOTE for one in audited.findings)
    printer.close(episode, f"{read}{changed}, {'all agree' if agree else report.counted(audited.findings)}")
    raise typer.Exit(failed)


@app.command(epilog="Example: repslate heard episodes/07-hinge-squat-carry")
def heard(
    path: Annotated[
        Path, typer.Argument(metavar="EPISODE", help="The episode's folder, or a file of subtitles.", callback=_spoken)
    ],
    *,
    format_: As = None,
) -> None:
    """List every figure of a prescription that is said, with its time and the words. Writes nothing.

    An episode is heard by its workout.md where it has one, subtitles alone by what is said in them.
    With --format json: {"figures": [{"time", "field", "low", "high", "per_side", "exercise", "block", "quote",
    "confidence"}], "coarse": true where the times are a transcript's, "findings": as check has them}. Times are
    seconds; "exercise" is null where a figure is about the whole block, "confidence" goes from 0 to 1.
    """
    from repslate import api
    from repslate.cli import heard as shown
    from repslate.cli import report

    listened = api.hear(path)
    folder = path if is_folder(path) else path.parent
    failed = int(listened.failed)
    if format_ is Format.JSON:
        from repslate.documents import seen_from_here, to_json

        typer.echo(to_json(seen_from_here(listened, folder)))
        raise typer.Exit(failed)
    for line in shown.listing(listened.value):
        typer.echo(report.visible(line))
    for finding in listened.findings:
        typer.echo(report.line(finding, folder), err=True)
    raise typer.Exit(failed)


@app.command(epilog="Example: repslate draft notes.txt --out episodes/08-rows-and-carries")
def draft(
    files: Annotated[
        list[Path],
        typer.Argument(
            metavar="FILE",
            help="Notes of a plan (any text; - for what is pasted), or what was said: .srt, .vtt, a timed transcript.",
        ),
    ],
    *,
    out: Annotated[
        Path | None,
        typer.Option(
            metavar="FOLDER",
            help="The episode's folder; what lies there is left alone.",
            file_okay=False,
            callback=_place,
        ),
    ] = None,
    format_: As = None,
) -> None:
    """Write a first workout.md from a plan as you noted it, or from what is said, to go on with by hand.

    From notes each line is read or kept as typed. From talk every line names the time and the words it rests on, a
    chapters.txt is written, and the subtitles are copied beside. What is missing is a gap to fill, never a guess.
    Nothing is written over. With --format json the plan is printed as it was understood, and nothing is written.
    """
    from repslate import api
    from repslate.cli import draft as shown
    from repslate.cli import report

    if refusal := shown.refusal(files, out, as_json=format_ is Format.JSON):
        raise _refused(refusal)
    drafts = [(path, api.draft(shown.source(path), shown.title(out or path))) for path in files]
    if format_ is Format.JSON:
        from repslate.documents import plans_json

        typer.echo(plans_json((str(path), drafted) for path, drafted in drafts))
        raise typer.Exit(int(any(drafted.failed for _, drafted in drafts)))
    (path, drafted), *_ = drafts
    for finding in drafted.findings:
        typer.echo(report.line(finding, path.parent), err=True)
    if drafted.value is None or out is None:
        raise _refused(f"nothing is said in {path}; give a plan, or the subtitles of the whole cut")
    if refusal := shown.write(out, drafted.value.files):
        raise _refused(refusal)
    for line in shown.listing(drafted.value, out):
        typer.echo(report.visible(line))
    raise typer.Exit(int(drafted.failed))


@app.command(
    epilog="Example: repslate retime episodes/07-hinge-squat-carry --from subtitles-old.srt --to subtitles.srt"
)
def retime(
    episode: Episode,
    *,
    old: Annotated[Path, typer.Option("--from", metavar="OLD", help="Subtitles of the old cut, or its film.")],
    new: Annotated[Path, typer.Option("--to", metavar="NEW", help="Subtitles of the new cut, or its film.")],
    write: Annotated[
        bool, typer.Option("--write", help="Write chapters.txt; the old one is kept beside it as chapters.before.txt.")
    ] = False,
    format_: As = None,
) -> None:
    """Move an episode's chapters to a new cut. Writes nothing unless told to.

    With --format json: {"chapters": [{"title", "from", "to", "reason", "offer"}], "findings": as check has them,
    "kept_as"}. Times are seconds; "to" is null where the start was cut out, and "offer" the nearest moment kept.
    """
    from repslate import api
    from repslate.cli import report
    from repslate.cli import retime as shown

    moved = api.retime(episode, old, new, write=write)
    failed = int(moved.failed)
    if format_ is Format.JSON:
        from repslate.documents import seen_from_here, to_json

        typer.echo(to_json(seen_from_here(moved, episode)))
        raise typer.Exit(failed)
    for line in shown.listing(moved.value) if moved.value else ():
        typer.echo(report.visible(line))
    for finding in moved.findings:
        typer.echo(report.line(finding, episode), err=True)
    raise typer.Exit(failed)


@app.command(epilog="Example: repslate chapters episodes/07-hinge-squat-carry --into film-with-chapters.mp4")
def chapters(
    episode: Episode,
    *,
    into: Annotated[
        Path, typer.Option("--into", metavar="FILE", help="The new film. It must not be there yet.", dir_okay=False)
    ],
    film: Annotated[
        Path | None, typer.Option(metavar="FILE", help="The film to copy; else the cut in the episode's folder.")
    ] = None,
) -> None:
    """Write a copy of the film that carries the chapters. Picture and sound are copied as they are.

    The copy is read back and compared; the film itself is never touched.
    """
    from repslate import api
    from repslate.cli import report
    from repslate.source.finding import has_error

    findings = api.write_chapters(episode, film, into)
    for finding in findings:
        typer.echo(report.line(finding, episode), err=True)
    if has_error(findings):
        raise typer.Exit(1)
    typer.echo(report.visible(f"{into} carries the chapters; everything else in it is the same"))


# --- printing --------------------------------------------------------------------------------------------------------


def _filled(text: str, indent: int = 0) -> str:
    """Break a paragraph to the width of the terminal, if there is one."""
    import shutil
    import sys
    import textwrap

    if not sys.stdout.isatty():
        return text
    width = min(shutil.get_terminal_size().columns, 100)
    return textwrap.fill(text, width, subsequent_indent=" " * indent, break_on_hyphens=False)
