"""Ends of windows as they are typed; every conversion worked by hand."""

import pytest

from friable.errors import BadText
from friable.planning.window_typed import example, window_end
from friable.reference.windows import NUMBERS


@pytest.mark.parametrize(
    ("quantity", "typed", "value"),
    [
        ("air_space", "20 %", 0.2),
        ("air_space", "0.2", 0.2),
        ("peat_share", "0 %", 0.0),
        ("container_capacity", "100 %", 1.0),
        ("wet_density_kg_l", "1.1", 1.1),
        ("wet_density_kg_l", "1.1 kg/L", 1.1),
        ("wet_density_kg_l", "950 g/L", 0.95),
        ("dry_bulk_density_g_cm3", "200 kg/m3", 0.2),
        ("dry_bulk_density_g_cm3", "0,2 g/cm³", 0.2),
        ("years", "2", 2.0),
        ("years", "18 months", 1.5),
        ("years", "1 year", 1.0),
        ("cost_per_l", "0.25", 0.25),
        ("cost_per_l", "£12.50 for 50 L", 0.25),
        ("cost_per_l", "0.25 per L", 0.25),
    ],
)
def test_an_end_is_read_in_the_unit_in_which_it_is_kept(quantity, typed, value):
    assert window_end(quantity, typed) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize("quantity", NUMBERS)
def test_every_example_can_be_read(quantity):
    assert window_end(quantity, example(quantity)) > 0


@pytest.mark.parametrize(
    ("quantity", "typed", "sentence"),
    [
        ("air_space", "20", "Write per cent with its sign"),
        ("air_space", "120 %", "is out of range"),
        ("air_space", "-1 %", "is out of range"),
        ("wet_density_kg_l", "1.1 kg", "is in a unit of another kind (kg). Write it as 1.1 kg/L."),
        ("wet_density_kg_l", "heavy", "does not begin with a number"),
        ("years", "-1", "is out of range. It must be from 0 to 10,000 years."),
        ("years", "1e308", "is out of range"),
        ("years", "NaN", "is not a finite number"),
        ("years", "2 to 3", "is a range"),
        ("cost_per_l", "12.50 for 50", "has no unit"),
        ("cost_per_l", "12.50 £", "is in a unit of another kind"),
    ],
)
def test_what_is_no_end_is_refused_in_a_sentence(quantity, typed, sentence):
    with pytest.raises(BadText) as refused:
        window_end(quantity, typed)

    assert sentence in str(refused.value)
