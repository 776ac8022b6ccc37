"""What hypothesis draws for planning; why each range is what it is stands here once."""

from fractions import Fraction

from hypothesis import strategies as st

from friable.errors import FriableError
from friable.planning.recipe import Component, Recipe, RecipeBook
from friable.science.containers import Container


def refusal(read, text):
    """Return the sentence with which a reader refuses a text; empty if it takes it."""
    try:
        read(text)
    except FriableError as problem:
        return str(problem)
    return ""


# Parts as people write them: halves to hundreds, and awkward thirds and sevenths.
parts = st.fractions(min_value=Fraction(1, 12), max_value=200, max_denominator=12)
# What mixing or settling takes; above a half nobody would call it a mix.
losses = st.decimals(min_value=0, max_value="0.5", places=3).map(float)
overages = st.decimals(min_value=0, max_value=1, places=2).map(float)
# From a seed pan to a season's heap. [L]
volumes_l = st.decimals(min_value="0.05", max_value=20_000, places=2).map(Fraction)
# Names that no table holds, so that what is known of a material does not enter.
names = st.sampled_from([f"invented {letter}" for letter in "abcdefgh"])
# A pot that stands on a bench. [cm]
sides_cm = st.integers(min_value=20, max_value=600).map(lambda tenths: tenths / 10)


@st.composite
def recipes(draw, name="made", of=names, most=5):
    """A recipe of different components with a shrinkage of its own, or none."""
    chosen = draw(st.lists(of, min_size=1, max_size=most, unique=True))
    components = tuple(Component(one, draw(parts)) for one in chosen)
    return Recipe(name, components, shrinkage=draw(st.none() | losses))


@st.composite
def recipe_books(draw, deepest=4):
    """Mixes within mixes, each level containing the next at least once."""
    depth = draw(st.integers(min_value=1, max_value=deepest))
    books = {}
    for level in range(depth):
        recipe = draw(recipes(name=f"mix {level}"))
        if level + 1 < depth:
            inner = Component(f"mix {level + 1}", draw(parts))
            recipe = Recipe(recipe.name, (*recipe.components, inner), shrinkage=recipe.shrinkage)
        books[recipe.name] = recipe
    return RecipeBook(books, "mix 0")


@st.composite
def containers(draw, shapes=("round", "square")):
    """A container with a headspace of less than half its height."""
    top, bottom, height = draw(sides_cm), draw(sides_cm), draw(sides_cm)
    headspace = draw(st.integers(min_value=0, max_value=49)) / 100 * height
    return Container(
        shape=draw(st.sampled_from(shapes)),
        top_length_cm=top,
        top_width_cm=top,
        bottom_length_cm=bottom,
        bottom_width_cm=bottom,
        height_cm=height,
        headspace_cm=headspace,
    )
