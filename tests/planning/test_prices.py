"""Prices as they are typed; every quotient worked by hand."""

import pytest

from friable.errors import BadText
from friable.planning.prices import price_per_l


@pytest.mark.parametrize(
    ("typed", "per_l", "currency"),
    [
        ("12.50 for 50 L", 0.25, ""),
        ("£12.50 for 50 L", 0.25, "£"),
        ("12,50 € / 50 l", 0.25, "€"),
        ("0.18 EUR per L", 0.18, "EUR"),
        ("US$9 for 20 litres", 0.45, "US$"),
        ("kr 5 per litre", 5.0, "kr"),
        ("1½ per L", 1.5, ""),
        ("0 per L", 0.0, ""),
        ("£28.316846592 for 1 cu ft", 1.0, "£"),  # 1 cu ft = 28.316846592 L (international foot, exact)
        ("45.4609 for 10 imperial gallons", 1.0, ""),  # 1 imperial gallon = 4.54609 L, exact
    ],
)
def test_a_price_is_read_per_litre(typed, per_l, currency):
    read = price_per_l(typed)

    assert read.cost_per_l == pytest.approx(per_l, rel=1e-12)
    assert (read.currency, read.typed) == (currency, typed)


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("12.50", "does not say for how many litres. Write it as 12.50 for 70 L, or as 0.18 per L."),
        ("12.50 for", "does not say for how many litres"),
        ("cheap", "does not begin with a number"),
        ("-1 per L", "is below 0. It must be 0 or more."),
        ("NaN per L", "is not a finite number"),
        ("1e308 per L", "is too large"),
        ("12.50 for 70", "has no unit"),
        ("12.50 for a bag", "has a unit that is not known"),
        ("12.50 per gallon", "can mean more than one size"),
        ("12.50 for 0 L", "is nothing at all"),
        ("12.50 for 2 kg", "is in a unit of another kind"),
        ("£12.50 EUR for 70 L", "has a currency that cannot be read (EUR)"),
        ("12.50 pounds sterling for 70 L", "has a currency that cannot be read (pounds sterling)"),
        ("\u202e1 per L", "holds a hidden character"),
        ("", "is empty"),
        ("1 " * 60, "is too long"),
    ],
)
def test_what_is_no_price_is_refused_in_a_sentence(typed, sentence):
    with pytest.raises(BadText) as refused:
        price_per_l(typed)

    assert sentence in str(refused.value)
