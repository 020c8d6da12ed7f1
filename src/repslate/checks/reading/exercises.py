"""Pages of what is found in an exercise's heading, name and place of its figures."""

from __future__ import annotations

from repslate.source.finding import Severity

PAGES = {
    "exercise-unknown": (
        Severity.WARNING,
        """
        Every exercise is in the library, or says itself what it trains.

        Why: without its muscles it counts in no sum, and nobody has checked what may hurt in it: a caution of your own
            is the only one it gets.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ### Zwibbel lift
            3 × 10, rest 90 s
        Good:
            ## Straight sets
            ### Zwibbel lift
            3 × 10, rest 90 s

            Muscles: glutes, hamstrings
            Equipment: kettlebell
            Caution (back): Keep the back flat, and stop the set when it rounds.
        Mend: take one of the names that the finding proposes, or add the lines Muscles: and Equipment:, and a line
            Caution: on what may hurt.
        """,
    ),
    "exercise-name-guessed": (
        Severity.NOTE,
        """
        An exercise's name is spelt as the library has it.

        Why: a near miss is read as the nearest exercise; you should see which.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ### Goblet sqaut
            3 × 10, rest 90 s
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: type the name as the finding has it, or describe your own exercise with Muscles: and Equipment:.
        """,
    ),
    "muscle-unknown": (
        Severity.WARNING,
        """
        The muscles that an exercise says it trains are known by that name.

        Why: under another name they count in no sum of sets.
        Source: names and their common forms: Terminologia Anatomica 1998, and the trade's own words.
        Bad:
            ## Straight sets
            ### Zwibbel lift
            3 × 10, rest 90 s

            Muscles: glutes, hamstrngs
        Good:
            ## Straight sets
            ### Zwibbel lift
            3 × 10, rest 90 s

            Muscles: glutes, hamstrings
        Mend: take the name that the finding proposes; separate several with commas.
        """,
    ),
    "exercise-name-taken": (
        Severity.ERROR,
        """
        Every exercise of the series' own in exercises.yaml has names of its own.

        Why: of two exercises with one name, neither the reader nor a check knows which is meant; and an exercise that
            takes a shipped one's place takes its cautions with it.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ### Boat row
            3 × 10, rest 90 s
            exercises.yaml:
            Boat row: {equipment: [band], primary: [lats]}
            Long pull: {also: [boat row], equipment: [band], primary: [lats]}
        Good:
            ## Straight sets
            ### Boat row
            3 × 10, rest 90 s
            exercises.yaml:
            Boat row: {also: [long pull], equipment: [band], primary: [lats]}
        Mend: type another name. Where yours shall stand in place of a shipped exercise, give it the hazards (traits)
            that the finding names.
        """,
    ),
    "exercise-label-differs": (
        Severity.WARNING,
        """
        A label typed before an exercise's name is the one that its place gives it.

        Why: viewers who are told B2 look for B2, and the card counts by the order of the file.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ### A4 Goblet squat
            3 × 10, rest 90 s
        Good:
            ## Straight sets
            ### A1 Goblet squat
            3 × 10, rest 90 s
        Mend: leave the label out, since labels are made from the blocks, or correct it.
        """,
    ),
    "exercise-id-unreadable": (
        Severity.ERROR,
        """
        An id in braces is lower-case letters, digits and hyphens.

        Why: chapters and links find the exercise by it.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ### Goblet squat {Goblet Squat!}
            3 × 10, rest 90 s
        Good:
            ## Straight sets
            ### Goblet squat {goblet}
            3 × 10, rest 90 s
        Mend: type what the finding proposes, or leave the braces out.
        """,
    ),
    "duplicate-exercise-id": (
        Severity.ERROR,
        """
        An id in braces is given once.

        Why: chapters and links find an exercise by its id, and of two they would find the wrong one.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ### Goblet squat {legs}
            3 × 10, rest 90 s
            ### Push-up {legs}
            3 × 10, rest 60 s
        Good:
            ## Straight sets
            ### Goblet squat {legs}
            3 × 10, rest 90 s
            ### Push-up {chest}
            3 × 10, rest 60 s
        Mend: type another word in one of the braces.
        """,
    ),
    "prescription-elsewhere": (
        Severity.ERROR,
        """
        The whole prescription stands on the one line under the exercise's heading.

        Why: figures further down are ordinary text: no card shows them and no check sees them. Only where the line
            under the heading holds no figures at all are the first ones below read, and told of.
            An error where the line under the heading then lacks sets or work.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ### Goblet squat
            10 reps, rest 90 s

            3 sets
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: move it up to the line under the heading, after a comma.
        """,
    ),
}
