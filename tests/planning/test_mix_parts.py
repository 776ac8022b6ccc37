"""A recipe as materials and loose volumes."""

import pytest

from friable.errors import AmbiguousName, UnknownName
from friable.planning.mix_parts import mix_parts
from friable.planning.notation import parse_recipe, read_recipe_file
from friable.planning.quantities import book_of


def shares(parts):
    total = sum(volume for _material, volume in parts)
    return {material.key: pytest.approx(volume / total) for material, volume in parts}


def test_nested_mixes_are_multiplied_out_with_their_shrinkage():
    # 1 b + 1 perlite, b shrinks by half: 1 L of b takes 2 L of bark; so 2 bark : 1 perlite. By hand.
    book = read_recipe_file(
        '[mix.a]\nparts = [["b", 1], ["perlite coarse", 1]]\n'
        '[mix.b]\nparts = [["pine bark nursery", 7]]\nshrinkage = 0.5\n'
    )

    assert shares(mix_parts(book)) == {"BKP_M": 2 / 3, "PERL_C": 1 / 3}


def test_a_part_measured_in_another_state_counts_by_what_it_gives_loose():
    # Coir broken up dry gives about two parts, by one tester: 1 dry and 2 sand are half and half.
    parts = mix_parts(book_of(parse_recipe("1 coir pith (loose dry) + 2 horticultural sand medium")))

    assert shares(parts) == {"COIR_P": 0.5, "SAND_M": 0.5}


def test_lines_of_one_material_are_added_up():
    parts = mix_parts(book_of(parse_recipe("1 perlite coarse + 1 coarse perlite")))

    assert len(parts) == 1


@pytest.mark.parametrize(
    ("text", "error"), [("1 moon dust + 1 perlite coarse", UnknownName), ("1 perlite", AmbiguousName)]
)
def test_a_name_that_is_not_one_material_is_refused(text, error):
    with pytest.raises(error):
        mix_parts(book_of(parse_recipe(text)))
