"""The database itself holds the rules, past every form and act."""

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone
from tests import cast

from friable.records import models
from friable.records.models import (
    Batch,
    BatchLine,
    Bucket,
    Container,
    JobLine,
    Material,
    MaterialAlias,
    Measurement,
    Mix,
    MixAmendment,
    Mixer,
    MixLine,
    MixVersion,
    Pack,
    PottingJob,
    Scale,
)

pytestmark = pytest.mark.django_db

POT = {
    "shape": "round",
    "top_length_cm": 17,
    "top_width_cm": 17,
    "bottom_length_cm": 12,
    "bottom_width_cm": 12,
    "height_cm": 13,
}


def refused(row):
    """Say whether the database refuses a row."""
    try:
        with transaction.atomic():
            row.save()
    except IntegrityError:
        return True
    return False


def test_names_are_unique_whatever_their_capitals():
    bark = Material.objects.create(name="Bark")
    assert refused(Material(name="BARK"))
    MaterialAlias.objects.create(material=bark, name="rind")
    assert refused(MaterialAlias(material=bark, name="Rind"))
    for model, values in (
        (Mix, {}),
        (Container, POT),
        (Bucket, {"line_l": 12}),
        (Scale, {"smallest_g": 1}),
        (Mixer, {"working_l": 60}),
    ):
        model.objects.create(name="One", **values)
        assert refused(model(name="ONE", **values)), model
    Pack.objects.create(material=bark, name="Bag", declared_l=70)
    assert refused(Pack(material=bark, name="BAG", declared_l=70))


@pytest.mark.parametrize(
    "row",
    [
        lambda: Material(name=""),
        lambda: Material(name="x", is_own=False),
        lambda: Bucket(name="b", line_l=0),
        lambda: Bucket(name="b", line_l=-1),
        lambda: Bucket(name="b", line_l=1e308),
        lambda: Bucket(name="b", line_l=float("nan")),
        lambda: Bucket(name="b", line_l=12, brim_l=11),
        lambda: Scale(name="s", smallest_g=5, largest_g=5),
        lambda: Mixer(name="m", working_l=0),
        lambda: Container(name="c", **{**POT, "shape": "heart"}),
        lambda: Container(name="c", **{**POT, "height_cm": 0}),
        lambda: Container(name="c", **{**POT, "top_width_cm": 16}),
        lambda: Container(name="c", **POT, headspace_cm=13),
        lambda: PottingJob(title="", created_by="JO"),
        lambda: PottingJob(title="t", created_by=""),
        lambda: PottingJob(title="t", created_by="JO", state="planned"),
        lambda: PottingJob(title="t", created_by="JO", state="asleep"),
        lambda: PottingJob(title="t", created_by="JO", state="dropped"),
        lambda: PottingJob(title="t", created_by="JO", overage=1.5),
        lambda: PottingJob(title="t", created_by="JO", settling=1),
    ],
)
def test_an_impossible_row_is_refused(row):
    assert refused(row())


def test_a_line_is_a_material_or_a_mix_and_not_the_mix_itself():
    bark = Material.objects.create(name="bark")
    mix = Mix.objects.create(name="mix")
    one = MixVersion.objects.create(mix=mix, number=1, written_by="MK")
    two = MixVersion.objects.create(mix=mix, number=2, written_by="MK")

    assert refused(MixLine(version=one, position=1, parts=1))
    assert refused(MixLine(version=one, position=1, parts=1, material=bark, sub_mix=two))
    assert refused(MixLine(version=one, position=1, parts=1, sub_mix=one))
    assert refused(MixLine(version=one, position=1, parts=0, material=bark))
    assert refused(MixLine(version=one, position=1, parts=1, material=bark, state="squeezed"))
    assert not refused(MixLine(version=one, position=1, parts=1, material=bark))
    assert refused(MixLine(version=one, position=2, parts=1, material=bark))
    assert refused(MixVersion(mix=mix, number=1, written_by="MK"))
    assert refused(MixVersion(mix=mix, number=3, written_by=""))
    assert refused(MixVersion(mix=mix, number=3, written_by="MK", shrinkage=1))
    assert refused(MixVersion(mix=mix, number=3, written_by="MK", use_within_days=0))
    assert refused(MixVersion(mix=mix, number=3, written_by="MK", use_within_days=3651))
    assert refused(MixAmendment(version=one, position=1, name="lime", rate_g_per_l=0))
    assert refused(MixAmendment(version=one, position=1, name="lime", rate_g_per_l=1, low_g_per_l=1))


def test_a_job_line_says_where_a_root_ball_comes_from():
    job = PottingJob.objects.create(title="t", created_by="JO")
    pot = Container.objects.create(name="c", **POT)

    assert refused(JobLine(job=job, position=1, container=pot, count=1, root="root ball"))
    assert refused(JobLine(job=job, position=1, container=pot, count=0))
    assert refused(JobLine(job=job, position=1, container=pot, count=1, root="twisted"))


def test_a_measurement_fills_what_its_kind_asks_for():
    bark = Material.objects.create(name="bark")
    pot = Container.objects.create(name="c", **POT)
    done = {"done_by": "JO", "done_at": timezone.now()}
    density = {"kind": "dry bulk density", "material": bark, "dry_bulk_density_g_cm3": 0.2, **done}

    assert not refused(Measurement(**density))
    assert refused(Measurement(**{**density, "material": None}))
    assert refused(Measurement(**{**density, "dry_bulk_density_g_cm3": None}))
    assert refused(Measurement(**{**density, "container": pot}))
    assert refused(Measurement(**{**density, "kind": "weighing"}))
    assert refused(Measurement(**{**density, "done_by": ""}))
    assert refused(Measurement(**{**density, "dry_bulk_density_low_g_cm3": 0.1}))
    assert refused(Measurement(**density, dry_bulk_density_low_g_cm3=0.3, dry_bulk_density_high_g_cm3=0.4))
    assert refused(Measurement(**density, withdrawn_at=timezone.now()))


def test_a_batch_is_made_and_undone_in_full_only():
    batch = cast.made_batch()

    for changes in (
        {"made_by": ""},
        {"made_at": None},
        {"made_l": None},
        {"state": "planned"},
        {"state": "undone"},
        {"undo_reason": "because"},
        {"planned_by": ""},
        {"treated": "half"},
        {"corrects": batch},
    ):
        row = Batch.objects.get(pk=batch.pk)
        for column, value in changes.items():
            setattr(row, column, value)
        assert refused(row), changes
    assert refused(Batch(**_columns(batch)))
    with pytest.raises(IntegrityError), transaction.atomic():
        Batch.objects.update(number=0)


def test_a_batch_line_holds_no_impossible_volume():
    line = cast.planned_batch().lines.first()

    for column in ("planned_l", "put_in_l"):
        row = BatchLine.objects.get(pk=line.pk)
        setattr(row, column, -1)
        assert refused(row)


def test_every_rule_has_a_name_that_both_databases_can_hold():
    rules = [
        rule.name
        for model in vars(models).values()
        if hasattr(model, "_meta")
        for rule in (*model._meta.constraints, *model._meta.indexes)
    ]

    assert len(rules) > 100
    assert len(set(rules)) == len(rules)
    assert max(len(rule) for rule in rules) <= 63


def _columns(batch):
    return {
        field.attname: getattr(batch, field.attname)
        for field in batch._meta.concrete_fields
        if field.name not in ("id", "corrects")
    }
