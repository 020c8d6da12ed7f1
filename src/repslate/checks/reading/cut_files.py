"""Pages of what is found when the files of a cut are put together."""

from __future__ import annotations

from repslate.source.finding import Severity

PAGES = {
    "cut-file-unread": (
        Severity.NOTE,
        """
        There is one film, one edit and one file of subtitles.

        Why: only one of two can be the finished cut's, and the wrong one moves every chapter.
        Source: common practice, no source. subtitles.srt comes before subtitles.vtt, cut.edl before cut.otio, cut.mp4
            before cut.mov and cut.mkv.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            subtitles.srt:
            1
            00:00:01,000 --> 00:00:03,000
            Goblet squats today.
            subtitles.vtt:
            WEBVTT

            00:01.000 --> 00:03.000
            Goblet squats today.
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            subtitles.srt:
            1
            00:00:01,000 --> 00:00:03,000
            Goblet squats today.
        Mend: remove the file that is not the finished cut's.
        """,
    ),
    "markers-twice": (
        Severity.ERROR,
        """
        The chapter markers stand in one file, chapters.txt or chapters.vtt.

        Why: two lists of markers can disagree, and nobody could tell which of them is published.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            chapters.txt:
            0:00 Welcome
            0:10 Goblet squat
            4:40 Goodbye
            chapters.vtt:
            WEBVTT

            00:00.000 --> 00:10.000
            Welcome
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            chapters.txt:
            0:00 Welcome
            0:10 Goblet squat
            4:40 Goodbye
        Mend: remove one of the two files, or rename it.
        """,
    ),
    "edit-missing": (
        Severity.ERROR,
        """
        Markers laid while filming come with the edit of the cut.

        Why: markers.edl names moments of the footage, and only the edit says where the cut shows them.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            markers.edl:
            TITLE: MARKERS
            FCM: NON-DROP FRAME

            001  A001 V C 01:00:10:00 01:00:10:01 01:00:10:00 01:00:10:01
            * COMMENT: Goblet squat
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            chapters.txt:
            0:00 Welcome
            0:10 Goblet squat
            4:40 Goodbye
        Mend: export the edit list (cut.edl) or the OTIO timeline (cut.otio) of the finished cut into the folder, or
            write the times of the cut into chapters.txt.
        """,
    ),
}
