"""What changed from one version of a recipe to the next, in words."""

from collections.abc import Iterable
from fractions import Fraction

from friable.planning.recipe import USUAL_STATE, Amendment, Component, Recipe
from friable.planning.units_in import figures
from friable.wording import gettext as _


def recipe_changes(old: Recipe, new: Recipe) -> tuple[str, ...]:
    """Return one short sentence for each difference; empty if both are the same recipe."""
    return tuple(
        [
            *_component_changes(old.components, new.components),
            *_amendment_changes(old.amendments, new.amendments),
            *_caution_changes(old.cautions, new.cautions),
            *_rest(old, new),
        ]
    )


def _component_changes(old: Iterable[Component], new: Iterable[Component]) -> list[str]:
    before = {c.name: c for c in old}
    after = {c.name: c for c in new}
    said = []
    for name, component in after.items():
        if name not in before:
            said.append(_("{name} came in: {parts}.").format(name=name, parts=_parts(component)))
        elif before[name] != component:
            said.append(
                _("{name}: {before} became {after}.").format(
                    name=name, before=_parts(before[name]), after=_parts(component)
                )
            )
    said += [_("{name} was left out.").format(name=name) for name in before if name not in after]
    return said


def _amendment_changes(old: Iterable[Amendment], new: Iterable[Amendment]) -> list[str]:
    before = {a.name: a for a in old}
    after = {a.name: a for a in new}
    said = []
    for name, amendment in after.items():
        if name not in before:
            said.append(_("{name} is added: {rate}.").format(name=name, rate=_rate(amendment)))
        elif before[name].rate_g_per_l != amendment.rate_g_per_l:
            said.append(
                _("{name}: {before} became {after}.").format(
                    name=name, before=_rate(before[name]), after=_rate(amendment)
                )
            )
        elif before[name].caution != amendment.caution:
            said.append(_("The caution of {name} changed.").format(name=name))
    said += [_("{name} is added no more.").format(name=name) for name in before if name not in after]
    return said


def _caution_changes(old: Iterable[str], new: Iterable[str]) -> list[str]:
    before, after = list(old), list(new)
    return [
        *[_("New caution: {text}").format(text=text) for text in after if text not in before],
        *[_("Caution left out: {text}").format(text=text) for text in before if text not in after],
    ]


def _rest(old: Recipe, new: Recipe) -> list[str]:
    said = []
    if old.shrinkage != new.shrinkage:
        said.append(
            _("Shrinkage: {before} became {after}.").format(
                before=_share(old.shrinkage), after=_share(new.shrinkage)
            )
        )
    if old.incomplete != new.incomplete:
        said.append(_("It is incomplete now.") if new.incomplete else _("It is complete now."))
    if old.top_dressing != new.top_dressing:
        said.append(
            _("Top dressing: {before} became {after}.").format(
                before=old.top_dressing or _("none"), after=new.top_dressing or _("none")
            )
        )
    if old.not_for != new.not_for:
        said.append(
            _("Not for: {before} became {after}.").format(
                before=old.not_for or _("none"), after=new.not_for or _("none")
            )
        )
    if old.use_within_days != new.use_within_days:
        said.append(
            _("To be used within: {before} became {after}.").format(
                before=_days(old.use_within_days), after=_days(new.use_within_days)
            )
        )
    return said


def _parts(component: Component) -> str:
    said = (
        _("1 part") if component.parts == 1 else _("{number} parts").format(number=_number(component.parts))
    )
    return said if component.state == USUAL_STATE else f"{said} ({component.state})"


def _number(parts: Fraction) -> str:
    exact = f"{float(parts):g}"
    return exact if Fraction(exact) == parts else str(parts)


def _rate(amendment: Amendment) -> str:
    return amendment.typed or f"{figures(amendment.rate_g_per_l)} g/L"


def _days(days: int | None) -> str:
    if days is None:
        return _("no limit")
    return _("1 day") if days == 1 else _("{count} days").format(count=days)


def _share(shrinkage: float | None) -> str:
    return _("not measured") if shrinkage is None else f"{figures(100 * shrinkage)} %"
