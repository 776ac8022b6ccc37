"""Quillmoor Glasshouses: an invented place, loaded once, sound, in every state."""

import csv
import io
import re
import time
from pathlib import Path

import pytest
from django.core.management import call_command

import friable
from friable.demo.quillmoor import is_loaded, load
from friable.planning.forecast import forecast
from friable.records import amounts, plain, queries
from friable.records.models import (
    Batch,
    Bucket,
    ClimateFile,
    Container,
    GroupWindow,
    Material,
    MaterialPrice,
    MaterialStock,
    Measurement,
    Mix,
    PottingJob,
    Season,
)
from friable.records.weather import climate
from friable.reference.plant_water import find_plant

SECONDS_TO_LOAD = 5.0  # of this process; other work on the machine does not count

pytestmark = pytest.mark.django_db


@pytest.fixture
def quillmoor():
    """The demo, loaded."""
    load()


def test_it_loads_quickly_and_is_sound():
    start = time.process_time()

    assert load() is True

    assert time.process_time() - start < SECONDS_TO_LOAD
    assert queries.problems() == []


def test_the_second_time_it_does_nothing(quillmoor):
    mix = Mix.objects.get(name="Quillmoor potting-on")
    mix.name = "renamed since"
    mix.save()
    before = (Material.objects.count(), Batch.objects.count(), Batch.history.count())

    assert is_loaded()
    assert load() is False
    assert (Material.objects.count(), Batch.objects.count(), Batch.history.count()) == before


def test_the_command_says_what_it_did(capsys):
    call_command("load_quillmoor")
    call_command("load_quillmoor")

    assert capsys.readouterr().out == "Quillmoor Glasshouses is loaded.\nQuillmoor was loaded before.\n"


def test_there_is_something_of_everything(quillmoor):
    assert Material.objects.filter(in_use=True).count() >= 20
    assert Mix.objects.count() >= 10
    assert Container.objects.count() >= 12
    assert Bucket.objects.count() == 2
    assert set(PottingJob.objects.values_list("state", flat=True)) == {
        "draft", "planned", "mixed", "potted", "dropped",
    }  # fmt: skip
    assert set(Batch.objects.values_list("state", flat=True)) == {"planned", "made", "undone"}
    assert Batch.objects.count() >= 8
    assert set(Measurement.objects.values_list("kind", flat=True)) == {
        "pack yield", "mix volume", "pot volume", "dry bulk density", "pot test",
    }  # fmt: skip


def test_a_year_of_weather_is_stated_by_curves_and_can_be_read(quillmoor):
    stored = ClimateFile.objects.get()
    weather = climate(stored)

    assert (weather.hours, weather.starts_on, weather.under_glass) == (stored.hours, stored.starts_on, True)
    # Of the curves: 16 - 6 - 1.5 - 2.5 = 6, held at 7.5 by the heating; 16 + 6 + 5.5 + 2.5 = 30 at the most.
    assert 7.5 <= weather.temperature_c.min() < 10
    assert 25 < weather.temperature_c.max() <= 30
    assert weather.reference_mm.sum() > 0


def test_a_season_is_wanted_and_not_begun(quillmoor):
    season = Season.objects.get()
    rows = list(csv.DictReader(io.StringIO(season.collection)))

    assert season.state == "waiting"
    assert sum(int(row["count"]) for row in rows) == season.pots
    assert {row["mix"] for row in rows} <= set(Mix.objects.values_list("name", flat=True))
    assert {row["container"] for row in rows} <= set(Container.objects.values_list("name", flat=True))
    assert {find_plant(row["plant"]).name for row in rows}


def test_most_of_the_store_is_counted_and_priced_and_old_counts_are_kept(quillmoor):
    here = queries.at_hand(in_stock_only=True)

    assert len(here) >= 20
    assert all(one.cost_per_l is not None for one in here)
    assert queries.currency() == "£"
    assert MaterialStock.objects.count() == 2 * len(here)


def test_one_window_of_the_keeper_was_changed_and_its_old_value_kept(quillmoor):
    rows = queries.window_history("epiphyte-grown")

    assert [row.quantity for row in rows] == ["air_space", "air_space"]
    epiphytes = next(group for group in queries.groups() if group.key == "epiphyte-grown")
    assert (epiphytes.window("air_space").low, epiphytes.window("air_space").high) == (0.25, 0.4)


def test_one_batch_was_undone_and_corrected(quillmoor):
    wrong = Batch.objects.get(state="undone")

    assert wrong.undo_reason
    assert wrong.corrected_by.state == "made"


def test_every_complete_mix_can_be_forecast_in_a_pot_of_the_place(quillmoor):
    pot = plain.container(Container.objects.get(name="2 L pot"))

    for mix in queries.mixes_in_use():
        newest = mix.newest[0]
        if not newest.incomplete:
            answer = forecast(
                plain.resolve_parts(newest), pot, samples=0, pair_overlap_loss=plain.pair_overlap_loss(newest)
            )
            assert 0 < answer.air_space.value < answer.total_porosity.value < 1, mix.name


def test_every_planned_job_still_comes_to_its_batch(quillmoor):
    for job in queries.open_jobs():
        if job.state == "planned":
            batch = job.batches.get(state="planned")
            assert amounts.job_amounts(job).sum_of_parts_l == pytest.approx(batch.poured_l, rel=1e-9)


def test_everything_is_signed_with_initials(quillmoor):
    for model in (Material, Mix, Batch, PottingJob, Measurement, MaterialStock, MaterialPrice, GroupWindow):
        assert all(re.fullmatch("[A-Z]{2}", row.changed_by) for row in model.history.all())


def test_invented_data_stays_in_the_demo():
    source = Path(friable.__file__).parent
    elsewhere = [
        str(file.relative_to(source))
        for file in source.rglob("*.py")
        if "demo" not in file.parts and "Hagg Quarry" in file.read_text(encoding="utf-8")
    ]

    assert elsewhere == []
