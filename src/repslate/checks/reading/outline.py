"""Pages of what is found in the shape of workout.md: front matter, headings, labels, comments."""

from __future__ import annotations

from repslate.source.finding import Severity

PAGES = {
    "front-matter-missing": (
        Severity.ERROR,
        """
        The file begins with the front matter: its settings between two lines of ---.

        Why: without it the workout has no title and no goal, and nobody knows for whom it is.
        Source: common practice, no source.
        Bad:
            ⟨no front matter⟩
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Good:
            ---
            format: 1
            title: Hinge and carry
            ---
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: type four lines above everything else: ---, format: 1, title: and your title, ---.
        """,
    ),
    "front-matter-unterminated": (
        Severity.ERROR,
        """
        The front matter ends with a second line of ---.

        Why: without it nobody can tell where the settings end and the workout begins.
        Source: common practice, no source.
        Bad:
            ---
            format: 1
            title: Hinge and carry

            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Good:
            ---
            format: 1
            title: Hinge and carry
            ---

            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: type --- on a line of its own after the last setting.
        """,
    ),
    "front-matter-line": (
        Severity.ERROR,
        """
        The front matter stands between two lines of exactly three hyphens.

        Why: some editors turn --- into a dash, and then the settings are ordinary text.
        Source: common practice, no source.
        Bad:
            ---
            format: 1
            title: Hinge and carry
            --

            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Good:
            ---
            format: 1
            title: Hinge and carry
            ---

            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: type --- in its place, three plain hyphens on a line of their own.
        """,
    ),
    "comment-unterminated": (
        Severity.ERROR,
        """
        A comment that begins with <!-- ends with -->.

        Why: otherwise everything after it would be left out.
        Source: CommonMark 0.31.2, 4.6.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            <!-- ask Robin about the load
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            <!-- ask Robin about the load -->
        Mend: type --> where the comment ends, or take <!-- out.
        """,
    ),
    "heading-level": (
        Severity.ERROR,
        """
        Headings are ## for a block and ### for an exercise.

        Why: the number of # says what a heading is; one # is the title, which stands in the front matter.
        Source: common practice, no source.
        Bad:
            # Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: type ## before a block and ### before an exercise.
        """,
    ),
    "heading-space": (
        Severity.ERROR,
        """
        A space stands after the # of a heading.

        Why: without it the line is ordinary text, and the exercise is lost.
        Source: CommonMark 0.31.2, 4.2.
        Bad:
            ## Straight sets
            ###Goblet squat
            3 × 10, rest 90 s
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: type a space after the last #.
        """,
    ),
    "heading-empty": (
        Severity.ERROR,
        """
        A heading has words.

        Why: an exercise without a name cannot be found, on the card or in the film.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ###
            3 × 10, rest 90 s
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: type the name after the #, or take the line out.
        """,
    ),
    "heading-closed": (
        Severity.WARNING,
        """
        A heading has its # in front only.

        Why: closing # are left out of the name; if they belong to it, they are lost.
        Source: CommonMark 0.31.2, 4.2.
        Bad:
            ## Straight sets
            ### Goblet squat ###
            3 × 10, rest 90 s
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: take the # at the end out.
        """,
    ),
    "heading-underlined": (
        Severity.ERROR,
        """
        A heading begins with #, not with a line of dashes under it.

        Why: to Markdown a line of - or = under a text makes it a heading, of a level that means nothing here.
        Source: CommonMark 0.31.2, 4.3.
        Bad:
            Straight sets
            -------------
            ### Goblet squat
            3 × 10, rest 90 s
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: type ## before the words; if the dashes are a line across the page, leave a blank line above them.
        """,
    ),
    "fence-unterminated": (
        Severity.ERROR,
        """
        A run of code that begins with ``` ends with ```.

        Why: otherwise every exercise after it is taken for code.
        Source: CommonMark 0.31.2, 4.5.
        Bad:
            ```
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: type ``` where it ends, or take the first one out.
        """,
    ),
    "caution-unread": (
        Severity.ERROR,
        """
        A line that begins with Caution is one.

        Why: a caution that stays ordinary text or code is on no card.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s

            ```
            Caution knees: Stop above any depth that hurts.
            ```
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s

            Caution (knees): Stop above any depth that hurts.
        Mend: type Caution: or Caution (knees): on a line of its own.
        """,
    ),
    "label-runs-on": (
        Severity.WARNING,
        """
        A label's text ends before a text of its own begins.

        Why: a line right below a label is read as part of it, and then the list of equipment holds a sentence.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s

            Equipment: kettlebell
            Breathe in on the way down.
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s

            Equipment: kettlebell

            Breathe in on the way down.
        Mend: leave a blank line between them, or join the two lines.
        """,
    ),
    "picture-misplaced": (
        Severity.WARNING,
        """
        A picture stands under the exercise it shows.

        Why: in the caution of a block nobody can tell which exercise it belongs to, so no output shows it.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            Caution: Keep the floor clear. ![A clear floor](pictures/floor.jpg)

            ### Goblet squat
            3 × 10, rest 90 s
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s

            ![A clear floor](pictures/floor.jpg)
        Mend: move it to a line of its own under the exercise's ### heading.
        """,
    ),
    "label-unknown": (
        Severity.ERROR,
        """
        A word with a colon that looks like a label is spelt like one.

        Why: with a slip in "Caution" the caution is ordinary text, and no card shows it as what it is.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s

            Cuation: Stop above the depth where it hurts.
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s

            Caution: Stop above the depth where it hurts.
        Mend: type one of Cues, Easier, Harder, Caution, Muscles, Equipment, Quiet, with a colon.
        """,
    ),
    "label-misplaced": (
        Severity.WARNING,
        """
        Cues, Easier and Harder stand under an exercise, Caution under an exercise or a block.

        Why: elsewhere nobody can tell which exercise they are for, so they stay ordinary text.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            Easier: Use a box.

            ### Goblet squat
            3 × 10, rest 90 s
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s

            Easier: Use a box.
        Mend: move the line under the ### heading of the exercise it belongs to.
        """,
    ),
    "label-empty": (
        Severity.WARNING,
        """
        A label has words after it.

        Why: "Caution:" and nothing behind it is a caution that was forgotten.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s

            Caution:
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s

            Caution: Stop above the depth where it hurts.
        Mend: write the words on the same line or as a list under it, or take the line out.
        """,
    ),
    "block-kind-unknown": (
        Severity.ERROR,
        """
        A ## heading begins with a kind of block.

        Why: the kind says how the exercises are done together; an unknown one is read as straight sets. Where
            sets are missing then, this alone is said, as an error.
        Source: common practice, no source.
        Bad:
            ## Supreset A · 3 rounds · rest 90 s
            ### Goblet squat
            10 reps
            ### Push-up
            10 reps
        Good:
            ## Superset A · 3 rounds · rest 90 s
            ### Goblet squat
            10 reps
            ### Push-up
            10 reps
        Mend: begin with Warm-up, Straight sets, Superset, Tri-set, Giant set, Circuit, Every minute, As many rounds as
            possible, Finisher or Cool-down; your own name follows after a colon.
        """,
    ),
    "block-letter-twice": (
        Severity.WARNING,
        """
        Every block has a letter of its own.

        Why: with two blocks A nobody can tell which A1 is meant.
        Source: common practice, no source.
        Bad:
            ## Straight sets A
            ### Goblet squat
            3 × 10, rest 90 s
            ## Straight sets A
            ### Push-up
            3 × 10, rest 60 s
        Good:
            ## Straight sets A
            ### Goblet squat
            3 × 10, rest 90 s
            ## Straight sets B
            ### Push-up
            3 × 10, rest 60 s
        Mend: leave the letters out, or give the next one.
        """,
    ),
    "block-letter-order": (
        Severity.WARNING,
        """
        The letters of the blocks follow the order of the file.

        Why: who reads B1, A1, A2 on the card looks for what comes first, and does the blocks the other way round.
        Source: common practice, no source.
        Bad:
            ## Straight sets B
            ### Goblet squat
            3 × 10, rest 90 s
            ## Straight sets A
            ### Push-up
            3 × 10, rest 60 s
        Good:
            ## Straight sets A
            ### Goblet squat
            3 × 10, rest 90 s
            ## Straight sets B
            ### Push-up
            3 × 10, rest 60 s
        Mend: put the blocks in the order of their letters, or leave the letters out: they come by themselves.
        """,
    ),
    "section-empty": (
        Severity.WARNING,
        """
        Something stands under every ## heading.

        Why: an empty heading is a promise that the film does not keep.
        Source: common practice, no source.
        Bad:
            ## Warm-up

            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: fill it, or take the heading out.
        """,
    ),
    "safety-section-twice": (
        Severity.WARNING,
        """
        There is one ## Safety.

        Why: two are read together, so one of them is easily overlooked when the text changes.
        Source: common practice, no source.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            ## Safety
            Clear the floor.
            ## Safety
            Wear shoes that grip.
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            ## Safety
            Clear the floor. Wear shoes that grip.
        Mend: move all lines under the first one.
        """,
    ),
    "exercise-outside-block": (
        Severity.ERROR,
        """
        Every exercise stands under the heading of a block.

        Why: the block says how often and with what rest it is done.
        Source: common practice, no source.
        Bad:
            ### Goblet squat
            3 × 10, rest 90 s
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: type a heading such as ## Straight sets above it.
        """,
    ),
    "no-exercises": (
        Severity.ERROR,
        """
        The workout holds at least one exercise.

        Why: there is nothing to train and nothing to publish.
        Source: common practice, no source.
        Bad:
            Squats and carries, soon.
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
        Mend: type ## Straight sets, under it ### and the exercise's name, and under that its prescription.
        """,
    ),
}
