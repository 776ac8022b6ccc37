"""Mixes: written, versioned, frozen once used."""

from fractions import Fraction

import pytest
from tests import cast

from friable.errors import AmbiguousName, BadQuantity, BadRecipe, Refused, UnknownName
from friable.planning.recipe import Amendment, Component, Recipe
from friable.records import actions, plain
from friable.records.models import Mix
from friable.records.queries import is_frozen, mix_history, mixes_behind, versions_with_lines

pytestmark = pytest.mark.django_db


def test_a_mix_is_written_down_as_it_was_said():
    written = cast.potting_on(
        shrinkage=0.12,
        amendments=[("dolomitic limestone", 3.0)],
        cautions=("Moisten the bark before mixing.",),
        top_dressing="grit",
    )

    recipe = plain.recipe(versions_with_lines().get(pk=written.pk))
    assert [(c.parts, c.name) for c in recipe.components] == [
        (5, "pine bark nursery 0-12 mm"),
        (1, "sphagnum peat medium 0-10 mm"),
        (1, "perlite coarse 2-6 mm"),
    ]
    assert recipe.amendments[0].rate_g_per_l == 3.0
    assert recipe.cautions == ("Moisten the bark before mixing.",)
    assert (recipe.shrinkage, recipe.top_dressing) == (0.12, "grit")


def test_thirds_stay_thirds():
    written = actions.write_mix(
        Recipe(
            "thirds",
            (Component("coir pith", Fraction(1, 3)), Component("crushed granite grit", Fraction("3.3"))),
        ),
        by=cast.KEEPER,
    )

    recipe = plain.recipe(versions_with_lines().get(pk=written.pk))
    assert [c.parts for c in recipe.components] == [Fraction(1, 3), Fraction("3.3")]
    assert [line.written_parts for line in written.lines.all()] == ["1/3", "3.3"]


def test_a_new_version_leaves_the_old_one_alone():
    first = cast.potting_on()

    second = actions.new_mix_version(
        first.mix, cast.recipe("potting-on bark", (4, "pine bark nursery"), (1, "coir pith")), by=cast.KEEPER
    )

    assert second.number == 2
    assert [v.number for v in mix_history(first.mix)] == [2, 1]
    assert first.lines.count() == 3


def test_a_version_that_nothing_uses_can_be_changed():
    version = cast.potting_on()

    actions.change_mix_version(
        version, cast.recipe("potting-on bark", (1, "coir pith")), by=cast.KEEPER, note="tried in May"
    )

    assert [line.name for line in version.lines.all()] == ["coir pith 0-5 mm"]
    assert version.note == "tried in May"


@pytest.mark.parametrize("use", [cast.bench_job, cast.planned_batch])
def test_a_used_version_is_frozen(use):
    version = cast.potting_on()
    use(version)

    assert is_frozen(version)
    with pytest.raises(
        Refused, match=r"potting-on bark, version 1 is used by (job|batch) .*; write a new version"
    ):
        actions.change_mix_version(version, cast.potting_on_recipe(), by=cast.KEEPER)


def test_a_version_inside_a_used_mix_is_frozen_too():
    whole = cast.nested_mix()
    base = cast.mix("base A").versions.get()
    assert not is_frozen(base)

    cast.bench_job(whole)

    with pytest.raises(Refused, match="base A, version 1 is used by job “saplings”"):
        actions.change_mix_version(base, cast.recipe("base A", (1, "coir pith")), by=cast.KEEPER)


def test_a_mix_keeps_the_base_it_was_written_with():
    whole = cast.nested_mix()
    base = cast.mix("base A")
    newer = actions.new_mix_version(base, cast.recipe("base A", (1, "coir pith")), by=cast.KEEPER)

    book = plain.recipe_book(whole)
    assert len(book.recipes["base A"].components) == 3
    [line] = mixes_behind(versions_with_lines().get(pk=whole.pk))
    assert line.sub_mix.mix == base

    renewed = actions.new_mix_version(
        whole.mix, cast.recipe("potting-on mix", (3, "base A"), (1, "grit base")), by=cast.KEEPER
    )
    assert renewed.lines.get(position=1).sub_mix == newer
    assert mixes_behind(versions_with_lines().get(pk=renewed.pk)) == []


def test_two_versions_of_one_base_stand_apart_in_the_book():
    old = actions.write_mix(cast.recipe("base", (1, "coir pith")), by=cast.KEEPER)
    actions.write_mix(cast.recipe("middle", (1, "base"), (1, "crushed granite grit")), by=cast.KEEPER)
    actions.new_mix_version(old.mix, cast.recipe("base", (1, "perlite coarse")), by=cast.KEEPER)
    top = actions.write_mix(cast.recipe("top", (1, "base"), (1, "middle")), by=cast.KEEPER)

    book = plain.recipe_book(top)
    assert [c.name for c in book.recipes["top"].components] == ["base", "middle"]
    assert [c.name for c in book.recipes["base"].components] == ["perlite coarse 2-6 mm"]
    assert book.recipes["middle"].components[0].name == "base, version 1"
    assert [c.name for c in book.recipes["base, version 1"].components] == ["coir pith 0-5 mm"]
    assert len(book.recipes) == 4
    shares = {m.title: share for m, share in plain.resolve_parts(top)}
    assert shares == pytest.approx(
        {"perlite coarse 2-6 mm": 0.5, "coir pith 0-5 mm": 0.25, "crushed granite grit 2-5 mm": 0.25}
    )


def test_a_mix_cannot_contain_itself():
    base = actions.write_mix(cast.recipe("base", (1, "coir pith")), by=cast.KEEPER)
    actions.write_mix(cast.recipe("middle", (1, "base"), (1, "crushed granite grit")), by=cast.KEEPER)

    with pytest.raises(BadRecipe, match="base would contain itself by way of middle; leave middle out"):
        actions.new_mix_version(base.mix, cast.recipe("base", (1, "middle")), by=cast.KEEPER)
    with pytest.raises(BadRecipe, match="base would contain itself by way of base"):
        actions.change_mix_version(base, cast.recipe("base", (1, "base")), by=cast.KEEPER)


def test_one_material_under_two_words_is_listed_once():
    with pytest.raises(
        BadRecipe, match="twice lists perlite coarse 2-6 mm more than once; add the parts together"
    ):
        actions.write_mix(cast.recipe("twice", (1, "perlite coarse"), (2, "coarse perlite")), by=cast.KEEPER)

    assert not Mix.objects.exists()


def test_one_amendment_is_listed_once():
    with pytest.raises(BadRecipe, match="lists LIMESTONE more than once; add the rates together"):
        cast.potting_on(amendments=[("limestone", 1.0), ("LIMESTONE", 2.0)])


@pytest.mark.parametrize(
    ("name", "refusal", "said"),
    [
        ("unobtainium", UnknownName, "No material is called “unobtainium”"),
        ("perlite", AmbiguousName, "say which: perlite fine"),
    ],
)
def test_a_component_that_nobody_knows_is_refused_and_nothing_is_left(name, refusal, said):
    with pytest.raises(refusal, match=said):
        actions.write_mix(cast.recipe("new", (1, "coir pith"), (1, name)), by=cast.KEEPER)

    assert not Mix.objects.exists()


def test_parts_too_many_and_too_few_are_refused():
    with pytest.raises(
        BadQuantity, match=r"parts by volume is 1e[+]09; it must be above 0 and at most 10000"
    ):
        actions.write_mix(cast.recipe("new", (10**9, "coir pith")), by=cast.KEEPER)
    with pytest.raises(BadRecipe, match=r"coir pith has 1e-09 parts; give at least 0\.000001"):
        actions.write_mix(cast.recipe("new", (Fraction(1, 10**9), "coir pith")), by=cast.KEEPER)


def test_an_impossible_rate_is_refused():
    with pytest.raises(BadQuantity, match=r"rate is 1e[+]308 g/L; it must be above 0 and at most 1000"):
        actions.write_mix(
            Recipe("new", (Component("coir pith", Fraction(1)),), (Amendment("lime", 1e308),)), by=cast.KEEPER
        )


def test_an_incomplete_recipe_is_kept_and_not_used():
    note = actions.write_mix(
        cast.recipe("heard of", (3, "leaf mould"), (1, "crushed granite grit"), incomplete=True),
        by=cast.KEEPER,
    )
    job = actions.start_job("trial", by=cast.HELPER)

    with pytest.raises(
        BadRecipe, match="heard of, version 1 is an incomplete recipe; complete it in a new version"
    ):
        actions.save_job_step(job, "mix", by=cast.HELPER, mix_version=note)
    with pytest.raises(BadRecipe, match="incomplete recipe"):
        actions.plan_litres(note, 40, by=cast.HELPER)


def test_a_mix_with_an_incomplete_one_inside_is_not_used_either():
    actions.write_mix(cast.recipe("heard of", (1, "leaf mould"), incomplete=True), by=cast.KEEPER)
    whole = actions.write_mix(
        cast.recipe("whole", (1, "heard of"), (1, "crushed granite grit")), by=cast.KEEPER
    )

    with pytest.raises(BadRecipe, match="heard of, version 1 is an incomplete recipe"):
        actions.plan_litres(whole, 40, by=cast.HELPER)


def test_a_mix_may_be_renamed_but_not_to_a_name_that_is_taken():
    version = cast.potting_on()
    cast.bark()

    actions.change_mix(version.mix, by=cast.KEEPER, name="Potting-on bark")
    assert version.mix.name == "Potting-on bark"
    with pytest.raises(Refused, match="is the name of a material"):
        actions.change_mix(version.mix, by=cast.KEEPER, name="pine bark nursery 0-12 MM")
