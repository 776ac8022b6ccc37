"""What cannot be asked of a watering, in one sentence each."""

import pytest
from tests.planning.watering_asked import ask

from friable.errors import BadQuantity, Refused
from friable.planning.watering_text import Base


@pytest.mark.parametrize(("share", "said"), [(0.0, "0"), (1.0, "1"), (float("nan"), "not a number")])
def test_an_impossible_share_is_refused(share, said):
    with pytest.raises(BadQuantity) as refused:
        ask(used_share=share)

    assert str(refused.value) == (
        f"share of the available water used is {said}; it must be from 0.01 to 0.99."
    )


def test_an_impossible_dose_is_refused():
    with pytest.raises(BadQuantity) as refused:
        ask(dose_l=-0.1)

    assert str(refused.value) == "dose of water is -100 cm3; it must be above 0."


def test_a_pot_under_water_is_refused():
    with pytest.raises(Refused) as refused:
        ask(base=Base("standing water", depth_cm=12))

    assert str(refused.value) == "Water 12 cm deep stands above the medium (11 cm); give less."
