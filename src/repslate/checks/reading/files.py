"""Pages of what is found on the way from bytes to text. In the examples ⟨FC⟩ stands for a single byte."""

from __future__ import annotations

from repslate.source.finding import Severity

PAGES = {
    "encoding": (
        Severity.ERROR,
        """
        The file is saved as UTF-8.

        Why: in any other encoding letters beyond a to z come out as something else, or not at all.
        Source: RFC 3629 says which bytes are UTF-8.
        Bad:
            Squats for the R⟨FC⟩cken.

            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Good:
            Squats for the Rücken.

            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: open the file in your text editor and save it again with the encoding UTF-8.
        """,
    ),
    "control-character": (
        Severity.ERROR,
        """
        The text holds no invisible control characters and no marks that turn the direction of writing.

        Why: they come with copied text, nobody sees them, they upset browsers and printers, and a turned 8–10 reads
            10–8.
        Source: Unicode Standard, general category Cc; Unicode Standard Annex 9, 2.1 to 2.4.
        Bad:
            Squats, hinges⟨07⟩ and carries.

            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Good:
            Squats, hinges and carries.

            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: delete the character, or type the line again.
        """,
    ),
    "file-empty": (
        Severity.ERROR,
        """
        workout.md holds a workout.

        Why: an empty file is nearly always one that was never saved.
        Source: common practice, no source.
        Bad:
            ⟨nothing⟩
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: save the file in your editor, or begin with repslate new.
        """,
    ),
    "file-missing": (
        Severity.ERROR,
        """
        The episode's folder holds its workout.md.

        Why: it is the one source of everything that is published.
        Source: common practice, no source.
        Bad:
            chapters.txt:
            0:00 Welcome
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: check that you named the right folder and that the file is called workout.md, in small letters.
        """,
    ),
    "file-unreadable": (
        Severity.ERROR,
        """
        Every file that is to be read is an ordinary file that you may read.

        Why: a folder of that name, or a file that the system keeps shut, says nothing.
        Source: common practice, no source.
        Bad:
            workout.md/notes.txt:
            This makes workout.md a folder.
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: rename the folder, or ask whoever keeps the computer for the right to read the file.
        """,
    ),
    "file-too-large": (
        Severity.ERROR,
        """
        A file of text is no larger than 1 MiB.

        Why: an hour's workout is under 20 KiB; what is larger is a film or a picture under the wrong name.
        Source: common practice, no source.
        Bad:
            ⟨1 MiB of text⟩
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: check that it is the right file; keep films and pictures in files of their own.
        """,
    ),
    "too-much": (
        Severity.ERROR,
        """
        A file holds no more of anything than an episode can have.

        At most 120 exercises, 200 pictures and 300 chapters; 200 characters in a heading, 300 in a prescription, 5,000
        in a line; 4,000 lines in workout.md; 25,000 words and 5,000 numbers said in one film.

        Why: no episode comes near these figures, so it is nearly always the wrong file; reading on would take minutes.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10 @ 16 kg, rest 60 s, ⟨the same thirty times⟩
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10 @ 16 kg, rest 60 s
        Mend: check that it is the right file; break up a long line, publish a long workout as several episodes.
        """,
    ),
}
