"""The printed card before judges that know nothing of repslate: PDF structure, page, lettering, QR code, page count."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from publish.validators.pdf_gate import A4, LETTER, MM, look_at, pdf_findings, qr_texts

SAMPLES = Path(__file__).parents[2] / "samples"
NAMES = ("boathouse-kettlebells", "school-hall-circuit", "chair-session")
PAPERS = {"card-a4.pdf": A4, "card-letter.pdf": LETTER}
SMALLEST = 8  # points
SETS = {  # counted by hand in the three sources, block by block
    "boathouse-kettlebells": 2 * 2 + 3 * (3 + 3) + 4 * 2 + 1 + 1,
    "school-hall-circuit": 3 * 1 + 3 * 6 + 6 + 1 + 1,  # one for each of the six minutes
    "chair-session": 1 + 1 + 4 * 2 + 2 * 2 + 2 + 1,
}

every_card = pytest.mark.parametrize("card", PAPERS)
every_sample = pytest.mark.parametrize("name", NAMES)


@every_card
@every_sample
def test_the_card_passes_our_structural_checks(built_samples: dict[str, Path], name: str, card: str) -> None:
    assert pdf_findings(built_samples[name] / card) == []


@every_card
@every_sample
def test_the_card_is_one_readable_page(built_samples: dict[str, Path], name: str, card: str) -> None:
    pages = look_at(built_samples[name] / card)
    assert len(pages) == 1
    assert pages[0].size == pytest.approx(PAPERS[card], abs=0.01)
    assert pages[0].smallest >= SMALLEST - 0.01
    assert pages[0].outside == ()


@every_card
@every_sample
def test_the_card_has_a_box_to_write_in_for_every_set(built_samples: dict[str, Path], name: str, card: str) -> None:
    boxes = look_at(built_samples[name] / card)[0].boxes
    assert len(boxes) == SETS[name]
    assert all(width * MM >= 9 and height * MM >= 7 for width, height in boxes)


@every_card
@every_sample
def test_the_card_names_every_exercise_and_caution(built_samples: dict[str, Path], name: str, card: str) -> None:
    source = (SAMPLES / name / "workout.md").read_text(encoding="utf-8")
    text = squeezed(look_at(built_samples[name] / card)[0].text)
    asked = [
        *re.findall(r"^title: (.+)$", source, re.M),
        *re.findall(r"^### ([^{\n]+)", source, re.M),
        *re.findall(r"^Caution[^:\n]*: (.+)$", source, re.M),
    ]
    assert [words for words in asked if squeezed(words) not in text] == []


@every_sample
def test_the_qr_code_leads_to_the_address_printed_beside_it(built_samples: dict[str, Path], name: str) -> None:
    for card in PAPERS:
        path = built_samples[name] / card
        address = f"https://heronwick.example/workouts/{built_samples[name].name}"
        assert qr_texts(path) == [address]
        assert squeezed(address.removeprefix("https://")) in squeezed(look_at(path)[0].text)


@every_card
def test_the_sponsor_is_named_on_the_first_page(built_samples: dict[str, Path], card: str) -> None:
    # 16 CFR 255.0(f) and CAP Code 2.1 ask for a disclosure that cannot be missed
    text = squeezed(look_at(built_samples["boathouse-kettlebells"] / card)[0].text)
    assert text.startswith(squeezed("Advertisement: Velloway Chalk paid for this episode."))


# --- many exercises ---------------------------------------------------------------------------------------------------

LONG_NAMES = (
    "Heels-raised goblet squat to a low bench",
    "Supported single-arm kettlebell row",
    "Staggered-stance Romanian deadlift with two bells",
    "Push-up with hands on kettlebell handles",
    "Rear-foot-elevated split squat with a front hold",
    "Half-kneeling single-arm overhead press",
)


def write_episode(folder: Path, exercises: int) -> dict[str, list[str]]:
    """Write an episode of `exercises` exercises in pairs; return the labels of each block by its heading."""
    folder.mkdir()
    (folder.parent / "series.yaml").write_text(
        "brand: Heronwick Training\nsite: https://heronwick.example\n"
        "address: https://heronwick.example/workouts/{slug}\nunits: both\n",
        encoding="utf-8",
    )
    lines = ["---", "format: 1", "title: A Long Afternoon in the Boathouse", "goal: hypertrophy", "level: advanced"]
    lines += ["equipment: [two kettlebells, bench, mat]", "sponsor: none", "---", "Everything at once.", ""]
    blocks: dict[str, list[str]] = {}
    for index in range(exercises):
        letter, place = "ABCDEFG"[index // 2], index % 2 + 1
        kind = "Superset" if index - index % 2 + 1 < exercises else "Straight sets"
        if place == 1:
            lines += [f"## {kind} {letter} · 4 rounds · rest 75–90 s" if kind == "Superset" else f"## {kind}", ""]
            blocks[letter] = []
        blocks[letter].append(f"{letter}{place}")
        sets = "" if kind == "Superset" else "4 × "
        lines += [
            f"### {LONG_NAMES[index % 6]}, part {index // 6 + 1}",
            f"{sets}10–12 reps per side @ 2 × 16 kg, tempo 3-1-1-0, leave 2 in reserve",
            "",
            "Move slowly and keep the weight under control.",
            "",
            "Muscles: quadriceps, glutes",
            "Equipment: two kettlebells",
            "Caution (knees): Stop above any depth that hurts, and keep the knee in line with the toes every time.",
            "Caution (back): Set the weight down as soon as your back starts to round.",
            "",
        ]
    (folder / "workout.md").write_text("\n".join(lines), encoding="utf-8")
    return blocks


@pytest.mark.parametrize(("exercises", "pages"), [(12, (1,)), (13, (1, 2))])
@every_card
def test_a_second_page_comes_after_twelve_and_between_blocks(
    tmp_path: Path, card: str, exercises: int, pages: tuple[int, ...]
) -> None:
    from repslate import api

    blocks = write_episode(tmp_path / "long-afternoon", exercises)
    built = api.build(tmp_path / "long-afternoon", tmp_path / "out")
    assert built.value is not None, built.findings
    path = built.value.folder / card
    seen = look_at(path)
    assert len(seen) in pages
    assert pdf_findings(path) == []
    assert all(page.smallest >= SMALLEST - 0.01 and page.outside == () for page in seen)
    for labels in blocks.values():
        where = [n for n, page in enumerate(seen) for label in labels if re.search(rf"\b{label}\b", page.text)]
        assert len(where) == len(labels) and len(set(where)) == 1, labels


# --- the gate itself --------------------------------------------------------------------------------------------------


def test_the_gate_passes_a_sound_page_and_measures_it(tmp_path: Path) -> None:
    path = write_pdf(
        tmp_path / "sound.pdf",
        '<html lang="en"><title>t</title><h1>One</h1><h2>Two</h2><p style="font-size:9pt">p '
        '<a href="https://heronwick.example/">link</a></p><table><tr><th scope="row">a</th><td>b</td></tr></table>',
    )
    assert pdf_findings(path) == []
    (page,) = look_at(path)
    assert page.size == pytest.approx(A4, abs=0.01)
    assert page.smallest == pytest.approx(9, abs=0.01)
    assert page.outside == ()


def test_the_gate_sees_a_bad_page(tmp_path: Path) -> None:
    # no language, no title, no description, h1 followed by h3: WeasyPrint 70 still stamps it PDF/UA-1
    path = write_pdf(
        tmp_path / "bad.pdf",
        '<h1>One</h1><h3>Three</h3><p style="font-size:7pt;position:absolute;left:-3cm">x</p>'
        "<img src=\"data:image/svg+xml,<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'/>\">",
    )
    assert set(pdf_findings(path)) == {
        "the document's language is ''",
        "the metadata has no title",
        "heading level 3 follows level 1",
        "a figure has no description",
    }
    (page,) = look_at(path)
    assert page.smallest == pytest.approx(7, abs=0.01)
    assert page.outside


def test_the_gate_sees_an_untagged_file(tmp_path: Path) -> None:
    path = write_pdf(tmp_path / "plain.pdf", '<html lang="en"><title>t</title><h1>One</h1>', variant=None)
    assert {"there is no structure tree", "the document is not marked as tagged"} <= set(pdf_findings(path))


def write_pdf(path: Path, markup: str, *, variant: str | None = "pdf/ua-1") -> Path:
    import weasyprint

    weasyprint.HTML(string=f"<style>@page{{size:A4}}</style>{markup}").write_pdf(path, pdf_variant=variant)
    return path


def squeezed(text: str) -> str:
    """Return text without white space and hyphens, which a program that reads PDF changes at line ends."""
    return re.sub(r"[\s\u00ad\u2010\ufffe\x02-]+", "", text)


def test_blocks_longer_than_what_is_left_of_a_page_break_between_exercises(tmp_path: Path) -> None:
    """Rows that must stay together, chained from block to block over a whole page, stop the layout library."""
    from repslate import api

    caution = "Stop at once when anything hurts, keep the back flat and the load close, and clear the floor. " * 2
    lines = ["---\nformat: 1\ntitle: A long Sunday\n---"]
    for block in "ABCD":
        lines.append(f"## Giant set {block} · 3 rounds · rest 2 min")
        for at in range(5):
            lines.append(f"### Move {block}{at}\n8 reps" + (f"\nCaution: {caution}" if at < 2 else ""))
    built = api.build("\n".join([*lines, "## Safety\nClear the floor.\n"]), tmp_path)
    assert built.value is not None, built.findings
    assert {"card-a4.pdf", "card-letter.pdf"} <= set(built.value.written)
