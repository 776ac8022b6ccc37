"""Windows that the keeper sets: over those of the table, old values kept with their day."""

from datetime import date, timedelta

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone
from tests import cast

from friable.errors import BadQuantity, BadText, Refused, UnknownName
from friable.records import actions, queries
from friable.records.models import GroupWindow
from friable.records.models.windows import SHARES
from friable.reference import windows as reference
from friable.reference.plant_groups import plant_groups

pytestmark = pytest.mark.django_db

EARLIER = date(2026, 3, 1)
GROUP = "epiphyte-grown"


def window(quantity="air_space", group=GROUP):
    """The window that holds here."""
    return next(known for known in queries.groups() if known.key == group).window(quantity)


def of_table(quantity="air_space", group=GROUP):
    """The window of the table."""
    return next(known for known in plant_groups() if known.key == group).window(quantity)


def test_without_a_keeper_the_table_holds():
    assert queries.groups() == plant_groups()


def test_a_window_lies_over_that_of_the_table_and_over_the_one_before():
    actions.set_window(GROUP, "air_space", by=cast.KEEPER, low=0.3, set_on=EARLIER, note="brown roots")
    actions.set_window(GROUP, "air_space", by=cast.KEEPER, low=0.25, high=0.4)

    held = window()
    assert (held.low, held.high, held.how_known, held.source) == (0.25, 0.4, "keeper", "keeper")
    assert held.set_on == timezone.localdate()
    assert [(row.low, row.set_on, row.set_by) for row in queries.window_history(GROUP)] == [
        (0.25, timezone.localdate(), "MK"),
        (0.3, EARLIER, "MK"),
    ]
    others = [known for known in queries.groups() if known.key != GROUP]
    assert others == [known for known in plant_groups() if known.key != GROUP]


def test_a_group_without_a_figure_is_given_one():
    assert of_table("air_space", "bromeliad-grown") is None

    actions.set_window("bromeliad-grown", "air_space", by=cast.KEEPER, low=0.15)

    assert window("air_space", "bromeliad-grown").low == 0.15


def test_nothing_may_be_asked_and_ours_may_be_taken_away():
    with pytest.raises(Refused, match="No window of our own is set here"):
        actions.drop_window(GROUP, "air_space", by=cast.KEEPER)
    actions.ask_nothing(GROUP, "air_space", by=cast.KEEPER)
    assert window() is None

    actions.drop_window(GROUP, "air_space", by=cast.KEEPER)

    assert window() == of_table()
    assert GroupWindow.objects.count() == 2
    with pytest.raises(Refused, match="nothing to take away"):
        actions.drop_window(GROUP, "air_space", by=cast.KEEPER)


def test_a_flag_allows_words():
    actions.set_window("fern-grown", "hygiene", by=cast.KEEPER, allowed=("clean", "usually clean"))

    assert window("hygiene", "fern-grown").allowed == ("clean", "usually clean")
    for allowed, sentence in ((("maybe",), "is not a word of this flag"), ((), "takes words")):
        with pytest.raises(BadText, match=sentence):
            actions.set_window("fern-grown", "hygiene", by=cast.KEEPER, allowed=allowed)


@pytest.mark.parametrize(
    ("group", "quantity", "ends", "problem", "sentence"),
    [
        ("moon-grown", "air_space", {"low": 0.2}, UnknownName, "No plant group is called “moon-grown”"),
        (GROUP, "colour", {"low": 0.2}, BadText, "is none that a window is set for"),
        (GROUP, "air_space", {}, BadText, "has no end"),
        (GROUP, "air_space", {"low": 0.4, "high": 0.2}, BadQuantity, "must be at most the high end"),
        (GROUP, "air_space", {"high": 1.2}, BadQuantity, "from 0 to 1"),
        (GROUP, "air_space", {"low": float("nan")}, BadQuantity, "is not a number"),
        (GROUP, "years", {"low": -1}, BadQuantity, "0 or more"),
        (GROUP, "air_space", {"allowed": ("yes",)}, BadText, "has no end"),
        (GROUP, "lime", {"low": 0.2}, BadText, "takes words that are allowed"),
    ],
)
def test_what_cannot_be_asked_is_refused(group, quantity, ends, problem, sentence):
    with pytest.raises(problem, match=sentence):
        actions.set_window(group, quantity, by=cast.KEEPER, **ends)
    assert not GroupWindow.objects.exists()


def test_days_to_come_and_days_before_the_newest_are_refused():
    actions.set_window(GROUP, "air_space", by=cast.KEEPER, low=0.3, set_on=date(2026, 3, 2))
    with pytest.raises(Refused, match="still to come"):
        actions.set_window(
            GROUP, "air_space", by=cast.KEEPER, low=0.2, set_on=timezone.localdate() + timedelta(days=1)
        )
    with pytest.raises(Refused, match="set on 2026-03-02 already, later than 2026-03-01"):
        actions.set_window(GROUP, "air_space", by=cast.KEEPER, low=0.2, set_on=EARLIER)
    actions.set_window(GROUP, "years", by=cast.KEEPER, low=2, set_on=EARLIER)


def test_what_was_set_cannot_be_changed():
    row = actions.set_window(GROUP, "air_space", by=cast.KEEPER, low=0.3)
    row.low = 0.1
    with pytest.raises(Refused, match="stays as it is"):
        row.save()
    with pytest.raises(Refused, match="stays"):
        row.delete()


def test_the_database_refuses_an_impossible_window():
    good = {"group": GROUP, "quantity": "air_space", "set_on": EARLIER, "set_by": "MK", "low": 0.2}
    for changes in (
        {"group": ""}, {"quantity": ""}, {"set_by": ""}, {"low": -0.1}, {"low": 1.1}, {"high": 0.1},
        {"high": 1.5}, {"allowed": "yes"}, {"removed": True},
    ):  # fmt: skip
        with pytest.raises(IntegrityError), transaction.atomic():
            GroupWindow(**{**good, **changes}).save()
    GroupWindow(**good).save()


def test_the_database_knows_which_quantities_are_shares():
    assert set(SHARES) == set(reference.SHARES)


def test_an_unsound_window_is_told():
    actions.set_window(GROUP, "air_space", by=cast.KEEPER, low=0.3)
    actions.ask_nothing(GROUP, "years", by=cast.KEEPER)
    assert queries.problems() == []
    GroupWindow(group="moon-grown", quantity="air_space", low=0.2, set_on=EARLIER, set_by="MK").save()
    GroupWindow(group=GROUP, quantity="lime", allowed="maybe", set_on=EARLIER, set_by="MK").save()

    told = queries.problems()
    assert len(told) == 2
    assert "“moon-grown”, which the table of plant groups does not hold" in told[0]
    assert "is not a word of this flag" in told[1]
