"""The recipe: read, check, publish. The only module that sees all stages; errors stop it before the first output."""

from __future__ import annotations

import os
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from repslate import checks
from repslate.cut.folder import SUBTITLES, Cut, read_cut, read_spoken
from repslate.cut.retime import Retimed
from repslate.cut.subtitles import Cue, read_subtitles
from repslate.cut.transcript import is_coarse
from repslate.cut.video import FILMS
from repslate.facts import Facts
from repslate.model.build import build as build_episode
from repslate.model.episode import Episode
from repslate.model.library import Library
from repslate.model.library import load as load_library
from repslate.model.own_exercises import read_library
from repslate.model.settings import read_series
from repslate.model.stills import FOLDER, adopt, examine, shown
from repslate.source import bounds
from repslate.source.finding import Finding, Severity
from repslate.source.outline import read_outline
from repslate.source.span import Span
from repslate.source.text import file_empty, name_as_text, read_data, read_text
from repslate.training.volume import Week
from repslate.training.volume import week as add_up

if TYPE_CHECKING:
    from repslate.audit.verdict import Verdict
    from repslate.speech.draft import Draft
    from repslate.speech.heard import Heard

WORKOUT = "workout.md"
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


@dataclass(frozen=True, slots=True)
class Audited:
    """An audit: the files that were read back, by name, and of them those whose bytes `changed` since the build.

    `folder` is where they are, None where there is no build; the findings' places are in them. `stale` are the sources
    that changed since the build.
    """

    folder: Path | None
    findings: tuple[Finding, ...]
    files: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()
    stale: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Listened:
    """What was heard, None where there are no subtitles, and what is wrong with these."""

    heard: Heard | None
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Drafted:
    """A draft, None where nothing is said; `files` are to be written, by name."""

    draft: Draft | None
    files: Mapping[str, bytes]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Moved:
    """Chapters moved to a new cut; `kept_as` is the name of the old file of markers, None if nothing was written."""

    chapters: tuple[Retimed, ...]
    findings: tuple[Finding, ...]
    written: bool = False
    kept_as: str | None = None


@dataclass(frozen=True, slots=True)
class _Workout:
    """What workout.md, series.yaml and exercises.yaml say; `settings` are the files of the latter two."""

    episode: Episode
    library: Library
    settings: tuple[str, ...]
    findings: tuple[Finding, ...]


def _name(folder: Path) -> str:
    return name_as_text(folder.resolve().name)


def _read_workout(folder: Path) -> _Workout | tuple[Finding, ...]:
    """Read an episode without its pictures, its chapters and its cut; only findings if workout.md cannot be read."""
    text, unread = read_text(folder / WORKOUT, WORKOUT, most=bounds.WORKOUT)
    if text is None or not text.strip():
        return unread if text is None else (*unread, file_empty(WORKOUT))
    if long := tuple(bounds.too_long(text, WORKOUT)):
        return (*unread, *long)
    outline, in_outline = read_outline(text, WORKOUT)
    series, in_series = read_series(folder)
    library, own, in_library = read_library(folder, load_library())
    name = _name(folder)
    episode, in_episode = build_episode(outline, series, library, folder_name=name, file=WORKOUT)
    settings = tuple(span.file for span in (series.span, own) if span)
    return _Workout(episode, library, settings, (*unread, *in_outline, *in_series, *in_library, *in_episode))


def read(folder: Path) -> Reading:
    """Read everything in an episode's folder."""
    workout = _read_workout(folder)
    if not isinstance(workout, _Workout):
        return Reading(None, workout)
    files = frozenset(_files(folder))
    episode = adopt(workout.episode, files)
    cut, in_cut = read_cut(folder, episode)
    many = _too_many_pictures(episode)
    facts = Facts(
        episode,
        cut.chapters,
        has_markers=cut.has_markers,
        files=files,
        spoilt={} if many else examine(folder, episode),
        cues=cut.cues,
        film=cut.film,
        edit=cut.edit,
        heard=_hear(workout.library, episode, cut) if cut.cues else None,
        library=workout.library,
    )
    inputs = {WORKOUT, *cut.inputs, *workout.settings, *(picture.path for picture in shown(episode))}
    return Reading(facts, (*workout.findings, *many, *in_cut), tuple(sorted(inputs)))


def _too_many_pictures(episode: Episode) -> tuple[Finding, ...]:
    pictures = list(shown(episode))
    if len(pictures) <= bounds.PICTURES:
        return ()
    place = pictures[bounds.PICTURES].span
    return (bounds.too_much(place, "pictures", len(pictures), bounds.PICTURES, "take some out: none of them is read"),)


def _hear(library: Library, episode: Episode, cut: Cut) -> Heard:
    """Return what the subtitles say; what hears it loads only where there are any."""
    from repslate.speech.heard import listen

    return listen(cut.cues, library, episode, cut.chapters, coarse=cut.coarse)


def hear(path: Path) -> Listened:
    """Hear an episode's folder, by its plan where it has a workout.md, or one file of subtitles by itself.

    The findings are those of the subtitles; what else is wrong with the episode is check's to tell.
    """
    from repslate.speech.heard import listen

    folder = path if path.is_dir() else path.parent
    workout = _read_workout(path) if path.is_dir() and (path / WORKOUT).exists() else None
    if isinstance(workout, _Workout):
        cut, in_cut = read_cut(path, workout.episode, with_film=False)
        told = tuple(finding for finding in in_cut if finding.span.file in SUBTITLES)
        return Listened(_hear(workout.library, workout.episode, cut) if cut.cues else None, told)
    cues, name, findings = read_spoken(path) if path.is_dir() else _subtitles(path)
    library, _, in_library = read_library(folder, load_library())
    heard = listen(cues, library, coarse=is_coarse(name)) if cues else None
    return Listened(heard, (*(workout or ()), *findings, *in_library))


def draft(subtitles: Path, title: str) -> Drafted:
    """Draft a workout.md and a chapters.txt from what is said in a file of subtitles; nothing is written yet."""
    from repslate.speech.draft import draft as write_down

    listened = hear(subtitles)
    if listened.heard is None:
        return Drafted(None, {}, listened.findings)
    drafted = write_down(listened.heard, title=title, source=name_as_text(subtitles.name))
    beside = next(name for name in SUBTITLES if name.endswith(subtitles.suffix.lower()))
    files = {
        WORKOUT: drafted.workout.encode(),
        "chapters.txt": drafted.chapters.encode(),
        beside: subtitles.read_bytes(),
    }
    return Drafted(drafted, files, listened.findings)


def _subtitles(path: Path) -> tuple[tuple[Cue, ...], str, tuple[Finding, ...]]:
    """Read one file of subtitles; its own name stands in the findings."""
    text, unread = read_text(path, path.name)
    cues, findings = read_subtitles(text, path.name) if text is not None else ((), ())
    return cues, path.name, (*unread, *findings)


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
        if path.parent != folder.resolve() and isinstance(other := _read_workout(path.parent), _Workout):
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
    if slug in taken or (earlier is not None and earlier != _name(folder)):
        finding = _taken(checked.facts.episode, out / slug, earlier)
        return Built(None, (*checked.findings, finding), facts=checked.facts)
    return _publish(checked, checked.facts, folder, out, templates)


def audit(folder: Path, out: Path) -> Audited:
    """Read back what was built of an episode to `out`/<slug>/, and hold it against the episode as it is now."""
    from repslate.audit import READERS
    from repslate.audit import audit as hold_against
    from repslate.audit.record import RECORD, changed, file_findings, read_record
    from repslate.publish.record import digests

    reading = read(folder)
    if reading.facts is None:
        return Audited(folder, reading.findings)
    slug = reading.facts.episode.slug
    target = out / slug
    if not target.is_dir():
        return Audited(None, ())
    names = [name.format(slug=slug) for name in READERS]
    files: dict[str, bytes] = {}
    unread: list[Finding] = []
    for name in [*names, RECORD]:
        if os.path.lexists(target / name):
            data, findings = read_data(target / name, name, most=bounds.published(name))
            files |= {name: data} if data is not None else {}
            unread += findings
    record = read_record(files.pop(RECORD, None))
    outputs = {name: sha256(data).hexdigest() for name, data in files.items()}
    sources = digests(folder, reading.inputs) if record else {}
    altered = changed(record.outputs, outputs) if record else ()
    stale = changed(record.inputs, sources) if record else ()
    made = record.made(outputs, sources) if record else {}
    found = tuple(verdict.finding for verdict in hold_against(reading.facts, files, made).all)
    there = {*files, *(finding.span.file for finding in unread)}
    wrong = {finding.span.file for finding in found if finding.severity is Severity.ERROR}
    told = file_findings(record, there, altered, stale, wrong)
    return Audited(target, (*unread, *found, *told), tuple(files), altered, tuple(sorted(stale)))


def audit_copy(folder: Path, text: Path, kind: str) -> Audited:
    """Hold a text that was copied back from a website or a host against the episode; `kind` is one of Copy's."""
    from repslate.audit import audit_copy as hold_against
    from repslate.audit.copies import Copy, is_page

    reading = read(folder)
    if reading.facts is None:
        return Audited(folder, reading.findings)
    data, unread = read_data(text, text.name, most=bounds.PUBLISHED)
    if data is not None and not is_page(data):
        data, unread = read_data(text, text.name, most=bounds.PUBLISHED_TEXT)
    if data is None:
        return Audited(text.parent, unread, (text.name,))
    return Audited(text.parent, hold_against(reading.facts, text.name, data, Copy(kind)), (text.name,))


def retime(folder: Path, old: Path, new: Path, *, write: bool = False) -> Moved:
    """Move an episode's chapters from an old cut to a new one: `old` and `new` are both subtitles or both films.

    The chapters are those of chapters.txt or chapters.vtt, else those that the edit and its markers give. With `write`
    chapters.txt is written anew, unless there is an error or no chapter's start is in the new cut.
    """
    from repslate.cut import moving
    from repslate.cut.markers import Marker
    from repslate.cut.retime import place

    source, findings = moving.read_source(folder)
    markers = source.markers if source else ()
    if source is None and not findings and (facts := read(folder).facts) is not None:
        markers = tuple(Marker(one.start, one.title, one.exercise, one.span) for one in facts.chapters)
    if not markers and not findings:
        findings = (moving.no_chapters(),)
    if has_error(findings):
        return Moved((), findings)
    kept, in_cuts = moving.compare(folder, old, new)
    chapters = place(kept, markers) if kept is not None else ()
    findings = (*findings, *in_cuts, *([] if kept is None or kept else [moving.nothing_kept()]))
    if not write or has_error(findings) or all(one.to is None for one in chapters):
        return Moved(chapters, findings)
    kept_as, unwritten = moving.save(
        folder, moving.rewrite(source, chapters), instead_of=source.name if source else None
    )
    return Moved(chapters, (*findings, *unwritten), written=not unwritten, kept_as=kept_as)


def write_cut_page(checked: Checked, folder: Path, page: Path) -> tuple[Finding, ...]:
    """Write the editor's page of a checked episode to `page`, whatever errors it has; return what stood in the way.

    Nothing is written over but an earlier page of ours.
    """
    from repslate.publish import CUT_PAGE
    from repslate.publish.cut_page import save
    from repslate.publish.render import Desk, render
    from repslate.publish.templates import find

    if checked.facts is None:
        return ()
    rendered = render(checked.facts, folder, find(), desk=Desk(checked.findings, page.parent), outputs=(CUT_PAGE,))
    data = rendered.files.get(CUT_PAGE.name)
    if data is None:
        return rendered.findings or (_no_cut(),)
    refused = save(page, data)
    if refused is not None:
        help_ = "choose another place for the page, a name that ends in .html"
        return (Finding("page-not-written", Severity.ERROR, Span(WORKOUT), refused, help_),)
    return rendered.findings


def write_chapters(folder: Path, film: Path | None, out: Path) -> tuple[Finding, ...]:
    """Write a copy of `film`, else of the cut in the episode's folder, that carries the episode's chapters."""
    from repslate.cut.media_chapters import write_into

    checked = check(folder)
    if checked.facts is None or has_error(checked.findings):
        return tuple(finding for finding in checked.findings if finding.severity is Severity.ERROR)
    source = film or next((folder / name for name in FILMS if (folder / name).is_file()), None)
    if source is None:
        text = f"the folder has no film, expected one of {', '.join(FILMS)}"
        return (Finding("film-not-written", Severity.ERROR, Span(WORKOUT), text, "put it there, or name it: --film"),)
    return write_into(source, checked.facts.chapters, out)


def has_error(findings: Collection[Finding]) -> bool:
    """Tell whether any finding is an error."""
    return any(finding.severity is Severity.ERROR for finding in findings)


def _publish(checked: Checked, facts: Facts, folder: Path, out: Path, own: Path | None) -> Built:
    """Render, record, write."""
    from repslate.audit import audit as hold_against
    from repslate.audit.verdict import Made, is_own
    from repslate.publish.folder import write
    from repslate.publish.record import Said, digests, with_record
    from repslate.publish.render import Desk, render
    from repslate.publish.templates import find

    target = (out / facts.episode.slug).resolve()
    if folder.resolve().is_relative_to(target):
        return Built(None, (*checked.findings, _into_itself(facts.episode)), facts=facts)
    templates = find(own)
    rendered = render(facts, folder, templates, desk=Desk(checked.findings, target))
    inputs = digests(folder, checked.inputs)
    if own is not None:
        inputs |= {f"templates/{name}": digest for name, digest in digests(own, templates.names()).items()}
    made = {name: Made(is_own(name, inputs), fresh=True, here=own is None) for name in rendered.files}
    verdicts = hold_against(facts, rendered.files, made)
    findings = (*checked.findings, *rendered.findings, *map(_unwritten, verdicts.all))
    if has_error(findings):
        return Built(None, findings, facts=facts)
    said = Said(findings, checked.quieted, verdicts.omitted)
    files = with_record(_name(folder), rendered.files, inputs, said)
    written = write(out, facts.episode.slug, files)
    if has_error(written):
        return Built(None, (*findings, *written), facts=facts)
    return Built(out / facts.episode.slug, (*findings, *written), tuple(files), rendered.skipped, facts)


def _unwritten(verdict: Verdict) -> Finding:
    """Return a finding in an output that is not written yet: its place is where the episode says what was expected."""
    found = verdict.finding
    line = f", line {found.span.line}" if found.span.line > 1 else ""
    where = "" if found.message.startswith(found.span.file) else f"{found.span.file}{line}: "
    return replace(found, span=verdict.source or Span(WORKOUT), message=where + found.message)


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


def _no_cut() -> Finding:
    text = "there is nothing to compare the chapters with, expected a film, subtitles or an edit beside workout.md"
    help_ = "put cut.mp4, subtitles.srt or cut.edl into the episode's folder"
    return Finding("file-missing", Severity.ERROR, Span(WORKOUT), text, help_)


def _into_itself(episode: Episode) -> Finding:
    text = f"the output folder {episode.slug} is the one that holds the episode itself, expected a folder apart from it"
    return Finding("output-folder", Severity.ERROR, Span(WORKOUT), text, "choose another place with --out")
