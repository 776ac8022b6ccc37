"""Climates, weighings and seasons as they are kept."""

from datetime import date, timedelta

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone
from tests import cast

from friable.errors import BadQuantity, BadText, Refused
from friable.records import actions, queries
from friable.records.models import ClimateColumn, ClimateFile, PotWeighing, Season
from friable.science.estimate import Estimate

pytestmark = pytest.mark.django_db

TEXT = "when,t\n2026-01-01 00:00,5\n"


def climate(name="north house", **changes):
    """A stored climate of two days."""
    values = {
        "kind": "logger", "text": TEXT, "starts_on": date(2026, 1, 1), "hours": 48, "by": cast.KEEPER,
        "columns": {"time": "when", "temperature": "t"}, "under_glass": True, "light_transmission": 0.6,
    }  # fmt: skip
    return actions.add_climate(name, **{**values, **changes})


def weighed(**changes):
    """A weighing of the potting-on mix in a 2 L pot."""
    now = timezone.now()
    values = {
        "by": cast.HELPER, "mix_version": changes.pop("mix_version", None) or cast.potting_on(),
        "headspace_cm": 1.5, "plant": "shrub", "climate_name": "temperate glasshouse summer",
        "first_kg": 1.42, "first_at": now - timedelta(hours=49), "second_kg": 1.31,
        "second_at": now - timedelta(hours=1), "reference_mm": 7.2,
        "factor": Estimate(0.67, 0.5, 0.9, "measured", "weighed twice"),
    }  # fmt: skip
    pot = changes.pop("container", None) or cast.two_litre_pot()
    return actions.weigh_twice(pot, **{**values, **changes})


def season(**changes):
    """A season that was asked for."""
    values = {
        "by": cast.KEEPER, "collection": "group,mix\n", "built_in_climate": "temperate glasshouse",
        "weathers": 3, "draws": 16, "pots": 60,
    }  # fmt: skip
    return actions.ask_season("the glasshouses", **{**values, **changes})


def refused(row, **changes):
    """Say whether the database refuses a row that was kept, once changed."""
    kept = type(row).objects.get(pk=row.pk)
    for column, value in changes.items():
        setattr(kept, column, value)
    try:
        with transaction.atomic():
            kept.save()
    except IntegrityError:
        return True
    return False


def test_a_climate_keeps_its_text_its_columns_and_who_added_it():
    kept = climate()

    again = ClimateFile.objects.get()
    assert (again.text, again.days, again.added_by) == (TEXT, 2, "MK")
    assert {row.holds: row.answer for row in again.columns.all()} == {"time": "when", "temperature": "t"}
    assert {row.changed_by for row in ClimateColumn.history.all()} == {"MK"}
    assert not hasattr(kept.history.get(), "text")  # a long text is kept once
    assert queries.climate_named("NORTH House") == kept


def test_a_list_of_climates_does_not_read_their_texts(django_assert_num_queries):
    climate()
    with django_assert_num_queries(1):
        assert [row.name for row in queries.climates_in_use()] == ["north house"]


def test_what_is_said_of_a_climate_changes_and_its_text_does_not():
    kept = climate()
    actions.change_climate(kept, by=cast.HELPER, light_transmission=0.5, in_use=False)

    assert list(queries.climates_in_use()) == []
    assert queries.climate_named("north house").light_transmission == 0.5
    with pytest.raises(Refused, match="text cannot be changed here"):
        actions.change_climate(kept, by=cast.HELPER, text="other")


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"light_transmission": 1.2}, "share of light that comes through is 1.2"),
        ({"latitude_deg": 90.0}, "latitude is 90 °"),
        ({"latitude_deg": float("nan")}, "latitude is not a number"),
        ({"hours": 23}, "hours it covers is 23 h"),
        ({"elevation_m": 9000.0}, "elevation is 9000 m"),
    ],
)
def test_a_climate_out_of_bounds_is_refused(changes, sentence):
    with pytest.raises(BadQuantity, match=sentence):
        climate(**changes)


def test_a_picture_and_an_endless_file_are_refused():
    with pytest.raises(BadText, match=r"has a character that is no text \(U\+0000, character 4\)"):
        climate(text="PNG\x00")
    with pytest.raises(Refused, match="has 4,000,001 characters; it may have 4,000,000"):
        climate(text="x" * 4_000_001)
    with pytest.raises(Refused, match="Another climate has this name"):
        climate(climate().name.upper())


def test_the_database_refuses_an_impossible_climate():
    kept = climate()

    for changes in (
        {"name": ""}, {"text": ""}, {"kind": "guess"}, {"added_by": ""}, {"light_transmission": -0.1},
        {"hours": 0}, {"heated_to_c": 10},
    ):  # fmt: skip
        assert refused(kept, **changes), changes
    assert not refused(kept, kind="EPW", heated_to_c=10)


def test_two_weighings_keep_the_factor_with_its_range():
    kept = weighed()

    assert (kept.factor, kept.factor_low, kept.factor_high, kept.done_by) == (0.67, 0.5, 0.9, "JO")
    of = {"container": kept.container, "mix_version": kept.mix_version}
    assert queries.newest_weighing(plant="shrub", **of) == kept
    assert queries.newest_weighing(plant="fern", **of) is None


def test_a_mix_that_was_weighed_stays_as_it_is():
    version = cast.potting_on()
    weighed(mix_version=version)

    with pytest.raises(Refused, match="a weighing of"):
        actions.change_mix_version(version, cast.recipe("potting-on bark", (1, "coir pith")), by=cast.KEEPER)


def test_a_withdrawn_weighing_stays_and_counts_no_more():
    kept = weighed()
    actions.withdraw_weighing(kept, by=cast.RESEARCHER, reason="watered between")

    assert list(queries.weighings_standing()) == []
    assert PotWeighing.objects.get().withdrawn_reason == "watered between"
    with pytest.raises(Refused, match="withdrawn already"):
        actions.withdraw_weighing(kept, by=cast.RESEARCHER, reason="again")


def test_what_two_weighings_cannot_be_is_refused():
    version, pot = cast.potting_on(), cast.two_litre_pot()
    now = timezone.now()
    for changes, sentence in (
        ({"second_kg": 1.5}, "The second weighing must be lighter"),
        ({"second_at": now - timedelta(days=3)}, "The second weighing must be later"),
        ({"second_at": now + timedelta(days=1)}, "still to come"),
        ({"recipe_text": "2 coir pith"}, "of a mix or of a typed recipe"),
        ({"first_kg": 0.0}, "first weighing is 0 kg"),
    ):
        with pytest.raises((Refused, BadQuantity), match=sentence):
            weighed(mix_version=version, container=pot, **changes)
    assert not PotWeighing.objects.exists()


def test_a_season_goes_from_waiting_to_done_and_no_further():
    asked = season()
    assert (asked.state, asked.climate_name, asked.asked_by) == ("waiting", "temperate glasshouse", "MK")

    actions.begin_season(asked, by=cast.KEEPER)
    actions.stop_season(asked, by=cast.HELPER)
    actions.begin_season(asked, by=cast.HELPER)
    actions.fail_season(asked, by=cast.HELPER, problem="Line 3: no mix is called “moon dust”.")
    assert asked.problem.startswith("Line 3")
    actions.begin_season(asked, by=cast.HELPER)
    actions.end_season(asked, by=cast.HELPER)

    assert (asked.state, asked.problem) == ("done", "")
    assert asked.ended_at is not None
    with pytest.raises(Refused, match="is done; that cannot be done any more"):
        actions.stop_season(asked, by=cast.KEEPER)
    states = [row.state for row in reversed(asked.history.all())]
    assert states == ["waiting", "running", "stopped", "running", "failed", "running", "done"]


def test_every_season_has_a_folder_of_its_own():
    assert season().folder != season().folder
    assert [row.title for row in queries.seasons_asked()] == ["the glasshouses", "the glasshouses"]


def test_the_database_refuses_an_impossible_season():
    kept = season()

    for changes in (
        {"title": ""}, {"collection": ""}, {"asked_by": ""}, {"folder": ""}, {"folder": season().folder},
        {"state": "asleep"}, {"state": "failed"}, {"problem": "x"}, {"state": "done"},
        {"built_in_climate": ""}, {"climate": climate()}, {"weathers": 0}, {"draws": 0}, {"draws": 300},
    ):  # fmt: skip
        assert refused(kept, **changes), changes
    assert Season.objects.get(pk=kept.pk).state == "waiting"
