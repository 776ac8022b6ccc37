"""Grams of every amendment of a job, at every stage of its mixing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from friable.errors import shown
from friable.planning.amendments import AmendmentGrams, all_grams
from friable.planning.job_values import Stage
from friable.planning.recipe import RecipeBook
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.reference.recipes import Conflict


@dataclass(frozen=True, slots=True)
class JobAmendments:
    """What to weigh at each stage, what cannot be weighed, and every caution of the mixes."""

    grams: tuple[tuple[str, AmendmentGrams], ...]  # the mix it goes into, and how much
    cautions: tuple[str, ...]

    def to_json(self) -> dict[str, Any]:
        """Return the amounts under the names that programs read."""
        return {
            "amendments": [{"mix": mix, **grams.to_json()} for mix, grams in self.grams],
            "cautions": list(self.cautions),
        }


def job_amendments(
    book: RecipeBook,
    stages: Sequence[Stage],
    scale_min_g: float | None = None,
    conflicts: "Mapping[str, Sequence[Conflict]] | None" = None,
) -> JobAmendments:
    """Return what to weigh for each mixing of a job, by litre of what it gives.

    Parameters
    ----------
    book : RecipeBook
    stages : sequence of Stage
        As `job_amounts` returns them.
    scale_min_g : float, optional
        The least that our scale weighs. [g]
    conflicts : mapping, optional
        Where sources disagree, by the name of the mix.
    """
    weighed: list[tuple[str, AmendmentGrams]] = []
    cautions: list[str] = []
    for stage in stages:
        recipe = book.recipes[stage.mix]
        grams, too_little = all_grams(
            recipe.amendments, stage.finished_l, scale_min_g, (conflicts or {}).get(stage.mix, ())
        )
        weighed += [(stage.mix, one) for one in grams]
        cautions += [*recipe.cautions, *(said for one in grams for said in one.cautions), *too_little]
        if recipe.top_dressing:
            cautions.append(
                _("Top dressing of {mix}: {what}.").format(
                    mix=shown(stage.mix), what=recipe.top_dressing.rstrip(".")
                )
            )
    return JobAmendments(tuple(weighed), tuple(dict.fromkeys(cautions)))
