"""Every change is kept, with the initials of who made it."""

import pytest
from django.apps import apps
from tests import cast

from friable.records import actions
from friable.records.models import Material, MixLine

pytestmark = pytest.mark.django_db


def test_every_model_has_a_history():
    kept = [model for model in apps.get_app_config("records").get_models() if hasattr(model, "history")]
    history = {model.history.model for model in kept}

    assert set(apps.get_app_config("records").get_models()) == {*kept, *history}
    assert len(kept) == 27


def test_a_change_carries_the_initials_of_who_made_it():
    ours = actions.add_material("Moorside bark", by="mk")
    actions.change_material(ours, by=cast.HELPER, name="Moorside fines")

    assert [(row.name, row.changed_by, row.history_type) for row in ours.history.all()] == [
        ("Moorside fines", "JO", "~"),
        ("Moorside bark", "MK", "+"),
    ]


def test_lines_written_together_are_signed_too():
    version = cast.potting_on()
    actions.change_mix_version(version, cast.recipe("potting-on bark", (1, "coir pith")), by=cast.PROPAGATOR)

    rows = MixLine.history.filter(version_id=version.pk)
    assert [row.changed_by for row in rows.filter(history_type="+")].count("MK") == 3
    assert {row.changed_by for row in rows.filter(history_type="-")} == {"TB"}


def test_a_batch_shows_its_whole_life():
    batch = cast.made_batch()
    actions.undo_batch(batch, by=cast.KEEPER, reason="wrong bin")

    assert [(row.state, row.changed_by) for row in batch.history.all()] == [
        ("undone", "MK"),
        ("made", "JO"),
        ("planned", "JO"),
    ]


def test_a_refused_act_leaves_no_history():
    cast.bark()
    before = Material.history.count()

    with pytest.raises(Exception, match="already"):
        actions.add_material("PINE bark nursery 0-12 mm", by=cast.KEEPER)

    assert Material.history.count() == before


def test_what_is_done_outside_an_act_is_not_signed():
    row = Material.objects.create(name="by hand")

    assert row.history.get().changed_by == ""
