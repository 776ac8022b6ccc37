"""Drawings, charts and paper of the pot through time say no word that was not offered for translation."""

from xml.etree import ElementTree as ET

from tests.drawing.pots import POTS, drying, four
from tests.drawing.test_season_calendar import days
from tests.sheets.pages import text_of
from tests.sheets.test_door_sheet import BOG, FERNS, SHEET
from tests.wording.marked import Data, texts_of_tables, unmarked

from friable.drawing.dry_down import air_spec, dry_down_table, mass_spec, water_and_air_spec
from friable.drawing.four_moments import four_moments_svg
from friable.drawing.season_calendar import season_calendar
from friable.sheets.door_sheet import door_sheet_pdf

TYPED = {"just watered", "drained", "half used", "water now", "a pot", "lava 8-16 mm", "bark", "(2)"}


def strangers(texts, *data):
    found = [piece for text in texts for piece in unmarked(text).replace("\x00", "|").split("|")]
    return Data({*TYPED, *data}).strangers(found)


def test_four_moments(marking):
    pot = POTS["layered"]
    root = ET.fromstring(  # noqa: S314 - our own drawing
        four_moments_svg(pot, four(pot), title="a pot", layer_name="lava 8-16 mm", width=1400)
    )
    texts = ["".join(e.itertext()) for e in root if e.tag.rpartition("}")[2] in ("text", "title", "desc")]
    assert len(texts) > 30
    assert strangers(["\x00".join(texts)], pot.describe()) == []  # sentences run over several lines


def test_dry_downs(marking):
    specs = [mass_spec([drying(), drying()]), mass_spec([drying()]), air_spec([drying()])]
    specs.append(water_and_air_spec(drying()))
    texts = [spec["description"] for spec in specs]
    for spec in specs:
        for layer in spec["layer"]:
            values = layer.get("data", {}).get("values", [])
            texts += [row["words"] for row in values if len(row.get("words", "")) > 1]
            texts += (
                [layer["encoding"]["y"]["title"]] if "title" in layer.get("encoding", {}).get("y", {}) else []
            )
    table = dry_down_table(drying())
    assert strangers([*texts, *table.headings, *(cell for row in table.rows for cell in row)], "A", "B") == []


def test_calendar(marking):
    calendar = season_calendar(days(count=60, wet=0.2, dry=0.2), today=days()[3].date)
    texts = [
        calendar.counted,
        *(w for pair in calendar.weekdays for w in pair),
        *(w for _, w in calendar.key),
    ]
    for month in calendar.months:
        texts += [month.name, month.summed]
        for cell in (c for week in month.weeks for c in week.cells if c):
            texts += [cell.figure, cell.range, cell.spoken, *(m.words for m in cell.marks)]
    assert strangers(texts) == []


def test_door_sheet(marking, tmp_path):
    text = text_of(door_sheet_pdf(SHEET), tmp_path)
    typed = {SHEET.title, SHEET.house, SHEET.how_to_water, SHEET.made_from, *SHEET.looks_dry, *SHEET.ask}
    typed |= {one.note for one in SHEET.days} | {BOG.how_to_tell, "Seed trays", "house 1", "everything"}
    typed |= {x for pots in (FERNS, BOG) for x in (pots.group, pots.where, pots.mix, pots.container) if x}
    typed |= {"wet until Monday"}
    assert strangers([text], *typed, *texts_of_tables()) == []
