"""The store in a browser without scripts: many counts and prices at once, nothing typed is lost."""

import re
from datetime import timedelta

import pytest
from django.utils import timezone
from tests import cast
from tests.web import hostile
from tests.web.conftest import text_of

from friable.records import actions, queries
from friable.records.models import Material, MaterialPrice, MaterialStock

pytestmark = pytest.mark.django_db

STORE = "/materials/stock"


def newest(key):
    """The newest count of a material of the table."""
    return queries.newest_count(Material.objects.get(table_key=key, is_own=False))


def test_many_materials_are_written_down_at_once(helper):
    ours = actions.add_material("Moor End grit", by=cast.KEEPER)
    sent = {
        "stock-BKP_M": "120",
        "price-BKP_M": "£12.50 for 50 L",
        "stock-PERL_C": "3.8 cu ft",
        "stock-GRAV": "0",
        f"stock-OWN_{ours.pk}": "1 m3",
        "price-PUM_M": "0.42 per L",
        "counted_on": "2026-03-14",
    }

    answer = helper.post(STORE, sent)

    assert answer["Location"] == STORE
    # 3.8 cu ft of 28.3168 L each: 107.6 L, worked by hand.
    assert newest("PERL_C").amount_l == pytest.approx(107.604, abs=0.001)
    assert (newest("BKP_M").amount_l, newest("GRAV").amount_l) == (120.0, 0.0)
    assert queries.newest_count(ours).amount_l == 1000.0
    assert newest("PERL_C").typed == "3.8 cu ft"
    assert {(row.counted_by, row.counted_on.isoformat()) for row in MaterialStock.objects.all()} == {
        ("JO", "2026-03-14")
    }
    page = text_of(helper.get(STORE))
    assert "5 materials are written down." in page
    assert "14 Mar 2026" in page
    assert "£0.25" in page
    assert "£0.42" in page  # the sign of the place


def test_every_material_stands_in_the_list_with_fields_of_its_own(helper):
    page = text_of(helper.get(STORE))

    fields = re.findall(r'name="(stock|price)-(\w+)"', page)
    assert len(fields) == 2 * len(queries.at_hand())
    for _column, key in fields:
        assert f"/materials/{key}/" in page
    assert page.count("<label") >= len(fields)


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"stock-BKP_M": "lots"}, "does not begin with a number"),
        ({"stock-BKP_M": "-3"}, "is below 0"),
        ({"stock-BKP_M": "2 gallons"}, "can mean more than one size"),
        ({"stock-BKP_M": "NaN"}, "is not a finite number"),
        ({"stock-BKP_M": "1e308"}, "is too large"),
        ({"stock-BKP_M": "500000 L"}, "amount is 500000 L"),
        ({"price-BKP_M": "12.50"}, "does not say for how many litres"),
        ({"price-BKP_M": "-1 per L"}, "is below 0"),
        ({"price-BKP_M": "£1 per L", "price-PUM_M": "€1 per L"}, "Prices would stand in £ and €"),
        ({"counted_on": "2999-01-01"}, "is still to come"),
        ({"counted_on": "yesterday"}, "is not a day of the calendar"),
        ({"stock-BKP_M": hostile.RIGHT_TO_LEFT}, "holds a hidden character"),
        ({"stock-GRAV": ""}, "Nothing is filled in yet"),
    ],
)
def test_what_cannot_be_is_refused_and_everything_typed_stays(helper, said, sentence):
    others = {} if "Nothing" in sentence else {"stock-GRAV": "77 L", "price-GRAV": "£4.20 for 15 L"}

    answer = helper.post(STORE, {**others, **said})

    page = text_of(answer)
    assert answer.status_code == 422
    assert sentence in page
    for typed in {**others, **said}.values():
        assert f'value="{typed}"' in page or not typed
    assert not MaterialStock.objects.exists()
    assert not MaterialPrice.objects.exists()


def test_a_refusal_stands_beside_its_amount(helper):
    page = text_of(helper.post(STORE, {"stock-BKP_M": "lots", "stock-GRAV": "500000 L"}))

    for key in ("BKP_M",):
        field = re.search(rf'<input[^>]*name="stock-{key}"[^>]*>', page)[0]
        assert 'aria-invalid="true"' in field
    page = text_of(helper.post(STORE, {"stock-GRAV": "500000 L"}))
    field = re.search(r'<input[^>]*name="stock-GRAV"[^>]*>', page)[0]
    assert 'aria-invalid="true"' in field


def test_one_material_is_counted_and_priced_on_its_page(helper):
    assert "not counted yet" in text_of(helper.get("/materials/BKP_M/"))

    answer = helper.post("/materials/BKP_M/stock", {"amount": "12 buckets"})
    assert answer.status_code == 422
    helper.post("/materials/BKP_M/stock", {"amount": "400", "counted_on": "2026-03-14", "note": "bay 2"})
    helper.post("/materials/BKP_M/stock", {"amount": "120 L"})
    helper.post("/materials/BKP_M/price", {"price": "£12.50 for 50 L", "holds_from": "2026-03-14"})
    answer = helper.post("/materials/BKP_M/price", {"price": "£15 for 50 L"})

    assert answer["Location"] == "/materials/BKP_M/"
    page = text_of(helper.get("/materials/BKP_M/"))
    assert "<strong>120 L</strong>" in page
    assert "<strong>£0.30</strong>" in page
    held_before = page[page.index("What held before") :]
    for old in ("400 L", "14 March 2026", "bay 2", "£0.25"):
        assert old in held_before


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("£0.30 per L", "£0.30"),
        ("£9.20 for 66 L", "£0.139"),
        ("12 kr per L", "kr\u00a012.00"),
        ("0 per L", "free"),
    ],
)
def test_a_price_is_shown_as_money(helper, typed, shown):
    helper.post("/materials/BKP_M/price", {"price": typed})

    assert f"<strong>{shown}</strong>" in text_of(helper.get("/materials/BKP_M/"))


def test_a_price_that_is_not_known_any_more_is_said(helper):
    helper.post("/materials/BKP_M/price", {"price": "£12.50 for 50 L"})
    assert helper.post("/materials/BKP_M/price", {"price": ""}).status_code == 422

    assert helper.post("/materials/BKP_M/price", {"price": "", "unknown": "1"}).status_code == 302

    assert queries.newest_price(Material.objects.get()).cost_per_l is None
    page = text_of(helper.get("/materials/BKP_M/"))
    assert "The price is not known any more; the old ones stay." in page
    assert "£0.25" in page


def test_a_count_before_the_newest_is_refused_beside_the_day(helper):
    helper.post("/materials/BKP_M/stock", {"amount": "400"})
    yesterday = (timezone.localdate() - timedelta(days=1)).isoformat()

    for address, sent in (
        ("/materials/BKP_M/stock", {"amount": "1 L"}),
        (STORE, {"stock-BKP_M": "1 L"}),
    ):
        answer = helper.post(address, {**sent, "counted_on": yesterday})
        page = text_of(answer)
        assert answer.status_code == 422
        assert "already, later than" in page
        assert 'aria-invalid="true"' in re.search(r'<input[^>]*name="counted_on"[^>]*>', page)[0]
    assert MaterialStock.objects.count() == 1


def test_a_material_that_is_not_there_is_not_found(helper):
    for key in ("NOPE", "OWN_1"):
        assert helper.get(f"/materials/{key}/stock").status_code == 404
        assert helper.post(f"/materials/{key}/price", {"price": "1 per L"}).status_code == 404


def test_a_stranger_signs_and_another_site_cannot_write(stranger, strict):
    for address, sent in (
        (STORE, {"stock-BKP_M": "120"}),
        ("/materials/BKP_M/stock", {"amount": "120"}),
        ("/materials/BKP_M/price", {"price": "1 per L"}),
    ):
        answer = stranger.post(address, sent)
        assert answer.status_code == 422
        assert "Initials are missing" in text_of(answer)
        assert 'value="1' in text_of(answer)
        assert strict.post(address, sent).status_code == 403
    assert not MaterialStock.objects.exists()

    assert stranger.post(STORE, {"stock-BKP_M": "120", "signed_by": "rv"}).status_code == 302
    assert MaterialStock.objects.get().counted_by == "RV"


@pytest.mark.parametrize("address", [STORE, "/materials/BKP_M/stock", "/materials/BKP_M/price"])
def test_who_may_not_is_told_so(helper, monkeypatch, address):
    monkeypatch.setattr("friable.web.guard.local_person_may", lambda act: act == "see materials")

    assert helper.get("/materials/").status_code == 200
    assert helper.get(address).status_code == 403
    assert helper.post(address, {"amount": "1"}).status_code == 403
