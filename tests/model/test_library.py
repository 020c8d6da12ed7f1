"""The library: its files hold to the schema, agree with the table of muscles, and are found by what people write."""

from __future__ import annotations

import re
from collections import defaultdict
from pathlib import Path
from typing import Annotated, Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel, ConfigDict, Field, StringConstraints, TypeAdapter
from ruamel.yaml import YAML

from repslate.model.library import Entry, Library, load
from repslate.model.library_files import FOLDER, read
from repslate.model.names import plain, words

LIBRARY: Library = load()
CASES = Path(__file__).parents[1] / "cases" / "library"
FILES = sorted(FOLDER.glob("exercises/*.yaml"))
OTHERS = [
    *(FOLDER / f"{name}.yaml" for name in ("muscles", "traits", "topics")),
    FOLDER.parent / "training" / "harms.yaml",
]


def lines(name: str) -> list[str]:
    text = (CASES / name).read_text("utf-8")
    return [line.rstrip() for line in text.splitlines() if line.strip() and not line.startswith("#")]


def table(name: str, columns: int) -> list[list[str]]:
    rows = [[cell.strip() for cell in line.split("|")] for line in lines(name)]
    assert all(len(row) == columns for row in rows), [row for row in rows if len(row) != columns]
    return rows


# The files, held to a strict schema with a second, slower loader that also refuses a key written twice.

Text = Annotated[str, StringConstraints(min_length=1, strip_whitespace=True, pattern=r"^[^\n]+$")]
Texts = list[Text]
Pattern = Literal[
    "squat", "lunge", "hinge", "hip bridge", "hip extension", "hip flexion", "hip abduction", "hip adduction",
    "knee extension", "knee flexion", "ankle extension", "ankle flexion", "horizontal push", "incline push",
    "vertical push", "horizontal pull", "vertical pull", "fly", "shoulder raise", "shoulder rotation",
    "shoulder girdle",
    "elbow flexion", "elbow extension", "grip", "trunk brace", "trunk flexion", "trunk rotation", "carry", "power",
    "throw", "jump", "locomotion", "mobility", "balance", "breathing",
]  # fmt: skip
Unit = Literal["reps", "seconds", "metres"]
Pace = Annotated[str, StringConstraints(pattern=r"^\d+(\.\d+)?$")]
Truth = Literal["yes", "no"]
# Codes of the 2024 Adult Compendium: Herrmann et al. 2024, J Sport Health Sci 13(1):6–12.
Met = Literal[
    "2024:02020", "2024:02022", "2024:02024", "2024:02048", "2024:02052", "2024:02054", "2024:02056", "2024:02057",
    "2024:02058", "2024:02060", "2024:02065", "2024:02068", "2024:02071", "2024:02101",
]  # fmt: skip


class Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)


class Defaults(Strict):
    pattern: Pattern
    unit: Unit
    pace: Pace
    met: Met
    one_sided: Truth = Field("no", alias="one-sided")


class Row(Strict):
    also: Texts = []
    equipment: Annotated[Texts, Field(min_length=1)]
    primary: Annotated[Texts, Field(min_length=1)]
    secondary: Texts = []
    traits: Texts = []
    pattern: Pattern | None = None
    unit: Unit | None = None
    pace: Pace | None = None
    metre_pace: Pace | None = Field(None, alias="metre-pace")
    met: Met | None = None
    one_sided: Truth | None = Field(None, alias="one-sided")
    source: Text | None = None


class Family(Strict):
    family: Text
    source: Text
    defaults: Defaults
    exercises: dict[Text, Row]


class TraitRow(Strict):
    topics: Annotated[Texts, Field(min_length=1)]
    required: Literal["yes", "no", "barbell", "band", "chair"]
    example: Annotated[str, StringConstraints(pattern=r"^[A-Z].*\.$")]
    reason: Text
    source: Text


class TopicRow(Strict):
    words: Text = "-"
    brackets: Text = "-"
    written: Texts = []
    where: Literal["room"] | None = None
    part: Text = "-"
    felt: Text = "-"
    kinds: Annotated[list[Literal["joint", "unfelt", "hit", "form", "a"]], Field(alias="is")] = []


class MuscleRow(Strict):
    shown: Text = "-"
    anatomy: Text = "-"
    whole: Text = "-"
    alone: Literal["yes"] | None = None
    also: Texts = []


class GroupRow(Strict):
    muscles: Texts
    also: Texts = []


class Muscles(Strict):
    muscles: dict[Text, MuscleRow]
    groups: dict[Text, GroupRow]


def strictly(path: Path) -> object:
    return YAML(typ="base", pure=True).load(path.read_text("utf-8"))


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_family_file_holds_to_the_schema(path: Path) -> None:
    family = Family.model_validate(strictly(path))
    for name, row in family.exercises.items():
        assert set(row.traits) <= LIBRARY.traits.keys(), name
        assert {*row.primary, *row.secondary} <= LIBRARY.muscles.keys(), name
        assert not set(row.primary) & set(row.secondary), f"{name}: primary and secondary"
        assert name[0].isupper() or name[0].isdigit(), name


def test_other_files_hold_to_the_schema() -> None:
    TypeAdapter(dict[str, TraitRow]).validate_python(strictly(FOLDER / "traits.yaml"))
    topics = TypeAdapter(dict[str, TopicRow]).validate_python(strictly(FOLDER / "topics.yaml"))
    for slug, row in topics.items():
        assert (row.words == "-") == (row.brackets == "-") == (not row.written), slug
        assert row.written or row.part != "-" or row.felt != "-", slug
    muscles = Muscles.model_validate(strictly(FOLDER / "muscles.yaml"))
    wholes = {row.whole for row in muscles.muscles.values()} - {"-"}
    assert wholes | {m for group in muscles.groups.values() for m in group.muscles} <= muscles.muscles.keys()


@pytest.mark.parametrize("path", [*FILES, *OTHERS], ids=lambda p: p.stem)
def test_quick_reader_reads_what_the_full_loader_reads(path: Path) -> None:
    assert read(path) == strictly(path)


def test_one_entry_a_name() -> None:
    """No name twice, in the same or another entry: "press-up" beside "push-up" would be a name twice."""
    owners: dict[str, list[str]] = defaultdict(list)
    for entry in LIBRARY.entries.values():
        for name in (entry.name, *entry.aliases):
            owners["".join(words(plain(name)))].append(f"{entry.name}: {name}")
    assert [twice for twice in owners.values() if len(twice) > 1] == []
    assert sum(len(strictly_names(path)) for path in FILES) == len(LIBRARY.entries)


def strictly_names(path: Path) -> list[str]:
    return list(Family.model_validate(strictly(path)).exercises)


def test_recipe_names_every_key() -> None:
    recipe = (FOLDER / "exercises" / "README.md").read_text("utf-8")
    told = {key for cells in re.findall(r"^\| ([a-z, -]+) \|", recipe, re.M) for key in cells.split(", ")} - {
        "key",
        "---",
    }
    assert told == {field.alias or name for name, field in Row.model_fields.items()}


def test_library_is_as_broad_as_promised() -> None:
    kits: dict[str, int] = defaultdict(int)
    for entry in LIBRARY.entries.values():
        for choice in {choice for item in entry.equipment for choice in item.split(" or ")}:
            kits[choice] += 1
    assert len(LIBRARY.entries) >= 190
    for kit in ("barbell", "dumbbell", "kettlebell", "cable machine", "band", "bodyweight", "sandbag", "landmine"):
        assert kits[kit] >= 6, kit
    assert sum(count for kit, count in kits.items() if kit.endswith("machine")) >= 20
    assert sum(entry.family == "chair" for entry in LIBRARY.entries.values()) >= 16


# Muscles and hazards, against the table set down apart.

SHORT = {
    "PM": "pectoralis major", "PMcl": "pectoralis major clavicular head", "PMst": "pectoralis major sternocostal head",
    "AD": "anterior deltoid", "LD": "lateral deltoid", "PD": "posterior deltoid", "TB": "triceps brachii",
    "TBlong": "triceps brachii long head", "TBlat": "triceps brachii lateral head",
    "TBmed": "triceps brachii medial head", "BB": "biceps brachii", "BBshort": "biceps brachii short head",
    "Br": "brachialis", "BR": "brachioradialis", "TMaj": "teres major", "TMin": "teres minor",
    "Lat": "latissimus dorsi",
    "Trap": "trapezius", "Trapu": "upper trapezius", "Trapm": "middle trapezius", "Trapl": "lower trapezius",
    "Rh": "rhomboids", "ES": "erector spinae", "RA": "rectus abdominis", "Ob": "obliques",
    "TA": "transversus abdominis",
    "QL": "quadratus lumborum", "GM": "gluteus maximus", "Gmed": "gluteus medius", "Gmin": "gluteus minimus",
    "Q": "quadriceps femoris", "RF": "rectus femoris", "H": "hamstrings", "Add": "adductors",
    "AddMag": "adductor magnus", "Ca": "triceps surae", "G": "gastrocnemius", "S": "soleus", "SA": "serratus anterior",
    "RC": "rotator cuff", "IP": "iliopsoas", "FF": "forearm flexors", "FE": "forearm extensors",
    "Supra": "supraspinatus", "Infra": "infraspinatus", "LevScap": "levator scapulae", "Anconeus": "anconeus",
    "TFL": "tensor fasciae latae", "Gracilis": "gracilis", "Pectineus": "pectineus", "TibAnt": "tibialis anterior",
    "Multifidus": "multifidus",
}  # fmt: skip


@pytest.mark.parametrize("row", table("muscles-by-exercise.txt", 6), ids=lambda row: f"{row[0]} {row[1]}")
def test_muscles_and_hazards_agree_with_the_table(row: list[str]) -> None:
    _, _, primary, secondary, hazards, entries = row
    for said in entries.split(";"):
        name, *changes = re.split(r" (?=[−+])", said.strip())
        expected = set(hazards.split()) - {c[1:] for c in changes if c[0] == "−"} | {
            c[1:] for c in changes if c[0] == "+"
        }
        entry = LIBRARY.entries[name]
        assert set(entry.muscles) == {SHORT[m] for m in primary.split()}, name
        assert set(entry.secondary) == {SHORT[m] for m in secondary.split()}, name
        assert set(entry.traits) == expected, name


def test_table_of_muscles_is_whole() -> None:
    assert {int(row[0]) for row in table("muscles-by-exercise.txt", 6)} == set(range(1, 85))


# Names.


@pytest.mark.parametrize(("said", "name", "how", "kit"), table("names.txt", 4))
def test_name_means_the_entry(said: str, name: str, how: str, kit: str) -> None:
    match = LIBRARY.find(said)
    assert match is not None, LIBRARY.suggest(said)
    assert (match.entry.name, match.how, match.kit) == (name, how, kit)


@pytest.mark.parametrize("said", lines("not-names.txt"))
def test_name_means_nothing(said: str) -> None:
    match = LIBRARY.find(said)
    assert match is None, match and (match.entry.name, match.how)


every_name = st.sampled_from([(e, name) for e in LIBRARY.entries.values() for name in (e.name, *e.aliases)])


@given(every_name, st.sampled_from(["-", " ", "  ", " - ", "/"]), st.booleans(), st.sampled_from(["", "the ", "A "]))
def test_typing_habits_do_not_change_the_meaning(pair: tuple[Entry, str], gap: str, upper: bool, lead: str) -> None:
    entry, name = pair
    typed = lead + re.sub(r"[ /-]+", lambda _: gap, name.upper() if upper else name)
    match = LIBRARY.find(typed)
    assert match is not None
    assert match.entry is entry


@given(every_name, st.data())
def test_one_slip_never_turns_a_name_into_another_unsaid(pair: tuple[Entry, str], data: st.DataObject) -> None:
    """A letter typed twice in a long word is read as meant, or not at all, and said to be a guess."""
    entry, name = pair
    long_words = list(re.finditer(r"[a-z]{6,}", name))
    if not long_words:
        return
    word = data.draw(st.sampled_from(long_words))
    at = data.draw(st.integers(word.start(), word.end() - 1))
    match = LIBRARY.find(name[: at + 1] + name[at:])
    if match is not None:
        assert match.entry is entry
        assert match.how in {"alias", "plural", "spelling"}


@pytest.mark.parametrize(
    ("said", "near"),
    [
        ("bench", {"Bench press"}),
        ("rows", {"Bent-over row"}),
        ("goblit sqat", {"Goblet squat"}),
        ("floor press", {"Dumbbell floor press", "Barbell floor press"}),
        ("kettlebel swng", {"Kettlebell swing"}),
        ("squat jump with twist", {"Squat jump"}),
        ("xyzzy", set()),
    ],
)
def test_suggests_the_nearest_names(said: str, near: set[str]) -> None:
    names = LIBRARY.suggest(said)
    assert near <= set(names)
    assert len(names) == len(set(names)) <= 3
    assert bool(names) == bool(near)


@pytest.mark.parametrize(
    ("said", "first"),
    [
        ("Squat", "Back squat"),
        ("Squats heavy", "Back squat"),
        ("Bench", "Bench press"),
        ("Press", "Overhead press"),
        ("Row", "Bent-over row"),
    ],
)
def test_suggests_the_staple_lift_first(said: str, first: str) -> None:
    assert LIBRARY.suggest(said)[0] == first


def test_a_name_says_which_kit_is_needed() -> None:
    def needed(name: str) -> tuple[str, ...]:
        match = LIBRARY.find(name)
        assert match is not None
        return match.equipment

    assert needed("Kettlebell Romanian deadlift") == ("kettlebell",)
    assert needed("Goblet squat") == ("kettlebell or dumbbell",)
    assert needed("Dumbbell step-up") == ("dumbbell", "box or bench or step")
    assert needed("Reverse lunge") == ()  # the body will do
    assert needed("Dumbbell reverse lunge") == ("dumbbell",)
    assert needed("Push-up") == ()


# Muscles by their common names.


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("quads", ("quadriceps femoris",)),
        ("Quadriceps", ("quadriceps femoris",)),
        ("rear delts", ("posterior deltoid",)),
        ("rear shoulder", ("posterior deltoid",)),
        ("lats", ("latissimus dorsi",)),
        ("hamstrings", ("hamstrings",)),
        ("calves", ("triceps surae",)),
        ("chest", ("pectoralis major",)),
        ("biceps muscle", ("biceps brachii",)),
        ("long head of the triceps", ()),
        ("glutes", ("gluteus maximus", "gluteus medius", "gluteus minimus")),
        ("upper back", ("middle trapezius", "rhomboids")),
        ("core", LIBRARY.groups["core"]),
        ("lower body", LIBRARY.groups["legs"]),
        ("stamina", ()),
    ],
)
def test_common_name_of_a_muscle(said: str, meant: tuple[str, ...]) -> None:
    assert LIBRARY.muscle(said) == meant


def test_every_muscle_answers_to_its_names() -> None:
    owners: dict[str, set[tuple[str, ...]]] = defaultdict(set)
    for muscle in LIBRARY.muscles.values():
        for name in {muscle.name, *muscle.also}:
            owners[name].add(LIBRARY.muscle(name))
    assert {name: found for name, found in owners.items() if len(found) != 1 or () in found} == {}
    groups = {name: LIBRARY.muscle(name) for name in LIBRARY.groups}
    assert groups == LIBRARY.groups


def test_parts_count_as_the_muscle_they_are_part_of() -> None:
    """The parts of the deltoid and of the trapezius are trained, and so counted, apart (common practice, no source)."""
    counted = {name: muscle.counts_as for name, muscle in LIBRARY.muscles.items()}
    assert counted["triceps brachii long head"] == "triceps brachii"
    assert counted["pectoralis major clavicular head"] == "pectoralis major"
    assert counted["soleus"] == "triceps surae"
    assert counted["posterior deltoid"] == "posterior deltoid"
    assert counted["upper trapezius"] == "upper trapezius"
    assert counted["hamstrings"] == "hamstrings"


# Hazards.

PUBLISHED = {
    "bar-over-face", "bar-on-back", "bar-front-rack", "overhead-load", "power-lift", "high-five", "ir-elevation",
    "end-shoulder-extension", "loaded-spine-flexion", "hinge-load", "deep-knee-flexion", "open-chain-knee",
    "knee-valgus/unilateral", "plyo-landing", "plyo-depth", "ballistic-swing", "isometric-hold", "head-down", "supine",
    "floor-transfer", "neck-load", "wrist-extension-load", "hang-grip", "max-load", "to-failure", "high-rep-novel",
    "band-anchor", "loose-load", "static-stretch-pre",
}  # fmt: skip
OF_OUR_OWN = {
    "balance", "chair-tip", "rising-dizzy", "breathing-drill", "impact", "swinging-hang", "weight-on-neck",
}  # fmt: skip # from memory, no source
SPOTTED_BELLS = {"bells-over-face"}  # NSCA, from memory


def test_traits_are_the_known_hazards() -> None:
    assert LIBRARY.traits.keys() == PUBLISHED | OF_OUR_OWN | SPOTTED_BELLS
    assert all(LIBRARY.traits[slug].source == "from memory" for slug in OF_OUR_OWN)


@pytest.mark.parametrize(
    ("name", "kit", "slugs"),
    [
        ("Bench press", (), {"bar-over-face"}),  # NSCA: spotter where a bar passes over the face
        ("Dumbbell bench press", (), set()),
        ("Back squat", (), {"bar-on-back"}),  # NSCA: spotter where a bar lies on the back
        ("Power clean", (), {"power-lift", "hinge-load"}),  # NSCA: power exercises are not spotted
        ("Overhead press", (), {"overhead-load"}),
        ("Dumbbell shoulder press", (), set()),
        ("Dip", (), {"end-shoulder-extension"}),  # McKenzie et al. 2022
        ("Kettlebell swing", (), {"ballistic-swing"}),
        ("Band face pull", (), {"band-anchor"}),
        ("Cable face pull", (), set()),
        ("Face pull", (), set()),
        ("Face pull", ("band", "bench"), {"band-anchor"}),
        ("Box jump", (), {"plyo-landing"}),
        ("Sit-to-stand", (), {"chair-tip", "rising-dizzy"}),
        ("Tandem stand", (), {"chair-tip", "balance"}),
        ("Single-leg Romanian deadlift", (), {"hinge-load"}),
        ("Plank", (), set()),
        ("Leg extension", (), set()),
        # From memory: what these add to the plain form.
        ("Kipping pull-up", (), {"swinging-hang"}),
        ("GHD sit-up", (), {"high-rep-novel"}),
        ("Headstand", (), {"weight-on-neck", "head-down"}),
        ("Plough pose", (), {"weight-on-neck", "head-down"}),
        ("Chair dip", (), {"end-shoulder-extension", "chair-tip"}),
        ("Double kettlebell swing", (), {"ballistic-swing"}),
        ("Back extension machine", (), {"hinge-load"}),
        ("Sun salutation", (), {"head-down"}),
        ("Pelvic floor contraction", (), set()),
    ],
)
def test_which_cautions_a_movement_must_carry(name: str, kit: tuple[str, ...], slugs: set[str]) -> None:
    match = LIBRARY.find(name)
    assert match is not None
    assert {trait.slug for trait in LIBRARY.required(match, kit)} == slugs


def test_chair_exercises_are_honest_about_balance_and_the_chair() -> None:
    for entry in LIBRARY.entries.values():
        if entry.family == "chair":
            assert {"chair-tip", "balance"} & set(entry.traits), entry.name
            standing = "holding" in entry.name or entry.pattern == "balance"
            assert not standing or "balance" in entry.traits, entry.name
