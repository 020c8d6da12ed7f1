"""Pages of what the audit finds in published files. They stand here since no reader of a source is behind them."""

from __future__ import annotations

from repslate.source.finding import Severity

AUDIT = (
    (
        "audit-figure",
        Severity.ERROR,
        """
        Every figure of a published file is that of the episode: sets, reps, times, metres, loads, rounds, totals.

        Why: a viewer trains with the page that is open, and a wrong load or count is trained as it stands there.
        Source: common practice, no source. Converted loads count as right within half of what they are rounded to.
        Mend: put the figure right in the file, or change it in workout.md and build again.
        """,
    ),
    (
        "audit-prose",
        Severity.ERROR,
        """
        A published sentence keeps the figures of the sentence it is a version of.

        Why: a sentence may be reworded; “two seconds” that became “four” is another exercise.
        Source: common practice, no source. Sentences are versions of one if they share six words in ten (our choice).
        Mend: put the figure right in the file, or change it in workout.md and build again.
        """,
    ),
    (
        "audit-missing",
        Severity.ERROR,
        """
        What the episode has is in every published file that owes it: exercises, details, chapters, links, totals.

        Why: who reads one file alone does not know that something is left out.
        Source: common practice, no source. A post may leave out what its host's limit has no room for.
        Mend: put it back, or take it out of workout.md and build again.
        """,
    ),
    (
        "audit-extra",
        Severity.ERROR,
        """
        A published file lists no exercise, block or chapter that the episode does not have.

        Why: an exercise that was never checked has no cautions, and nobody can see it in the film.
        Source: common practice, no source. Paragraphs may be added freely.
        Mend: take it out of the file, or add it to workout.md and build again.
        """,
    ),
    (
        "audit-order",
        Severity.ERROR,
        """
        Exercises, blocks and chapters stand in the order of the episode.

        Why: labels, rests and chapter times belong to the order.
        Source: common practice, no source.
        Mend: put it back in its place, or change the order in workout.md and build again.
        """,
    ),
    (
        "audit-name",
        Severity.ERROR,
        """
        Names and labels are those of the episode: title, exercises, presenter, goal, level, chapters.

        Why: one thing under two names is two things to a reader, and to a search engine.
        Source: common practice, no source. Capitals, hyphens and the shape of quotation marks do not matter.
        Mend: write it as the episode has it, or change it in workout.md and build again.
        """,
    ),
    (
        "audit-time",
        Severity.ERROR,
        """
        Every time is that of the cut, rounded as its format promises: chapters, links into the film, length, dates.

        Why: a link that is ten seconds off shows the end of another exercise.
        Source: whole seconds in a list and in links, milliseconds in WebVTT and FFMETADATA, both rounded down.
        Mend: put the time right in the file, or change it in the chapters or in workout.md and build again.
        """,
    ),
    (
        "audit-link",
        Severity.ERROR,
        """
        Every address leads where the episode says: to the article, to the film, to the right place on the page.

        Why: a printed code or a pasted link cannot be mended once it is out.
        Source: common practice, no source. The words of a link may be any.
        Mend: put the address right in the file, or change it in workout.md or series.yaml and build again.
        """,
    ),
    (
        "audit-caution",
        Severity.ERROR,
        """
        Every caution is there, with all the words that carry its meaning.

        Why: what was left out is what somebody needed to read.
        Source: common practice, no source. Order, inflection and added words do not matter; a “not” does.
        Mend: put the caution's words back; a caution may be added to, and never shortened.
        """,
    ),
    (
        "audit-notice",
        Severity.ERROR,
        """
        The safety notice is there and unshortened, with the words that the episode and the series add to it.

        Why: each file is read alone, by people whom nobody has asked about their health.
        Source: as for the notice itself, Riebe et al. 2015, Med Sci Sports Exerc 47(11):2473–2479.
        Mend: put the notice's words back; it may be added to, and never shortened.
        """,
    ),
    (
        "audit-disclosure",
        Severity.ERROR,
        """
        The disclosure of a sponsor is whole and in front: before the title, in a post in the first line.

        Why: many places forbid a sponsor that is only named after the reader has begun, or behind “more”.
        Source: 16 CFR 255.5.
        Mend: put the disclosure back, whole and in front of everything else.
        """,
    ),
    (
        "audit-unreadable",
        Severity.ERROR,
        """
        A published file can be read back.

        Why: what a strict reader cannot read, some player or search engine cannot read either.
        Source: W3C WebVTT, FFmpeg's doc/metadata.texi, JSON (RFC 8259), PDF (ISO 32000).
        Mend: build again, or undo what was changed in the file.
        """,
    ),
    (
        "audit-left-out",
        Severity.NOTE,
        """
        A file made by templates of your own shows what ours shows.

        Why: you may mean it, and then there is nothing to do; or a line of the template was lost, and nobody sees it.
        Source: common practice, no source. A template may leave out what nobody trains wrongly or gets hurt without:
        effort, tempo and rest, numbers, pictures, coaching, links, dates, and what it takes. Cautions, the notice, the
        disclosure, and each exercise with its sets, work, load, rounds and clock may not be left out.
        Mend: nothing, if it is meant; else put it back into the template that is named.
        """,
    ),
    (
        "audit-unseen",
        Severity.WARNING,
        """
        A page has no script, and no style sheet from elsewhere.

        Why: either can hide a caution after the page has been read here, and nobody can say so without a browser.
        Source: common practice, no source. Style sheets inside the page are followed.
        Mend: look at the page in a browser, in its dark colours and in print too, before you publish it.
        """,
    ),
    (
        "audit-doubt",
        Severity.WARNING,
        """
        A file that was just built, by our own templates, reads like the episode.

        Why: where it does not, our reader is at fault more likely than the file, and no build is refused for that.
        Source: the file has the bytes of the build, and its sources are as they were; a changed one is an error.
        Mend: look at the file before you publish it, and report it: it should not happen.
        """,
    ),
    (
        "audit-file-missing",
        Severity.ERROR,
        """
        Every file of the build is still there.

        Why: a set with a hole is published with a hole.
        Source: the names are those of build.json.
        Mend: build again.
        """,
    ),
    (
        "audit-changed",
        Severity.NOTE,
        """
        The files are as they were built.

        Why: a changed file can still say the same, and then this note is all there is to say; whether it does is what
        the other findings tell.
        Source: the SHA-256 of each file in build.json.
        Mend: nothing where it says the same; else mend what its other findings name, or build again.
        """,
    ),
    (
        "audit-stale",
        Severity.WARNING,
        """
        The files were built from the episode as it is now.

        Why: after a change to the workout every published file that was not built again says something else.
        Source: the SHA-256 of each source in build.json.
        Mend: build again, and publish the new files.
        """,
    ),
)
