"""How much of each mix can be made from what is here; litres worked out by hand."""

import pytest
from replacing_asked import MATERIALS, POT, at_hand, parts

from friable.errors import BadQuantity
from friable.planning.can_make import can_make
from friable.planning.forecast import forecast

POTTING_ON = ("potting on", parts(BKP_M=5, PEAT_M=1, PERL_C=1), 0.12)
HERE = {"BKP_M": 50.0, "PEAT_M": 100.0, "PERL_C": 14.0, "PUM_S": 90.0, "SAND_C": 30.0}


def here(**stock):
    stocks = HERE | stock
    return at_hand(tuple(stocks), {key: amount for key, amount in stocks.items() if amount is not None})


def one(**of):
    (answer,) = can_make([POTTING_ON], here(), **of)
    return answer


def test_the_scarcest_part_ends_it():
    # By hand: 50 L of bark at 5 parts of 7 make 70 L poured, 88 % of which are 61.6 L; perlite would reach
    # for 14 × 7 × 0.88 = 86.2 L.
    answer = one()

    assert answer.litres == pytest.approx(61.6)
    assert answer.limited_by is MATERIALS["BKP_M"]
    assert answer.said == "potting on: 61 L; then pine bark nursery 0-12 mm runs out."
    assert not answer.is_short


def test_the_litres_of_a_potting_job_come_out_again():
    # Worked by hand: 95.7 L of mix finished take 108.8 L of parts at 12 % shrinkage, 77.7 / 15.5 / 15.5 L.
    stock = {"BKP_M": 77.7, "PEAT_M": 15.54, "PERL_C": 15.54}
    (answer,) = can_make([POTTING_ON], at_hand(tuple(stock), stock))

    assert answer.litres == pytest.approx(95.7, abs=0.1)


def test_shrinkage_is_forecast_where_nobody_measured_it():
    name, mix, _shrinkage = POTTING_ON
    (answer,) = can_make([(name, mix, None)], here())
    shrinkage = forecast(mix, POT, samples=0).shrinkage.value

    assert answer.litres == pytest.approx(70 * (1 - shrinkage))


def test_each_mix_is_reckoned_as_if_it_alone_were_made():
    sand_mix = ("sand and peat", parts(SAND_C=1, PEAT_M=1), 0.0)
    both = can_make([POTTING_ON, sand_mix], here())

    assert [round(answer.litres, 1) for answer in both] == [61.6, 60.0]


def test_what_was_never_counted_is_taken_to_reach_and_named():
    (answer,) = can_make([POTTING_ON], here(BKP_M=None))

    assert answer.litres == pytest.approx(14 * 7 * 0.88)
    assert answer.not_counted == ("pine bark nursery 0-12 mm",)
    assert answer.said.endswith("Never counted: pine bark nursery 0-12 mm.")
    (answer,) = can_make([POTTING_ON], here(BKP_M=None, PEAT_M=None, PERL_C=None))
    assert answer.litres is None
    assert answer.said == "potting on: nothing in it was ever counted; count its materials."


def test_what_is_not_here_at_all_ends_it_at_none():
    (answer,) = can_make([POTTING_ON], at_hand(("BKP_M", "PEAT_M"), {"BKP_M": 50.0, "PEAT_M": 50.0}))

    assert answer.litres == 0
    assert answer.is_short
    assert answer.said == "potting on: none; there is no perlite coarse 2-6 mm."


def test_a_mix_that_is_short_gets_the_nearest_stand_in_within_stock():
    answer = one(wanted_l=80.0, containers=(POT,), kinds=3, parts=7)

    assert answer.used_up == ("pine bark nursery 0-12 mm",)
    stand_in = answer.stand_in
    assert stand_in is not None
    total = sum(share for _m, share in stand_in.parts)
    for material, share in stand_in.parts:
        assert material.key != "BKP_M"
        assert share / total * 80 <= HERE[material.key]
    assert answer.said.endswith(f"Nearest from what is here: {stand_in.text}.")
    assert answer.to_json()["stand_in"]["recipe"] == stand_in.text


def test_nothing_can_stand_in_where_nothing_is_left():
    (answer,) = can_make(
        [POTTING_ON], at_hand(("BKP_M",), {"BKP_M": 5.0}), wanted_l=80.0, containers=(POT,), search=False
    )

    assert answer.stand_in is None
    assert answer.said.endswith("Nothing here can stand in for it.")


def test_what_is_enough_gets_none():
    assert one(wanted_l=60.0, containers=(POT,)).stand_in is None


@pytest.mark.parametrize("litres", [0.0, -1.0, float("nan"), float("inf")])
def test_litres_that_cannot_be_wanted_are_refused(litres):
    with pytest.raises(BadQuantity, match=r"^litres wanted is "):
        one(wanted_l=litres)


@pytest.mark.parametrize("shrinkage", [-0.1, 1.0, float("nan")])
def test_a_shrinkage_that_cannot_be_is_refused(shrinkage):
    with pytest.raises(BadQuantity, match=r"^shrinkage of potting on is "):
        can_make([(*POTTING_ON[:2], shrinkage)], here())
