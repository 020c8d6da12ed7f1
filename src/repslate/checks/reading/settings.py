"""Pages of what is found in settings: the front matter of workout.md, and series.yaml."""

from __future__ import annotations

from repslate.source.finding import Severity

_YAML = "YAML 1.2.2; what is refused beyond it is our choice, so that nothing is read otherwise than meant."


def _page(asks: str, why: str, bad: str, good: str, *, mend: str, source: str = _YAML) -> str:  # noqa: PLR0913 a page has six parts
    """Return a page whose examples are front matters of "format: 1", a title and the lines given."""
    return f"{asks}\n\nWhy: {why}\nSource: {source}\nBad:\n{_front(bad)}\nGood:\n{_front(good)}\nMend: {mend}\n"


def _front(lines: str) -> str:
    front = ["---", "format: 1", *lines.split("\n"), "---", "## Straight sets", "### Goblet squat", "3 × 10, rest 90 s"]
    return "\n".join(f"    {line}" for line in front)


PAGES = {
    "unknown-key": (
        Severity.WARNING,
        _page(
            "Every key of the settings is one that something reads.",
            "a slip in the key (presentor) silently loses what stands behind it.",
            "title: Hinge and carry\npresentor: Robin",
            "title: Hinge and carry\npresenter: Robin",
            mend="take the key that the finding proposes, or delete the line.",
        ),
    ),
    "wrong-value": (
        Severity.ERROR,
        _page(
            "Every setting has a value of its kind.",
            "a word where a date belongs cannot be published, and nothing is guessed in its place.",
            "title: Hinge and carry\nlevel: medium",
            "title: Hinge and carry\nlevel: intermediate",
            mend="type what the finding proposes.",
            source="common practice, no source.",
        ),
    ),
    "format-missing": (
        Severity.WARNING,
        """
        The front matter says which format the file is written in.

        Why: a later version reads the file as it was meant.
        Source: common practice, no source.
        Bad:
            ---
            title: Hinge and carry
            ---
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
        Mend: type format: 1 as the first line between the two lines ---.
        """,
    ),
    "format-unknown": (
        Severity.ERROR,
        """
        The format is one that this version reads.

        Why: a file of a later format may say things that this version would misread.
        Source: common practice, no source.
        Bad:
            ---
            format: 9
            title: Hinge and carry
            ---
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
        Mend: type format: 1, or use the version of repslate that the file was written for.
        """,
    ),
    "title-missing": (
        Severity.ERROR,
        _page(
            "The episode has a title.",
            "it heads the article and the card; without it there is nothing to publish under.",
            "presenter: Robin",
            "title: Hinge and carry\npresenter: Robin",
            mend="type title: and a few plain words between the two lines ---.",
            source="common practice, no source.",
        ),
    ),
    "slug-form": (
        Severity.ERROR,
        _page(
            "A slug is lower-case letters a to z, digits and single hyphens.",
            "it names the folder of what is published and stands in its address.",
            "title: Hinge and carry\nslug: Hinge & Carry",
            "title: Hinge and carry\nslug: hinge-carry",
            mend="type what the finding proposes, or leave the line out: the title makes a slug.",
            source="RFC 3986, unreserved characters; lower case is common practice.",
        ),
    ),
    "disclosure-unclear": (
        Severity.ERROR,
        """
        The disclosure in series.yaml uses a word that readers know for advertising.

        Why: a paid connection must be plain to everybody, and soft words such as "partner" are not.
        Source: 16 CFR 255.5; FTC, Disclosures 101 for Social Media Influencers, 2019.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            series.yaml:
            disclosure: With kind support of {sponsor}.
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            series.yaml:
            disclosure: "Advertisement: this episode is sponsored by {sponsor}."
        Mend: use one of the words that the finding names.
        """,
    ),
    "accent-contrast": (
        Severity.ERROR,
        """
        The accent colour can be read on white paper.

        Why: links and labels are set in it; in a pale colour many people cannot read them.
        Source: WCAG 2.2, success criterion 1.4.3, level AA: at least 4.5:1.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            series.yaml:
            accent: "#ffcc66"
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            series.yaml:
            accent: "#7a3b12"
        Mend: choose a darker colour.
        """,
    ),
    "yaml-duplicate-key": (
        Severity.ERROR,
        _page(
            "Every key stands once.",
            "of two titles only one can be published, and nobody would see which.",
            "title: Hinge and carry\ntitle: Squat and carry",
            "title: Squat and carry",
            mend="keep one of the two lines.",
        ),
    ),
    "yaml-comment": (
        Severity.ERROR,
        _page(
            "A # in a value stands in quotes.",
            "unquoted, # begins a comment, and the colour or the hashtag behind it is lost.",
            "title: Hinge and carry\nhashtags: #kettlebell",
            'title: Hinge and carry\nhashtags: ["#kettlebell"]',
            mend="put quotes around the whole value; leave a space after # where it really is a comment.",
        ),
    ),
    "yaml-documents": (
        Severity.ERROR,
        """
        A file of settings is one document.

        Why: what stands after a second line of --- would not be read.
        Source: YAML 1.2.2, 9.1.4.
        Bad:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            series.yaml:
            brand: Heronwick Training
            ---
            units: both
        Good:
            ## Straight sets
            ### Goblet squat
            3 × 10, rest 90 s
            series.yaml:
            brand: Heronwick Training
            units: both
        Mend: delete the line in between.
        """,
    ),
    "yaml-directive": (
        Severity.ERROR,
        _page(
            "No line of the settings begins with %.",
            "to YAML it is an order to the reader, which could change what every other line means.",
            "%YAML 1.1\ntitle: Hinge and carry",
            "title: Hinge and carry",
            mend="delete the line.",
        ),
    ),
    "yaml-anchor": (
        Severity.ERROR,
        _page(
            "Every value is typed where it stands.",
            'a value that begins with & or * means "the same as elsewhere" to YAML, mostly by accident.',
            "title: Hinge and carry\nsponsor: &Co",
            'title: Hinge and carry\nsponsor: "&Co"',
            mend="type the value itself, in quotes if it begins with such a sign.",
        ),
    ),
    "yaml-tag": (
        Severity.ERROR,
        _page(
            "No value begins with a bare exclamation mark.",
            "to YAML that is a tag, which changes the kind of the value.",
            "title: !Go hinge and carry",
            'title: "!Go hinge and carry"',
            mend="put the whole value in quotes.",
        ),
    ),
    "yaml-too-deep": (
        Severity.ERROR,
        _page(
            "Brackets are nested no deeper than a setting needs.",
            "so many brackets are a slip, and what is meant cannot be told.",
            "title: Hinge and carry\nequipment: [[[[[[[[[[kettlebell]]]]]]]]]]",
            "title: Hinge and carry\nequipment: [kettlebell]",
            mend="close and open brackets as the examples show.",
        ),
    ),
    "yaml-quotes": (
        Severity.WARNING,
        """
        Quotes around a value are straight ones.

        Why: to YAML curled quotes are part of the value, and the title would be published with them.
        Source: YAML 1.2.2, 7.3.
        Bad:
            ---
            format: 1
            title: “Hinge and carry”
            ---
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
        Mend: take them out, or type straight ones.
        """,
    ),
    "yaml-syntax": (
        Severity.ERROR,
        _page(
            "Every line of the settings reads as key: value.",
            "a second colon or a lost quotation mark makes the line unreadable.",
            "title: Legs: part two",
            'title: "Legs: part two"',
            mend="put quotes around the value, or check indent, colon and quotes.",
        ),
    ),
}
