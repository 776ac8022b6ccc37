"""What is compared, and in which pots."""

from dataclasses import dataclass

from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.planning.notation import parse_recipe
from friable.records.models import MixVersion
from friable.records.queries.mixes import mix_named
from friable.science.containers import Container
from friable.web.forms import LineField, PlainForm
from friable.web.mixes import poured
from friable.web.mixes.forms import PotField
from friable.web.mixes.poured import Poured

MOST = 4
LONGEST_RECIPE = 2000


@dataclass(frozen=True, slots=True)
class Compared:
    """One of the mixes side by side."""

    name: str
    poured: Poured
    version: MixVersion | None = None


class MixOrRecipeField(LineField):
    """A mix by its name, one of its versions, or a recipe that is only typed."""

    def clean(self, value):
        """Return what is compared, or None where nothing is typed."""
        text = super().clean(value)
        if not text:
            return None
        try:
            version = version_named(text)
            if version is not None:
                return Compared(str(version), poured.of_version(version), version)
            return Compared(text, poured.of_recipe(parse_recipe(text, name=text[:120])))
        except FriableError as problem:
            raise ValidationError(str(problem)) from problem


class CompareForm(PlainForm):
    """Up to four mixes in up to four pots."""

    def __init__(self, data) -> None:
        super().__init__(data)
        for place in range(1, MOST + 1):
            self.fields[f"mix{place}"] = MixOrRecipeField(
                label=_("Mix %(number)s") % {"number": place},
                required=False,
                max_length=LONGEST_RECIPE,
                attrs={"list": "known-versions", "spellcheck": "false"},
            )
        for place in range(1, MOST + 1):
            self.fields[f"pot{place}"] = PotField(
                label=_("Pot %(number)s") % {"number": place}, required=False, help_text=""
            )

    def mix_fields(self):
        """The fields of the mixes."""
        return [self[f"mix{place}"] for place in range(1, MOST + 1)]

    def pot_fields(self):
        """The fields of the pots."""
        return [self[f"pot{place}"] for place in range(1, MOST + 1)]

    @property
    def mixes(self) -> list[Compared]:
        """The mixes that could be read, in their order."""
        found = [self.cleaned_data.get(f"mix{place}") for place in range(1, MOST + 1)]
        return [one for one in found if one is not None]

    @property
    def pots(self) -> list[Container]:
        """The pots that could be read, each once, in their order."""
        return [pot for _name, pot in self.named_pots()]

    def named_pots(self) -> list[tuple[str, Container]]:
        """The same pots, each with the name that was typed for it."""
        named: dict[Container, str] = {}
        for place in range(1, MOST + 1):
            pot = self.cleaned_data.get(f"pot{place}")
            if pot is not None:
                named.setdefault(pot, self.data[f"pot{place}"].strip())
        return [(name, pot) for pot, name in named.items()]


def known_versions() -> list[str]:
    """Return mixes in use by name, and each of their versions."""
    versions = MixVersion.objects.filter(mix__in_use=True).select_related("mix")
    return list(dict.fromkeys(name for version in versions for name in (version.name, str(version))))


def version_named(text: str) -> MixVersion | None:
    """Return a version by its full name, or the newest of a mix; None if there is no such mix."""
    mix = mix_named(text)
    if mix is not None:
        return mix.versions.select_related("mix").order_by("-number").first()
    name, comma, number = text.rpartition(", version ")
    mix = mix_named(name) if comma and number.strip().isdecimal() and len(number) < 6 else None
    return mix.versions.select_related("mix").filter(number=int(number)).first() if mix else None
