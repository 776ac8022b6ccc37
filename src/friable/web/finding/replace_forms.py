"""What is asked when a material has to go."""

from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.records.queries.potted import containers_of
from friable.records.queries.stores import containers_in_use
from friable.web.finding.forms import LimitsForm
from friable.web.forms import LineField
from friable.web.mixes.compare_forms import LONGEST_RECIPE, MixOrRecipeField, version_named
from friable.web.mixes.forms import PotField

if TYPE_CHECKING:
    from friable.planning.replacing_values import ReplaceCase

MOST_POTS = 3
PEAT = "peat"
USUAL_POT = "round 17/12/13 cm"


class ReplaceForm(LimitsForm):
    """A mix, what it must do without, and the containers that it is really used in."""

    mix = MixOrRecipeField(
        label=_("Mix"),
        max_length=LONGEST_RECIPE,
        attrs={"list": "known-versions", "spellcheck": "false"},
        missing=_(
            "The mix is missing; name one of yours, or write a recipe such as 3 coir pith + 1 perlite coarse."
        ),
        help_text=_("One of yours by name, or a recipe such as 3 coir pith + 1 perlite coarse."),
    )
    without = LineField(
        label=_("Without"),
        missing=_("Say what has run out or is given up, such as perlite coarse, or peat for all peat."),
        attrs={"list": "known-materials", "spellcheck": "false"},
        help_text=_("A material, or several parted by commas. “peat” means all peat."),
    )

    def __init__(self, *args, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        for place in range(1, MOST_POTS + 1):
            self.fields[f"pot{place}"] = PotField(
                label=_("In this pot") if place == 1 else _("And in"),
                required=place == 1,
                **({} if place == 1 else {"help_text": ""}),
            )

    @property
    def pot_fields(self):
        """The fields of the containers."""
        return [self[f"pot{place}"] for place in range(1, MOST_POTS + 1)]

    @property
    def pots(self):
        """The containers that were read, each once."""
        found = [self.cleaned_data.get(f"pot{place}") for place in range(1, MOST_POTS + 1)]
        return tuple(dict.fromkeys(pot for pot in found if pot is not None))

    def clean(self):
        """Read what must go, with the mix at hand."""
        said = super().clean()
        self.gone: frozenset[str] = frozenset()
        mix = said.get("mix")
        if mix is not None and "without" in said:
            from friable.planning.replacing_without import without

            try:
                self.gone = without(said["without"], mix.poured.parts, self.at_hand)
            except FriableError as problem:
                self.refuse(problem, "without")
        return said

    def case(self) -> "ReplaceCase":
        """Return what is searched for.

        Raises
        ------
        FriableError
            If it cannot be.
        """
        from friable.planning.replacing_values import ReplaceCase

        said = self.cleaned_data
        return ReplaceCase(
            mix=said["mix"].poured.parts,
            without=self.gone,
            containers=self.pots,
            at_hand=self.taken,
            parts=said["parts"],
            kinds=said["kinds"],
            limits=self.limits,
            pair_overlap_loss=said["mix"].poured.losses,
        )

    @property
    def title(self) -> str:
        """What is searched for, in words."""
        said = self.cleaned_data
        return str(_("{mix} without {materials}")).format(mix=said["mix"].name, materials=said["without"])


def pots_of(mix_name: str) -> dict[str, str]:
    """Return the containers that a mix is asked in at first: those it went into, else the first of ours."""
    version = version_named(mix_name) if mix_name else None
    used = containers_of(version.mix) if version else []
    names = [row.name for row in (used or list(containers_in_use()[:1]))[:MOST_POTS]] or [USUAL_POT]
    return {f"pot{place}": name for place, name in enumerate(names, start=1)}
