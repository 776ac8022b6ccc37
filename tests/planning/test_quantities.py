"""From pots to litres and buckets, against sums worked by hand."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from tests.strategies import containers, losses, overages, recipe_books, volumes_l

from friable.errors import FriableError
from friable.planning.notation import parse_container, parse_recipe, read_recipe_file
from friable.planning.quantities import JobLine, book_of, job_amounts
from friable.planning.recipe import Recipe, RecipeBook

ONE_PER_CENT = 0.01
NEW = parse_container("round 17/12/13 cm").with_headspace(1.5)
OLD = parse_container("round 9/6/8.5 cm").with_headspace(1)
BARK_MIX = book_of(parse_recipe("5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"))


def test_sixty_saplings_into_two_litre_pots():
    # Frusta by hand: 17/12/13 filled to 11.5 cm: top 16.42 cm, pi 11.5 (8.21² + 8.21·6 + 6²)/3 = 1.84 L;
    # 9/6/8.5 filled to 7.5 cm: 0.32 L; 1.52 L × 60 = 91.2 L; × 1.05 = 95.7 L; / 0.88 = 108.8 L; 5:1:1.
    amounts = job_amounts([JobLine(NEW, 60, OLD)], BARK_MIX, overage=0.05, shrinkage=0.12, bucket_l=12)
    (line,) = amounts.lines_detail

    assert line.fill_volume_l == pytest.approx(1.84, rel=ONE_PER_CENT)
    assert line.root_ball_l == pytest.approx(0.32, rel=ONE_PER_CENT)
    assert line.new_mix_per_pot_l == pytest.approx(1.52, rel=ONE_PER_CENT)
    assert amounts.net_l == pytest.approx(91.2, rel=ONE_PER_CENT)
    assert amounts.with_overage_l == pytest.approx(95.7, rel=ONE_PER_CENT)
    assert amounts.sum_of_parts_l == pytest.approx(108.8, rel=ONE_PER_CENT)
    assert [p.volume_l for p in amounts.parts] == pytest.approx([77.7, 15.5, 15.5], rel=ONE_PER_CENT)
    assert "60 × 2 L = 120 L ignores taper, headspace and the root ball; 91.2 L is what goes in." in (
        amounts.advice
    )


NESTED = """
[mix.final]
parts = [["base A", 3], ["grit base", 1]]
shrinkage = 0.06
[mix."base A"]
parts = [["coir", 6], ["wood fibre", 3], ["perlite", 1]]
shrinkage = 0.08
[mix."grit base"]
parts = [["sand", 1], ["grit", 1]]
shrinkage = 0.03
"""


def test_each_stage_of_nested_mixes_shrinks_by_its_own_share():
    # By hand: 240/0.94 = 255.3, of which 3/4 = 191.5 and 1/4 = 63.8; 191.5/0.92 = 208.1 in 6:3:1;
    # 63.8/0.97 = 65.8 in halves. Without shrinkage it would be 108/54/18/30/30.
    amounts = job_amounts([], read_recipe_file(NESTED), litres=240)
    final, base, grit = amounts.stages

    assert [p.volume_l for p in final.parts] == pytest.approx([191.5, 63.8], rel=ONE_PER_CENT)
    assert base.poured_l == pytest.approx(208.1, rel=ONE_PER_CENT)
    assert grit.poured_l == pytest.approx(65.8, rel=ONE_PER_CENT)
    assert [p.volume_l for p in amounts.parts] == pytest.approx(
        [124.9, 62.4, 20.8, 32.9, 32.9], rel=ONE_PER_CENT
    )
    # Shares printed to 0.1 %.
    assert [100 * p.share for p in amounts.parts] == pytest.approx([45.6, 22.8, 7.6, 12, 12], abs=0.06)
    assert [100 * p.share_by_finished for p in amounts.parts] == pytest.approx([45, 22.5, 7.5, 12.5, 12.5])


def test_loam_peat_and_sand_in_seven_three_two():
    # 84 L in twelfths: 49, 21, 14. By hand.
    amounts = job_amounts([], book_of(parse_recipe("7 loam + 3 peat + 2 sharp sand")), litres=84)

    assert [p.volume_l for p in amounts.parts] == pytest.approx([49, 21, 14])


def test_settling_and_shrinkage_are_shares_of_what_was_there_before():
    # 100 L × 1.1 = 110; 110 / 0.8 = 137.5 before settling; 137.5 / 0.5 = 275 before mixing. By hand.
    amounts = job_amounts([], BARK_MIX, litres=100, overage=0.1, settling=0.2, shrinkage=0.5)

    assert amounts.with_overage_l == pytest.approx(110)
    assert amounts.with_settling_l == pytest.approx(137.5)
    assert amounts.sum_of_parts_l == pytest.approx(275)


def test_a_drainage_layer_takes_its_room_from_the_mix():
    # 3 cm in a round 12/9/12 cm pot: pi 3 (4.5² + 4.5·4.875 + 4.875²)/3 = 0.207 L of 1.046 L. By hand.
    pot = parse_container("round 12/9/12 cm").with_drainage_layer(3)
    (line,) = job_amounts([JobLine(pot, 1)], BARK_MIX).lines_detail

    assert line.layer_l == pytest.approx(0.207, rel=ONE_PER_CENT)
    assert line.new_mix_per_pot_l == pytest.approx(1.046 - 0.207, rel=ONE_PER_CENT)


def test_bare_roots_leave_the_whole_pot_for_mix():
    kept, washed = (
        job_amounts([JobLine(NEW, 10, OLD, root)], BARK_MIX) for root in ("root ball", "bare root")
    )

    assert washed.net_l == pytest.approx(10 * NEW.fill_volume_l)
    assert kept.net_l == pytest.approx(10 * (NEW.fill_volume_l - OLD.fill_volume_l))
    assert any("Bare roots" in said for said in washed.advice)


def test_two_spellings_of_one_material_are_added_up():
    amounts = job_amounts(
        [], book_of(parse_recipe("1 perlite coarse + 1 coarse perlite + 2 bark x")), litres=4
    )

    assert [(p.material, p.known, p.volume_l) for p in amounts.parts] == [
        ("perlite coarse", True, 2),
        ("bark x", False, 2),
    ]


def test_coir_measured_dry_is_measured_out_less():
    # One part broken up dry is about two parts measured after soaking, by one tester: 1 dry : 2 loose of
    # anything else is half and half, so 8 L need 2 L dry coir and 4 L of the other. Worked by hand from that.
    amounts = job_amounts([], book_of(parse_recipe("1 coir pith (loose dry) + 2 sharp sand x")), litres=8)

    assert [p.volume_l for p in amounts.parts] == pytest.approx([2, 4])


def test_what_was_assumed_is_said():
    amounts = job_amounts([], book_of(parse_recipe("1 thing (tapped dry) + 1 other")), litres=8)

    assert any(said.startswith("No shrinkage is known for this mix") for said in amounts.advice)
    assert (
        "How much thing measured tapped dry gives loose and moist is not known; counted one for one."
        in amounts.advice
    )


REFUSED = [
    ([], {}, "There is nothing to fill; give a container and a count, or the litres wanted."),
    ([JobLine(NEW, 1)], {"litres": 3}, "Both pots and litres are given; leave one of them out."),
    (
        [],
        {"litres": math.nan},
        "the volume wanted is not a number L; it must be above 0 and at most 1,000,000 L.",
    ),
    ([], {"litres": -1}, "the volume wanted is -1 L; it must be above 0 and at most 1,000,000 L."),
    (
        [JobLine(parse_container("tray 100x100x100 cm"), 2000)],
        {},
        "the mix for all pots is 2e+06 L; it must be at most 1,000,000 L. Check the count and the sizes.",
    ),
    ([], {"litres": 1, "overage": 1.5}, "overage is 1.5; it must be from 0 to 1 (100 %)."),
    ([], {"litres": 1, "shrinkage": 1}, "shrinkage is 1; it must be at least 0 and below 1 (100 %)."),
    (
        [],
        {"litres": 1, "settling": math.nan},
        "settling is not a number; it must be at least 0 and below 1 (100 %).",
    ),
    ([], {"litres": 1, "bucket_l": 0}, "the bucket is 0 L; it must be from 0.01 to 10000 L."),
    (
        [JobLine(OLD, 1, NEW)],
        {},
        "The root ball from round 17/12/13 cm is 11.5 cm high and there is room for 7.5 cm "
        "in round 9/6/8.5 cm; choose a deeper container, or shake some of the old mix off "
        "and pot it bare root.",
    ),
    (
        [JobLine(parse_container("round 10/9/20 cm"), 1, parse_container("round 14/9/10 cm"))],
        {},
        "The root ball from round 14/9/10 cm is 4 cm too wide at its top for round 10/9/20 cm; "
        "choose a wider container, or pot it bare root.",
    ),
    (
        [JobLine(parse_container("round 20/5/10 cm"), 1, parse_container("square 10/9/10 cm"))],
        {},
        "The root ball from square 10/9/10 cm is 7.7 cm too wide at its foot for round 20/5/10 cm; "
        "choose a wider container, or pot it bare root.",
    ),
    (
        [JobLine(NEW, 1, NEW)],
        {},
        "The root ball from round 17/12/13 cm fills round 17/12/13 cm completely, with no room for new mix; "
        "choose a larger one.",
    ),
]


@pytest.mark.parametrize(("lines", "options", "sentence"), REFUSED, ids=range(len(REFUSED)))
def test_an_impossible_job_gets_one_sentence(lines, options, sentence):
    with pytest.raises(FriableError) as refused:
        job_amounts(lines, BARK_MIX, **options)

    assert str(refused.value) == sentence


@pytest.mark.parametrize("count", [0, -1, 1.5, 2_000_000])
def test_a_count_is_a_whole_number_of_pots(count):
    with pytest.raises(FriableError, match="the count of pots is"):
        JobLine(NEW, count)


# --- what must always hold ----------------------------------------------------------------------

ROUNDING = 1e-9  # sums of up to twenty floats


@given(recipe_books(), volumes_l, overages, losses, losses)
def test_nothing_is_lost_and_nothing_comes_from_nowhere(book, wanted, overage, settling, shrinkage):
    amounts = job_amounts([], book, litres=wanted, overage=overage, settling=settling, shrinkage=shrinkage)

    assert amounts.with_overage_l == pytest.approx(float(wanted) * (1 + overage))
    assert amounts.stages[0].finished_l == pytest.approx(amounts.with_settling_l)
    for stage in amounts.stages:
        assert stage.poured_l == pytest.approx(sum(p.volume_l for p in stage.parts), rel=ROUNDING)
        assert stage.finished_l == pytest.approx(stage.poured_l * (1 - stage.shrinkage), rel=ROUNDING)
        for part in stage.parts:
            if part.is_mix:
                (inner,) = [s for s in amounts.stages if s.mix == part.name]
                assert inner.finished_l == pytest.approx(part.volume_l, rel=ROUNDING)
    assert amounts.sum_of_parts_l == pytest.approx(sum(p.volume_l for p in amounts.parts), rel=ROUNDING)
    assert sum(p.share for p in amounts.parts) == pytest.approx(1, rel=ROUNDING)
    assert sum(p.share_by_finished for p in amounts.parts) == pytest.approx(1, rel=ROUNDING)


@given(recipe_books(), volumes_l, st.floats(min_value=0.5, max_value=200))
def test_what_is_printed_adds_up_and_its_buckets_with_it(book, wanted, bucket_l):
    amounts = job_amounts([], book, litres=wanted, bucket_l=bucket_l)
    step = amounts.step_l

    printed = sum(p.rounded_l for p in amounts.parts)
    assert abs(printed - amounts.sum_of_parts_l) <= step / 2 + ROUNDING * printed
    for part in amounts.parts:
        assert abs(part.rounded_l - part.volume_l) < step
        assert part.buckets * bucket_l + part.remainder_l == pytest.approx(part.rounded_l)
        assert 0 <= part.remainder_l < bucket_l


@given(recipe_books(), volumes_l, st.randoms())
def test_the_order_of_writing_changes_nothing(book, wanted, random):
    shuffled = {}
    for name in random.sample(sorted(book.recipes), len(book.recipes)):
        recipe = book.recipes[name]
        lines = random.sample(recipe.components, len(recipe.components))
        shuffled[name] = Recipe(name, tuple(lines), shrinkage=recipe.shrinkage)

    here, there = (
        {p.material: p.volume_l for p in job_amounts([], one, litres=wanted).parts}
        for one in (book, RecipeBook(shuffled, book.made))
    )
    assert here == there


@given(st.lists(st.tuples(containers(), st.integers(1, 300)), min_size=1, max_size=4))
def test_several_kinds_of_pots_are_one_sum(pots):
    lines = [JobLine(pot, count) for pot, count in pots]
    assume(sum(pot.fill_volume_l * count for pot, count in pots) < 1e6)

    amounts = job_amounts(lines, BARK_MIX)

    assert amounts.net_l == pytest.approx(sum(pot.fill_volume_l * count for pot, count in pots))
    assert amounts.net_l == pytest.approx(sum(d.net_l for d in amounts.lines_detail))


@given(containers(), containers())
def test_a_root_ball_that_is_accepted_is_smaller_than_its_pot(old, new):
    try:
        amounts = job_amounts([JobLine(new, 1, old)], BARK_MIX)
    except FriableError:
        return
    (line,) = amounts.lines_detail
    assert 0 < line.new_mix_per_pot_l < new.fill_volume_l
    assert line.new_mix_per_pot_l + line.root_ball_l == pytest.approx(new.fill_volume_l)
