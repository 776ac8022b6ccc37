"""The people and things that tests tell their stories with; all invented. People are initials."""

from fractions import Fraction

from friable.planning.recipe import Amendment, Component, Recipe
from friable.records import actions
from friable.records.models import Bucket, Container, Material, Mix, MixVersion
from friable.science.containers import Container as Measures

KEEPER = "MK"
PROPAGATOR = "TB"
HELPER = "JO"
BUYER = "RV"
RESEARCHER = "EL"


def recipe(name, *components, amendments=(), **options):
    """A recipe from pairs of parts and name."""
    return Recipe(
        name,
        tuple(Component(what, Fraction(parts)) for parts, what in components),
        amendments=tuple(
            Amendment(what, rate_g_per_l=rate, typed=f"{rate:g} g/L") for what, rate in amendments
        ),
        **options,
    )


def potting_on_recipe(name="potting-on bark", **options):
    """Five of bark to one of peat and one of perlite."""
    return recipe(
        name, (5, "pine bark nursery"), (1, "sphagnum peat medium"), (1, "perlite coarse"), **options
    )


def potting_on(name="potting-on bark", **options) -> MixVersion:
    """The stored potting-on mix, written by the keeper."""
    return actions.write_mix(potting_on_recipe(name, **options), by=KEEPER)


def nested_mix() -> MixVersion:
    """Three of a finished base to one of a finished grit base, each with its own shrinkage."""
    actions.write_mix(
        recipe(
            "base A", (6, "coir pith"), (3, "wood fibre"), (1, "perlite coarse"), shrinkage=0.08,
            amendments=[("dolomitic limestone", 3.0)],
        ),
        by=KEEPER,
    )  # fmt: skip
    actions.write_mix(
        recipe("grit base", (1, "horticultural sand medium"), (1, "crushed granite grit"), shrinkage=0.03),
        by=KEEPER,
    )
    return actions.write_mix(
        recipe("potting-on mix", (3, "base A"), (1, "grit base"), shrinkage=0.06), by=KEEPER
    )


def round_pot(name, top_cm, bottom_cm, height_cm, headspace_cm=0.0) -> Container:
    """A stored round container."""
    measures = Measures(
        shape="round",
        top_length_cm=top_cm,
        top_width_cm=top_cm,
        bottom_length_cm=bottom_cm,
        bottom_width_cm=bottom_cm,
        height_cm=height_cm,
        headspace_cm=headspace_cm,
    )
    return actions.add_container(name, measures, by=KEEPER)


def two_litre_pot() -> Container:
    """17/12/13 cm, filled to 1.5 cm below the rim."""
    return round_pot("2 L pot", 17, 12, 13, 1.5)


def nine_cm_pot() -> Container:
    """9/6/8.5 cm, filled to 1 cm below the rim."""
    return round_pot("9 cm pot", 9, 6, 8.5, 1.0)


def bucket() -> Bucket:
    """A bucket with its line at 12 L."""
    return actions.add_bucket("blue bucket", by=KEEPER, line_l=12, brim_l=14)


def bark() -> Material:
    """The stored nursery bark of the table."""
    return actions.use_material("pine bark nursery", by=KEEPER)


def bench_job(version=None, count=60):
    """Sixty saplings out of 9 cm pots into 2 L pots; ready to be planned."""
    job = actions.start_job("saplings", by=HELPER)
    line = actions.PotLine(
        container=two_litre_pot(), count=count, potted_from=nine_cm_pot(), root="root ball"
    )
    actions.save_job_step(job, "pots", {"count": str(count)}, by=HELPER, lines=[line])
    actions.save_job_step(job, "mix", by=HELPER, mix_version=version or potting_on())
    return actions.save_job_step(
        job, "amounts", by=HELPER, overage=0.05, settling=0.0, shrinkage=0.12, bucket=bucket()
    )


def planned_batch(version=None):
    """The batch of the bench job, planned."""
    return actions.plan_batch(bench_job(version), by=HELPER)


def made_batch(version=None):
    """The batch of the bench job, made as planned."""
    batch = planned_batch(version)
    put_in = {line.pk: round(line.planned_l, 1) for line in batch.lines.all()}
    return actions.record_batch_made(batch, by=HELPER, made_l=95.0, put_in=put_in, treated="no")


def mix(name) -> Mix:
    """The stored mix of a name."""
    return Mix.objects.get(name=name)
