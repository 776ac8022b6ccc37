"""What changed from one version to the next."""

from fractions import Fraction

from friable.planning.recipe import Amendment, Component, Recipe
from friable.planning.recipe_changes import recipe_changes

BARK = Component("pine bark", Fraction(5))
PEAT = Component("sphagnum peat", Fraction(1))
LIME = Amendment("dolomitic limestone", 3.0, typed="3 kg/m3")


def test_the_same_recipe_has_no_changes():
    recipe = Recipe("a", (BARK, PEAT), amendments=(LIME,), cautions=("Damp it.",), shrinkage=0.12)

    assert recipe_changes(recipe, recipe) == ()


def test_components_that_came_changed_or_went_are_told():
    old = Recipe("a", (BARK, PEAT, Component("grit", Fraction(1, 3))))
    new = Recipe(
        "a",
        (
            Component("pine bark", Fraction(4)),
            Component("sphagnum peat", Fraction(1), "loose soaked"),
            Component("perlite", Fraction(1)),
        ),
    )

    assert recipe_changes(old, new) == (
        "pine bark: 5 parts became 4 parts.",
        "sphagnum peat: 1 part became 1 part (loose soaked).",
        "perlite came in: 1 part.",
        "grit was left out.",
    )


def test_thirds_are_told_as_thirds():
    old, new = Recipe("a", (BARK,)), Recipe("a", (BARK, Component("grit", Fraction(1, 3))))

    assert recipe_changes(old, new) == ("grit came in: 1/3 parts.",)


def test_what_stands_beside_the_parts_is_told_too():
    old = Recipe("a", (BARK,), amendments=(LIME,), cautions=("Damp it.",), shrinkage=0.12)
    new = Recipe(
        "a",
        (BARK,),
        amendments=(Amendment("dolomitic limestone", 4.0), Amendment("gypsum", 1.0)),
        cautions=("Use fresh.",),
        incomplete=True,
        top_dressing="grit",
        not_for="heaths",
        use_within_days=14,
    )

    assert recipe_changes(old, new) == (
        "dolomitic limestone: 3 kg/m3 became 4 g/L.",
        "gypsum is added: 1 g/L.",
        "New caution: Use fresh.",
        "Caution left out: Damp it.",
        "Shrinkage: 12 % became not measured.",
        "It is incomplete now.",
        "Top dressing: none became grit.",
        "Not for: none became heaths.",
        "To be used within: no limit became 14 days.",
    )
