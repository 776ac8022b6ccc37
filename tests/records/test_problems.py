"""The check of the data finds what constraints of single rows cannot hold."""

import re

import pytest
from tests import cast

from friable.records import actions
from friable.records.models import (
    Batch,
    BatchLine,
    Container,
    Material,
    MaterialAlias,
    Mix,
    MixLine,
    MixVersion,
    PottingJob,
)
from friable.records.queries import problems

pytestmark = pytest.mark.django_db


def test_sound_data_has_no_problems():
    cast.made_batch(cast.nested_mix())
    actions.correct_batch(Batch.objects.get(), by=cast.KEEPER, reason="wrong bin")

    assert problems() == []


def _own_inside():
    base = MixVersion.objects.get(mix__name="base A")
    newer = MixVersion.objects.create(mix=base.mix, number=2, written_by="MK")
    MixLine.objects.create(version=newer, position=1, sub_mix=base, parts=1)


BREAKS = {
    "a name that two have": (
        lambda: MaterialAlias.objects.create(material=Material.objects.first(), name="BASE a"),
        "One name stands for several things: alias “BASE a”, mix “base A”.",
    ),
    "a row of the table that is gone": (
        lambda: Material.objects.filter(table_key="COIR_P").update(table_key="GONE"),
        "rests on “GONE”, which the table does not hold",
    ),
    "a volume nobody measured": (
        lambda: Container.objects.filter(name="2 L pot").update(measured_volume_l=2.0),
        "Container “2 L pot” carries a volume that is not its newest measurement.",
    ),
    "a mix without a version": (lambda: Mix.objects.create(name="empty"), "Mix “empty” has no version."),
    "a version without components": (
        lambda: MixVersion.objects.create(mix=Mix.objects.get(name="base A"), number=2, written_by="MK"),
        "base A, version 2 has no components.",
    ),
    "a mix that contains itself": (_own_inside, "Mix “base A” contains itself."),
    "a used version that was changed": (
        lambda: MixLine.objects.get(version__mix__name="grit base", position=1).save(),
        "grit base, version 1 was changed after it was used; a used version must stay as it is.",
    ),
    "a planned job without a batch": (
        lambda: PottingJob.objects.update(state="planned"),
        "Job “saplings” is planned but has no planned batch.",
    ),
    "a line that does not add up": (
        lambda: BatchLine.objects.filter(name__startswith="coir").update(planned_l=1.0),
        r": the lines add up to .* L, not to .* L.",
    ),
    "a code that is not its number's": (
        lambda: Batch.objects.update(code="26-333X"),
        "Batch 26-333X does not carry the code of its number.",
    ),
    "more made than was put in": (
        lambda: Batch.objects.update(made_l=400),
        "400 L were made out of .* L put in",
    ),
}


@pytest.mark.parametrize("name", BREAKS)
def test_unsound_data_is_named(name):
    cast.made_batch(cast.nested_mix())
    break_it, said = BREAKS[name]

    break_it()

    found = problems()
    assert len(found) == 1, found
    assert re.search(said, found[0])
