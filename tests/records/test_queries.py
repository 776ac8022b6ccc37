"""Reads ask the database the same number of times, however much there is."""

import pytest
from tests import cast

from friable.records import actions, amounts, plain, queries

pytestmark = pytest.mark.django_db


@pytest.fixture
def stocked():
    """A few of everything."""
    version = cast.nested_mix()
    made = cast.made_batch(version)
    for number in range(3):
        other = cast.potting_on(f"mix {number}", amendments=[("limestone", 1.0)], cautions=("Dusty.",))
        actions.new_mix_version(other.mix, cast.recipe(f"mix {number}", (1, "coir pith")), by=cast.KEEPER)
        actions.plan_litres(other, 40, by=cast.KEEPER)
        actions.clone_job(made.job, by=cast.KEEPER, title=f"job {number}")
    peat = actions.use_material("sphagnum peat medium", by=cast.BUYER)
    for number in range(3):
        pack = actions.add_pack(peat, f"bale {number}", by=cast.BUYER, declared_l=107.6)
        actions.measure_pack_yield(pack, by=cast.HELPER, loose_l=200 + number)
        actions.measure_dry_bulk_density(peat, by=cast.HELPER, dry_bulk_density_g_cm3=0.1)
    return version


def _batches(rows):
    return [
        (str(row.mix_version), row.job and row.job.title, row.corrects, getattr(row, "corrected_by", None))
        for row in rows
    ]


READS = {
    "open jobs": (
        3,
        lambda _v: [
            (
                j.mix_version.name,
                j.bucket and j.bucket.name,
                [str(x) for x in j.lines.all()],
                len(j.batches.all()),
            )
            for j in queries.open_jobs()
        ],
    ),
    "last open job": (3, lambda _v: [str(line) for line in queries.last_open_job().lines.all()]),
    "batches": (1, lambda _v: _batches(queries.batches_by_state())),
    "batches with lines": (
        5,
        lambda _v: [
            ([(x.name, x.material and x.material.name) for x in b.lines.all()], len(b.amendments.all()))
            for b in queries.batches_with_lines()
        ],
    ),
    "mixes in use": (
        5,
        lambda _v: [
            [(str(x), [line.name for line in x.lines.all()], len(x.cautions.all())) for x in mix.newest]
            for mix in queries.mixes_in_use()
        ],
    ),
    "mix history": (4, lambda v: [[line.name for line in x.lines.all()] for x in queries.mix_history(v.mix)]),
    "materials": (3, lambda _v: [(m.name, len(m.aliases.all())) for m in queries.materials_in_use()]),
    "materials as values": (2, lambda _v: plain.materials(queries.materials_in_use().prefetch_related(None))),
    "packs": (2, lambda _v: [(str(p), p.measured and p.measured.loose_l) for p in queries.packs_in_use()]),
    "containers": (1, lambda _v: plain.containers_by_name(queries.containers_in_use())),
    "recipe book": (8, plain.recipe_book),  # four a level of nesting, two levels
    "parts": (9, plain.resolve_parts),  # the book, and what was measured
}


@pytest.mark.parametrize("read", READS)
def test_a_read_asks_no_more_for_more_rows(read, stocked, django_assert_num_queries):
    most, answer = READS[read]

    with django_assert_num_queries(most):
        answer(stocked)


def test_the_amounts_of_a_job_need_no_query_a_line(stocked, django_assert_max_num_queries):
    job = queries.last_open_job()

    with django_assert_max_num_queries(10):
        amounts.job_amounts(job)


def test_whole_and_part_are_found_both_ways(stocked):
    base = cast.mix("base A").versions.get()

    assert {str(v) for v in queries.versions_below(stocked)} == {
        "potting-on mix, version 1",
        "base A, version 1",
        "grit base, version 1",
    }
    assert [str(v) for v in queries.versions_above(base)] == [
        "base A, version 1",
        "potting-on mix, version 1",
    ]


def test_a_container_is_found_whatever_its_capitals():
    pot = cast.two_litre_pot()

    assert queries.container_named(" 2 l POT ") == pot
    assert queries.container_named("3 L pot") is None
