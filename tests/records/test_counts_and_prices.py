"""Counts and prices: rows are only ever added, the newest one counts."""

from datetime import date, timedelta

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone
from tests import cast

from friable.errors import BadQuantity, Refused
from friable.records import actions, queries
from friable.records.models import Material, MaterialPrice, MaterialStock
from friable.reference.material_flags import material_flags
from friable.reference.materials import all_materials, find_material

pytestmark = pytest.mark.django_db

EARLIER = date(2026, 3, 1)


def at_hand(name):
    """What is at hand of a material."""
    return next(one for one in queries.at_hand() if one.material.title == name)


def refused(row):
    """Say whether the database refuses a row."""
    try:
        with transaction.atomic():
            row.save()
    except IntegrityError:
        return True
    return False


def test_the_newest_count_is_what_there_is_and_the_old_ones_stay():
    bark = cast.bark()
    actions.set_stock(bark, 400.0, by=cast.KEEPER, counted_on=EARLIER, typed="400 L")
    actions.set_stock(bark, 120.0, by=cast.HELPER, note="after the saplings")
    actions.set_stock(bark, 125.0, by=cast.HELPER, note="miscounted")

    assert at_hand(bark.name).stock_l == 125.0
    assert [(row.amount_l, row.counted_by) for row in queries.counts_of(bark)] == [
        (125.0, "JO"),
        (120.0, "JO"),
        (400.0, "MK"),
    ]
    assert queries.newest_count(bark).counted_on == timezone.localdate()


def test_nothing_left_is_not_the_same_as_not_counted():
    bark = cast.bark()
    assert at_hand(bark.name).stock_l is None
    assert not queries.anything_counted()

    actions.set_stock(bark, 0.0, by=cast.KEEPER)

    assert at_hand(bark.name).stock_l == 0.0
    assert queries.anything_counted()
    assert queries.at_hand(in_stock_only=True) == ()


def test_the_newest_price_holds_and_may_become_unknown():
    bark = cast.bark()
    actions.set_price(bark, 0.25, by=cast.BUYER, currency="£", holds_from=EARLIER, typed="£12.50 for 50 L")
    assert (at_hand(bark.name).cost_per_l, queries.currency()) == (0.25, "£")

    actions.set_price(bark, 0.30, by=cast.BUYER)
    assert (at_hand(bark.name).cost_per_l, queries.currency()) == (0.30, "")
    actions.set_price(bark, None, by=cast.BUYER)

    assert at_hand(bark.name).cost_per_l is None
    assert [row.cost_per_l for row in queries.prices_of(bark)] == [None, 0.30, 0.25]


def test_prices_stand_in_one_currency():
    bark, grit = cast.bark(), actions.use_material("crushed granite grit", by=cast.KEEPER)
    actions.set_price(bark, 0.25, by=cast.BUYER, currency="£")

    with pytest.raises(Refused, match=r"Prices would stand in £ and €, and are compared"):
        actions.set_price(grit, 0.30, by=cast.BUYER, currency="€")
    assert MaterialPrice.objects.count() == 1

    # All of them at once may change.
    lines = [actions.StoreLine(material=row, cost_per_l=0.3, currency="€") for row in (bark, grit)]
    assert actions.count_store(lines, by=cast.BUYER) == 2
    assert queries.currency() == "€"


def test_a_list_is_written_down_whole_or_not_at_all():
    bark = cast.bark()
    good = actions.StoreLine(material=bark, amount_l=100.0, amount_typed="100")
    first_use = actions.StoreLine(material="GRAV", amount_l=30.0, cost_per_l=0.28, currency="£")
    bad = actions.StoreLine(material="PUM_M", amount_l=-1.0)

    with pytest.raises(BadQuantity, match="amount is -1 L") as problem:
        actions.count_store([good, first_use, bad], by=cast.HELPER)
    assert problem.value.line == bad
    assert (MaterialStock.objects.count(), Material.objects.count()) == (0, 1)

    assert actions.count_store([good, first_use], by=cast.HELPER, counted_on=EARLIER) == 2
    assert set(MaterialStock.objects.values_list("counted_on", "counted_by")) == {(EARLIER, "JO")}
    assert {one.material.key: one.stock_l for one in queries.at_hand(in_stock_only=True)} == {
        "BKP_M": 100.0,
        "GRAV": 30.0,
    }


def test_days_to_come_and_days_before_the_newest_are_refused():
    bark, tomorrow = cast.bark(), timezone.localdate() + timedelta(days=1)
    for write in (
        lambda day: actions.set_stock(bark, 1.0, by=cast.KEEPER, counted_on=day),
        lambda day: actions.set_price(bark, 1.0, by=cast.KEEPER, holds_from=day),
    ):
        write(date(2026, 3, 2))
        with pytest.raises(Refused, match="is still to come; give today or an earlier day"):
            write(tomorrow)
        with pytest.raises(Refused, match=r"2026-03-02 .*already, later than 2026-03-01; give that day"):
            write(EARLIER)
        write(date(2026, 3, 2))


@pytest.mark.parametrize("amount", [-1.0, float("nan"), float("inf"), 1e9])
def test_an_amount_or_a_price_that_cannot_be_is_refused(amount):
    bark = cast.bark()
    with pytest.raises(BadQuantity):
        actions.set_stock(bark, amount, by=cast.KEEPER)
    with pytest.raises(BadQuantity):
        actions.set_price(bark, amount, by=cast.KEEPER)
    assert not MaterialStock.objects.exists()
    assert not MaterialPrice.objects.exists()


def test_what_was_written_down_cannot_be_changed_or_taken_away():
    bark = cast.bark()
    for row in (
        actions.set_stock(bark, 10.0, by=cast.KEEPER),
        actions.set_price(bark, 0.2, by=cast.KEEPER),
    ):
        row.note = "otherwise"
        with pytest.raises(Refused, match="stays as it is; write a new one down"):
            row.save()
        with pytest.raises(Refused, match="stays; write a new one down"):
            row.delete()
        assert type(row).objects.get().note == ""


def test_the_database_refuses_an_impossible_count_or_price():
    bark, today = cast.bark(), date(2026, 3, 1)
    count = {"material": bark, "counted_on": today, "counted_by": "MK", "amount_l": 1.0}
    price = {"material": bark, "holds_from": today, "entered_by": "MK", "cost_per_l": 1.0}

    assert refused(MaterialStock(**{**count, "amount_l": -1.0}))
    assert refused(MaterialStock(**{**count, "counted_by": ""}))
    assert refused(MaterialPrice(**{**price, "cost_per_l": -0.01}))
    assert refused(MaterialPrice(**{**price, "entered_by": ""}))
    assert not refused(MaterialStock(**count))
    assert not refused(MaterialPrice(**price))


def test_at_hand_holds_everything_that_can_be_forecast(django_assert_num_queries):
    bark = cast.bark()
    ours = actions.add_material("Moor End peat", by=cast.KEEPER, table_key="PEAT_M")
    actions.add_material("bench sweepings", by=cast.KEEPER)
    retired = actions.use_material("crushed granite grit", by=cast.KEEPER)
    actions.retire(retired, by=cast.KEEPER)
    actions.measure_dry_bulk_density(bark, by=cast.RESEARCHER, dry_bulk_density_g_cm3=0.2)
    actions.set_stock(ours, 50.0, by=cast.KEEPER)

    with django_assert_num_queries(4):
        found = queries.at_hand()

    assert found[0].material.title == "Moor End peat"
    keys = [one.material.key for one in found[1:]]
    assert keys == [known.key for known in all_materials() if known.key != retired.table_key]
    assert at_hand(bark.name).material.dry_bulk_density_g_cm3.value == 0.2
    assert [one.material.title for one in queries.at_hand(in_stock_only=True)] == ["Moor End peat"]


def test_our_own_material_takes_the_flags_of_the_row_it_rests_on():
    actions.add_material("Moor End brown", by=cast.KEEPER, table_key="PEAT_M")
    actions.add_material("old peat bale", by=cast.KEEPER, table_key="BKP_M")

    brown, bale = at_hand("Moor End brown").flags, at_hand("old peat bale").flags
    of_peat = material_flags(find_material("PEAT_M"))

    assert (brown.peat, brown.hygiene, brown.years_low) == (True, of_peat.hygiene, of_peat.years_low)
    assert bale.peat is True  # by its name, though it rests on bark


def test_an_unsound_store_is_told():
    bark, grit = cast.bark(), actions.use_material("crushed granite grit", by=cast.KEEPER)
    actions.set_stock(bark, 10.0, by=cast.KEEPER)
    actions.set_price(bark, 0.2, by=cast.KEEPER, currency="£")
    assert queries.problems() == []

    tomorrow = timezone.localdate() + timedelta(days=1)
    MaterialStock(material=grit, amount_l=1.0, counted_on=tomorrow, counted_by="MK").save()
    MaterialPrice(material=grit, cost_per_l=1.0, currency="€", holds_from=EARLIER, entered_by="MK").save()
    MaterialStock.history.filter(material=bark).update(history_type="~")

    told = queries.problems()
    assert len(told) == 3
    assert any(f"The count of {grit.name} is of a day after it was entered." in one for one in told)
    assert any("Prices stand in £ and €" in one for one in told)
    assert any("was changed after it was written down" in one for one in told)
