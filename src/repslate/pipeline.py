"""The recipe: read, check, publish. The only module that sees all stages; errors stop it before the first output."""

from __future__ import annotations

import os
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from pathlib import Path

from repslate import checks
from repslate.cut.chapters import Chapter, match
from repslate.cut.markers import read_markers
from repslate.facts import Facts
from repslate.model.build import build as build_episode
from repslate.model.episode import Episode
from repslate.model.library import load as load_library
from repslate.model.own_exercises import read_library
from repslate.model.settings import read_series
from repslate.model.stills import FOLDER, adopt, examine, shown
from repslate.source.finding import Finding, Severity
from repslate.source.outline import read_outline
from repslate.source.span import Span
from repslate.source.text import file_empty, read_text
from repslate.training.volume import Week
from repslate.training.volume import week as add_up

WORKOUT = "workout.md"
MARKERS = ("chapters.txt", "chapters.vtt")
Quieted = tuple[Finding, str]


@dataclass(frozen=True, slots=True)
class Reading:
    """What an episode's folder says: no facts if workout.md cannot be read. `inputs` are the files that were read."""

    facts: Facts | None
    findings: tuple[Finding, ...]
    inputs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Checked:
    """The facts, every finding in the order of its place, and those that the trainer silenced, each with the reason."""

    facts: Facts | None
    findings: tuple[Finding, ...]
    quieted: tuple[Quieted, ...] = ()
    inputs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Built:
    """A build: `folder` is where it is, None if errors stopped it; `skipped` names what this machine cannot make."""

    folder: Path | None
    findings: tuple[Finding, ...]
    written: tuple[str, ...] = ()
    skipped: tuple[str, ...] = ()
    facts: Facts | None = None


def read(folder: Path) -> Reading:
    """Read everything in an episode's folder."""
    text, unread = read_text(folder / WORKOUT, WORKOUT)
    if text is None or not text.strip():
        return Reading(None, unread if text is None else (*unread, file_empty(WORKOUT)))
    outline, in_outline = read_outline(text, WORKOUT)
    series, in_series = read_series(folder)
    library, own, in_library = read_library(folder, load_library())
    name = folder.resolve().name
    episode, in_episode = build_episode(outline, series, library, folder_name=name, file=WORKOUT)
    files = frozenset(_files(folder))
    episode = adopt(episode, files)
    chapters, has_markers, in_chapters = _read_chapters(folder, episode)
    spoilt = examine(folder, episode)
    facts = Facts(episode, chapters, has_markers=has_markers, files=files, spoilt=spoilt, library=library)
    settings = [span.file for span in (series.span, own) if span]
    inputs = tuple(
        sorted(
            {
                WORKOUT,
                *(name for name in MARKERS if name in files),
                *settings,
                *(picture.path for picture in shown(episode)),
            }
        )
    )
    return Reading(facts, (*unread, *in_outline, *in_series, *in_library, *in_episode, *in_chapters), inputs)


def check(folder: Path) -> Checked:
    """Read an episode's folder and check it."""
    reading = read(folder)
    if reading.facts is None:
        return Checked(None, reading.findings)
    findings, quieted = checks.run(reading.facts, read=reading.findings)
    return Checked(reading.facts, findings, quieted, reading.inputs)


def week(folder: Path, facts: Facts) -> Week | None:
    """Return what the episodes beside this one add up to in its week; None where it has no date.

    The others are the folders of the same parent; one that cannot be read is left out, as its own check says why.
    """
    episodes = [facts.episode]
    for path in sorted(folder.resolve().parent.glob(f"*/{WORKOUT}")):
        if path.parent != folder.resolve() and (other := read(path.parent).facts) is not None:
            episodes.append(other.episode)
    weeks, _ = add_up(episodes, facts.library)
    return next((one for one in weeks if facts.episode.slug in one.episodes), None)


def build(folder: Path, out: Path, *, templates: Path | None = None, taken: Collection[str] = ()) -> Built:
    """Check an episode and publish it to `out`/<slug>/. With an error nothing is written and the earlier build stays.

    `templates` holds files that stand in for shipped ones of the same name. `taken` are slugs this run has written.
    """
    checked = check(folder)
    if checked.facts is None or has_error(checked.findings):
        return Built(None, checked.findings, facts=checked.facts)
    from repslate.publish.record import built_from

    slug = checked.facts.episode.slug
    earlier = built_from(out / slug)
    if slug in taken or (earlier is not None and earlier != folder.resolve().name):
        finding = _taken(checked.facts.episode, out / slug, earlier)
        return Built(None, (*checked.findings, finding), facts=checked.facts)
    return _publish(checked, checked.facts, folder, out, templates)


def has_error(findings: Collection[Finding]) -> bool:
    """Tell whether any finding is an error."""
    return any(finding.severity is Severity.ERROR for finding in findings)


def _publish(checked: Checked, facts: Facts, folder: Path, out: Path, own: Path | None) -> Built:
    """Render, record, write."""
    from repslate.publish.folder import write
    from repslate.publish.record import digests, with_record
    from repslate.publish.render import render
    from repslate.publish.templates import find

    target = (out / facts.episode.slug).resolve()
    if folder.resolve().is_relative_to(target):
        return Built(None, (*checked.findings, _into_itself(facts.episode)), facts=facts)
    templates = find(own)
    rendered = render(facts, folder, templates)
    findings = (*checked.findings, *rendered.findings)
    if has_error(rendered.findings):
        return Built(None, findings, facts=facts)
    inputs = digests(folder, checked.inputs)
    if own is not None:
        inputs |= {f"templates/{name}": digest for name, digest in digests(own, templates.names()).items()}
    files = with_record(folder.resolve().name, rendered.files, inputs, findings, checked.quieted)
    written = write(out, facts.episode.slug, files)
    if has_error(written):
        return Built(None, (*findings, *written), facts=facts)
    return Built(out / facts.episode.slug, (*findings, *written), tuple(files), rendered.skipped, facts)


def _read_chapters(folder: Path, episode: Episode) -> tuple[tuple[Chapter, ...], bool, tuple[Finding, ...]]:
    """Return the chapters, whether there is a file of markers, and what there is to say about it."""
    present = [name for name in MARKERS if os.path.lexists(folder / name)]
    if not present:
        return (), False, ()
    if len(present) > 1:
        text = f"there are two files of chapter markers, {' and '.join(present)}, expected one"
        return (), True, (Finding("markers-twice", Severity.ERROR, Span(present[0]), text, "remove one of them"),)
    name = present[0]
    text_, unread = read_text(folder / name, name)
    if text_ is None:
        return (), True, unread
    markers, in_markers = read_markers(text_, name)
    chapters, in_chapters = match(markers, episode)
    return chapters, True, (*unread, *in_markers, *in_chapters)


def _files(folder: Path) -> Iterator[str]:
    """Yield the files of the folder and of pictures/ that really lie in it, relative, with forward slashes."""
    root = folder.resolve()
    for place, prefix in ((root, ""), (root / FOLDER, f"{FOLDER}/")):
        if not place.is_dir():
            continue
        for path in sorted(place.iterdir()):
            if path.is_file() and path.resolve().is_relative_to(root):
                yield prefix + path.name


def _taken(episode: Episode, output: Path, earlier: str | None) -> Finding:
    owner = f"the episode in the folder “{earlier}”" if earlier else "another episode of this run"
    return Finding(
        "slug-taken",
        Severity.ERROR,
        episode.places.get("slug", episode.span),
        f"{owner} is published as {episode.slug} too, expected a name of its own",
        f"write slug: {episode.slug}-2 in the front matter; if you have only renamed the folder, remove {output} first",
    )


def _into_itself(episode: Episode) -> Finding:
    text = f"the output folder {episode.slug} is the one that holds the episode itself, expected a folder apart from it"
    return Finding("output-folder", Severity.ERROR, Span(WORKOUT), text, "choose another place with --out")
