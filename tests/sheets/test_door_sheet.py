"""The door sheet tells a stranger to the pots what to water, how much, and how to tell; large and black."""

from dataclasses import replace

import pytest

from friable.errors import BadQuantity, BadText
from friable.sheets.door_cautions import watering_cautions
from friable.sheets.door_sheet import DoorDay, DoorSheet, PotsToLeave, PotsToWater, door_sheet_pdf

from .pages import is_without_colour, page_sizes_mm, pictures_of, text_of, type_sizes_of, words_of

FERNS = PotsToWater(
    group="Ferns",
    where="shade bench",
    mix="open bark mix",
    container="round 17/12/13 cm",
    pots=12,
    pots_in_group=30,
    litres_each=0.56,
    lift_kg=1.4,
    full_kg=2.1,
)
BOG = PotsToWater(
    group="Bog trays",
    mix="peat and sand",
    container="tray 50x30x8 cm",
    pots=6,
    litres_each=5.2,
    how_to_tell="Fill until the water stands 2 cm deep.",
)
SHEET = DoorSheet(
    title="Weekend watering",
    house="Quillmoor Glasshouses",
    days=(
        DoorDay(
            day="2026-11-28",
            water=(FERNS, BOG),
            leave=(PotsToLeave(group="Seed trays", where="house 1", why="wet until Monday"),),
        ),
        DoorDay(day="2026-11-29", leave=(PotsToLeave(group="everything"),), note="Nobody is in the office."),
    ),
    how_to_water="Go by weight, not by the look of the top.",
    looks_dry=("Bark goes pale on the first day.",),
    ask=("Mara, 0555 0142",),
    made_from="Made on 26 November.",
    cautions=watering_cautions(),
)
FULL = replace(
    SHEET,
    days=tuple(
        DoorDay(day=f"2026-12-{day:02}", water=(FERNS, BOG, FERNS, BOG), leave=SHEET.days[0].leave)
        for day in range(24, 28)
    ),
)


@pytest.mark.parametrize(("paper", "size"), [("a4", (210, 297)), ("letter", (215.9, 279.4))])
def test_a_weekend_is_one_page_that_says_everything(paper, size, tmp_path):
    pdf = door_sheet_pdf(SHEET, paper)
    assert page_sizes_mm(pdf, tmp_path) == [pytest.approx(size, abs=0.1)]
    text = text_of(pdf, tmp_path)
    for said in (
        "Weekend watering",
        "Quillmoor Glasshouses",
        "28 to 29 November 2026",
        "Saturday 28 November 2026",
        "Sunday 29 November 2026",
        "Ferns, shade bench",
        "of 30",
        "open bark mix",
        "round 17/12/13 cm",
        "one 5 L can for 9 pots",
        "(0.56 L each)",
        "Lift: 1.4 kg or less wants water; 2.1 kg is full.",
        "one 5 L can each (5.2 L each)",
        "Fill until the water stands 2 cm deep.",
        "Do NOT water (wet until Monday): Seed trays, house 1",
        "Nothing wants water.",
        "Nobody is in the office.",
        "Go by weight, not by the look of the top.",
        "Looks dry but is not: Bark goes pale",
        "Ask: Mara, 0555 0142",
        "initials",
        "time done",
        "Take care",
        "Legionella",
        "Follow your local rules",
        "Made on 26 November.",
    ):
        assert said in text


def test_days_stand_in_their_order_with_their_pots_under_them(tmp_path):
    text = text_of(door_sheet_pdf(SHEET), tmp_path)
    places = [text.index(x) for x in ("Saturday 28", "Ferns", "Bog trays", "Seed trays", "Sunday 29")]
    assert places == sorted(places)


def test_there_is_room_to_sign_beside_each_group(tmp_path):
    # Initials and a time are written by hand: 15 mm and 20 mm across, 10 mm high at least (own judgement).
    words = words_of(door_sheet_pdf(SHEET), tmp_path)
    initials = next(w for w in words if w.text == "initials")
    done = next(w for w in words if w.text == "time")
    ferns, bog = (next(w for w in words if w.text == name) for name in ("Ferns,", "Bog"))
    assert done.left - initials.left >= 15
    assert 210 - 13 - done.left >= 20
    assert bog.top - ferns.top >= 10
    assert not [w for w in words if w.left > initials.left - 1 and ferns.top < w.top < bog.top]


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_type_is_14_points_or_more_and_a_long_holiday_runs_on_with_its_heading(paper, tmp_path):
    for sheet in (SHEET, FULL):
        pdf = door_sheet_pdf(sheet, paper)
        assert min(type_sizes_of(pdf, tmp_path)) >= 14
    pages = len(page_sizes_mm(pdf, tmp_path))
    assert pages >= 2
    text = text_of(pdf, tmp_path)
    assert text.count("Quillmoor Glasshouses, 24 to 27 December 2026") == pages
    assert f"page {pages} of {pages}" in text
    assert text.count("Ferns, shade bench") == 8


def test_the_sheet_prints_in_black(tmp_path):
    assert all(is_without_colour(p) for p in pictures_of(door_sheet_pdf(FULL), tmp_path))


def test_nothing_is_printed_beyond_the_margins(tmp_path):
    long = "a" * 80
    wordy = replace(FERNS, group=long, where=long, mix=long, container=long, how_to_tell=long, pots=99_998)
    sheet = replace(
        SHEET,
        title=long,
        house=long,
        days=(
            DoorDay(
                day="2026-11-28",
                water=(replace(wordy, pots_in_group=99_999),),
                leave=(PotsToLeave(group=long, where=long, why=long),),
            ),
        ),
        looks_dry=(long,),
        ask=(long,),
    )
    words = words_of(door_sheet_pdf(sheet), tmp_path)
    assert not [w for w in words if not (w.left >= 12 and w.right <= 198 and w.top >= 10 and w.bottom <= 290)]


def test_typed_text_is_printed_as_typed(tmp_path):
    odd = '#read("/etc/passwd") </text><script> {{ 1 }}'
    sheet = replace(
        SHEET, title=odd, days=(DoorDay(day="2026-11-28", water=(replace(FERNS, group=odd, note=odd),)),)
    )
    text = text_of(door_sheet_pdf(sheet), tmp_path)
    assert text.count("{{ 1 }}") == 3
    assert '#read("/etc/passwd")' in text
    assert "root:" not in text


@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        ("2026-11-28", "2026-11-28", "28 November 2026"),
        ("2026-11-28", "2026-11-30", "28 to 30 November 2026"),
        ("2026-11-28", "2026-12-01", "28 November to 1 December 2026"),
        ("2026-12-31", "2027-01-01", "31 December 2026 to 1 January 2027"),
    ],
)
def test_dates_are_told_once(first, last, said, tmp_path):
    days = tuple(DoorDay(day=x) for x in dict.fromkeys((first, last)))
    text = text_of(door_sheet_pdf(replace(SHEET, days=days, house="")), tmp_path)
    assert f"Weekend watering, {said} page 1" in text


def test_without_a_can_litres_are_told_alone(tmp_path):
    text = text_of(door_sheet_pdf(replace(SHEET, can_l=None)), tmp_path)
    assert "0.56 L each" in text
    assert "can for" not in text


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"pots": 0}, "pots to water is 0"),
        ({"pots_in_group": 5}, "pots in the group is 5"),
        ({"litres_each": 0.0}, "water for a pot is 0"),
        ({"litres_each": float("nan")}, "not a number"),
        ({"lift_kg": -1.0}, "weight at which to water is -1"),
        ({"full_kg": 1.2}, "weight when full is 1.2"),
    ],
)
def test_impossible_amounts_are_refused(change, said):
    with pytest.raises(BadQuantity, match=said):
        door_sheet_pdf(replace(SHEET, days=(DoorDay(day="2026-11-28", water=(replace(FERNS, **change),)),)))


def test_days_out_of_order_no_days_and_unknown_paper_are_refused():
    with pytest.raises(BadText, match="does not come after"):
        door_sheet_pdf(replace(SHEET, days=SHEET.days[::-1]))
    with pytest.raises(BadText, match="is not a date"):
        door_sheet_pdf(replace(SHEET, days=(DoorDay(day="28 November"),)))
    with pytest.raises(BadText, match="is empty"):
        door_sheet_pdf(replace(SHEET, days=(DoorDay(day=""),)))
    with pytest.raises(BadQuantity, match="from 1 to 31"):
        door_sheet_pdf(replace(SHEET, days=()))
    with pytest.raises(BadText, match="a4 or letter"):
        door_sheet_pdf(SHEET, "a3")


def test_cautions_of_watering_name_hoses_lifting_and_their_sources():
    texts = [c.text for c in watering_cautions()]
    assert any("hose" in t and "Legionella" in t and "mist" in t for t in texts)
    assert any("23 kg" in t for t in texts)
    assert all(c.source for c in watering_cautions())


def test_where_a_day_runs_on_its_name_stands_again_and_cautions_are_on_the_first_page(tmp_path):
    days = (DoorDay(day="2026-12-24", water=(FERNS,) * 14),)
    words = words_of(door_sheet_pdf(replace(SHEET, days=days)), tmp_path)
    pages = {w.page for w in words}
    assert len(pages) >= 2
    assert {w.page for w in words if w.text == "Thursday"} == pages
    assert {w.page for w in words if w.text == "Legionella."} == {1}


def test_pots_left_for_one_reason_stand_together(tmp_path):
    leave = (
        PotsToLeave(group="cacti", where="house 4", why="resting"),
        PotsToLeave(group="ferns", why="still wet"),
        PotsToLeave(group="aloes", why="resting"),
        PotsToLeave(group="lilies"),
    )
    text = text_of(door_sheet_pdf(replace(SHEET, days=(DoorDay(day="2026-11-28", leave=leave),))), tmp_path)
    assert "Do NOT water (resting): cacti, house 4; aloes" in text
    assert "Do NOT water (still wet): ferns" in text
    assert "Do NOT water: lilies" in text
