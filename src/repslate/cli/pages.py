"""Pages of the findings that publishing gives. They stand here since no check and no reader is behind them."""

from __future__ import annotations

from collections.abc import Iterator

from repslate import checks
from repslate.checks.pages import Page, read_page
from repslate.cli.audit_pages import AUDIT
from repslate.source.finding import Severity

_PUBLISHING = (
    (
        "cuts-unlike",
        Severity.ERROR,
        """
        The two cuts given to retime are two of a kind and of the same film.

        Why: a chapter can be followed only through words or sounds that both cuts have.
        Source: common practice, no source.
        Mend: give two files of subtitles or two films, the old one with --from and the new one with --to.
        """,
    ),
    (
        "subtitles-empty",
        Severity.ERROR,
        """
        A file of subtitles given to retime holds subtitles.

        Why: without words on both sides there is nothing to compare.
        Source: common practice, no source.
        Mend: give the subtitles of the whole cut as .srt or .vtt, or the two films.
        """,
    ),
    (
        "sound-missing",
        Severity.ERROR,
        """
        A film given to retime has sound.

        Why: without subtitles it is the sound that tells what the new cut keeps.
        Source: common practice, no source.
        Mend: export the film with its sound, or give the subtitles of both cuts.
        """,
    ),
    (
        "sound-differs",
        Severity.WARNING,
        """
        Where two films seem the same, they also sound nearly the same.

        Why: another take of the same script can be taken for the film, and then a chapter is off by minutes.
        Source: our own measurements on generated films; below 80 % a true pair and another take look alike.
        Mend: look at each chapter in the new cut before you use its time.
        """,
    ),
    (
        "chapters-unwritten",
        Severity.ERROR,
        """
        The new chapters.txt can be written.

        Why: half a list is worse than the old one, so the old one stays until the new one is whole.
        Source: common practice, no source.
        Mend: make room, or allow writing in the folder of the episode.
        """,
    ),
    (
        "slug-taken",
        Severity.ERROR,
        """
        No two episodes are published under the same slug.

        Why: the slug names the output folder, so the second episode would replace the first.
        Source: common practice, no source.
        Mend: write slug: and a name of its own in the front matter of one of them.
        """,
    ),
    (
        "templates-unused",
        Severity.WARNING,
        """
        A folder of templates of your own holds at least one file that stands in for a shipped one.

        Why: a slip in a file's name leaves the shipped look in place, and nobody notices.
        Source: common practice, no source.
        Mend: name the files as the shipped ones: article.html, article.css, card.html, card.css.
        """,
    ),
    (
        "character-unprintable",
        Severity.WARNING,
        """
        Every character on the card is in a font of this computer.

        Why: what no font has would be printed as an empty box, be it in a title or in a caution, so no card is made.
        Source: Unicode fonts differ in what they hold; the shipped one holds the Latin alphabets.
        Mend: install fonts that have them (Debian, Ubuntu: fonts-noto-core, fonts-noto-cjk), or write other
        characters.
        """,
    ),
    (
        "template-error",
        Severity.ERROR,
        """
        A template of your own can be filled in.

        Why: half a page is worse than none, so nothing is written.
        Source: Jinja's manual. Templates run in its sandbox, every value is escaped, an unknown name is an error.
        Mend: mend the line that is named, or take the file out of your folder to have the shipped one back.
        """,
    ),
    (
        "file-refused",
        Severity.ERROR,
        """
        A card uses only files of the templates folder, and pictures that repslate gives it.

        Why: a page that may open any file or address can carry what nobody meant to publish.
        Source: CVE-2025-68616 and the like: a renderer that opens whatever a page names.
        Mend: put the file into your templates folder and name it from there, without .. and without http.
        """,
    ),
    (
        "pango-missing",
        Severity.WARNING,
        """
        The computer has Pango, the library that sets the printable cards.

        Why: without it everything is made but the cards.
        Source: WeasyPrint's manual, first steps.
        Mend: Debian and Ubuntu: sudo apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0. macOS: brew
        install pango. Windows: install MSYS2, then pacman -S mingw-w64-x86_64-pango.
        """,
    ),
    (
        "output-folder",
        Severity.ERROR,
        """
        The output folder can be written, and is a folder of its own.

        Why: a link would lead the files elsewhere; a full disk would leave half of them. The earlier build stays whole.
        Source: common practice, no source.
        Mend: make room, allow writing there, or choose another place with --out.
        """,
    ),
    (
        "output-kept",
        Severity.WARNING,
        """
        The files of an output folder are as repslate wrote them.

        Why: an output changed by hand no longer agrees with the workout. The changed file is kept beside the new one.
        Source: common practice, no source.
        Mend: make the change in workout.md or in a template of your own, then remove the kept file.
        """,
    ),
    (
        "output-left",
        Severity.WARNING,
        """
        The earlier build could be cleared away.

        Why: the new build is complete; only remains of the old one are left in the hidden folder .repslate.
        Source: common practice, no source.
        Mend: close programs that have files of the output folder open, then build once more.
        """,
    ),
    (
        "page-not-written",
        Severity.ERROR,
        """
        The editor's page goes to a name ending in .html that is free, or that an earlier such page has.

        Why: a slip in a name would else write a page over the workout or the film.
        Source: common practice, no source.
        Mend: give another name with --page, or remove the file that is there.
        """,
    ),
    (
        "temporary-folder",
        Severity.ERROR,
        """
        The fonts of the card can be unpacked in the system's temporary folder.

        Why: what draws the card reads fonts from files; without them it would show another font or none.
        Source: common practice, no source.
        Mend: make room in the temporary folder, or name another one with the variable TMPDIR (on Windows TEMP).
        """,
    ),
    (
        "film-not-written",
        Severity.ERROR,
        """
        Chapters are written into a copy of the film, which is the same as the film in everything else.

        Why: the film is the work of days. It is never changed, and a copy that differs is thrown away.
        Source: FFmpeg's MP4 writer moves a first mark to 0, trims overlaps, keeps marks past the end (seen in a run).
        Mend: give the copy a new name with the film's own ending; begin the chapters at 0:00 and keep them in the film.
        """,
    ),
    (
        "film-track-left-out",
        Severity.WARNING,
        """
        The copy of a film with chapters has every track of the film.

        Why: cameras write tracks of their own, such as positions or heart rates, which the copy cannot take along.
        Source: common practice, no source.
        Mend: keep the film as well if you need the track; players of films do not.
        """,
    ),
)


def pages() -> Iterator[Page]:
    """Yield the page of everything that repslate can find, in the order of the work: reading, checking, publishing."""
    yield from checks.pages()
    for name, severity, text in (*_PUBLISHING, *AUDIT):
        yield read_page(name, severity, text)
