"""Pages of what is found in the subtitles."""

from __future__ import annotations

from repslate.source.finding import Severity

PAGES = {
    "subtitle-unreadable": (
        Severity.ERROR,
        """
        Every subtitle has two times that can only be read in one way, the second no earlier than the first.

        Why: a time misread moves every chapter that is held against the words, and a subtitle left out is missing when
            its exercise is looked for.
        Source: SubRip as it is in use, no standard; W3C WebVTT, section 6.1, says what players read.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            subtitles.srt:
            1
            00:01,000 --> 00:02,500
            Goblet squats today.
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            subtitles.srt:
            1
            00:00:01,000 --> 00:00:02,500
            Goblet squats today.
        Mend: write hours, minutes, seconds and three digits of milliseconds in subtitles.srt, or export the subtitles
            again.
        """,
    ),
    "subtitle-unusual": (
        Severity.WARNING,
        """
        Subtitles are written as every player reads them, and in the order of their times.

        Why: what is off has one meaning and is read all the same here, but a player or a video host may refuse it. One
            kind is told once a file, at its first place.
        Source: SubRip as it is in use, no standard; W3C WebVTT, section 4.1.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            subtitles.srt:
            1
            00:00:01.000 --> 00:00:02.500
            Goblet squats today.
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            subtitles.srt:
            1
            00:00:01,000 --> 00:00:02,500
            Goblet squats today.
        Mend: do what the finding says, or export the subtitles again.
        """,
    ),
    "transcript-coarse": (
        Severity.NOTE,
        """
        The times of what is said are those of subtitles, not of a transcript's paragraphs.

        Why: a paragraph says when it begins, not when each of its words is said, so a chapter or a figure found in it
            may be told many seconds too early.
        Source: transcripts as they are in use, no standard.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            transcript.txt:
            [0:00] Hello and welcome, all we do today is goblet squats.

            [0:40] Ten of them, then rest for ninety seconds.
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            subtitles.srt:
            1
            00:00:01,000 --> 00:00:03,000
            All we do today is goblet squats.

            2
            00:00:40,000 --> 00:00:44,500
            Ten of them, then rest for ninety seconds.
        Mend: if the tool that made the transcript writes .srt or .vtt too, use that; else look at each time in the cut.
        """,
    ),
}
