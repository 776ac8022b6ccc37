"""The table of published conductivities, and the conductivity of a material alone."""

import pytest

from friable.reference import conductivity
from friable.reference.conductivity import published_conductivities, saturated_conductivity_cm_h
from friable.reference.load import read_table
from friable.reference.materials import all_materials
from friable.reference.row import Row
from friable.reference.sources import cited


def test_every_part_is_a_material_and_every_row_has_its_source():
    keys = {material.key for material in all_materials()}
    rows = published_conductivities()

    assert len(rows) == 29
    for row in rows:
        assert {key for key, _volume in row.parts} <= keys
        assert cited(row.source)
        assert row.remark


def test_printed_units_are_turned_into_centimetres_an_hour():
    # Worked by hand: 1800 µm/s × 3600 s; 712.8 cm a day / 24; 19 466 m a day × 100 / 24; 0.1 cm/s × 3600.
    found = {row.item: row.conductivity_low_cm_h for row in published_conductivities()}

    assert found["sphagnum moss, living, upper 5 cm"] == pytest.approx(1800e-4 * 3600)
    assert found["sand, mean of the textural class"] == pytest.approx(712.8 / 24)
    assert found["gravel 8-15 mm"] == pytest.approx(19_466 * 100 / 24, rel=1e-4)
    assert found["coir pith 3 and perlite 1"] == pytest.approx(0.1 * 3600)


def test_a_material_alone_has_a_range_of_conductivity():
    own = saturated_conductivity_cm_h("SAND_C")

    assert (own.low, own.high) == (100, 600)
    assert own.value == pytest.approx(244.949, abs=1e-3)  # √(100 × 600)
    assert saturated_conductivity_cm_h("nothing like it") is None


@pytest.mark.parametrize(
    ("change", "problem"),
    [
        ({"conductivity_low_cm_h": "9", "conductivity_high_cm_h": "4"}, "above 0 and in order"),
        ({"suction_cm": "-1"}, "suction must be 0 or more"),
        ({"compared": "perhaps"}, "yes or no"),
        ({"parts": ""}, "needs the parts"),
        ({"parts": "SAND_M -2"}, "no volume above 0"),
        ({"parts": "SAND_M two"}, "no volume above 0"),
    ],
)
def test_a_row_out_of_order_is_refused_by_file_and_line(change, problem):
    good = read_table("conductivity")[0]
    with pytest.raises(LookupError, match=rf"conductivity\.csv line {good.line}: .*{problem}"):
        conductivity._built(Row(good.table, good.line, {**good.cells, **change}))
