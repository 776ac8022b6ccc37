"""A stored mix and a pot as one would type them into a form."""

from collections.abc import Mapping

from friable.errors import FriableError
from friable.planning.notation import parse_recipe
from friable.planning.published_start import PublishedStart, written
from friable.planning.recipe import USUAL_STATE
from friable.planning.units_in import figures
from friable.records import plain
from friable.records.models import MixVersion
from friable.records.queries.stores import containers_in_use
from friable.wording import gettext as _

POT_FIELDS = ("container", "headspace", "layer", "layer_material", "use")


def mix_as_typed(version: MixVersion | None) -> dict[str, object]:
    """Return what a form shows for a version; the recipe in one box, or by lines where a name forbids it."""
    if version is None:
        return pot_as_asked({})
    text = recipe_text(version)
    typed: dict[str, object] = {
        **pot_as_asked({}),
        "recipe": text,
        "lines": [] if text else [_line(line) for line in version.lines.all()],
        "amendments": [
            {"name": a.name, "rate": a.typed or f"{figures(a.rate_g_per_l)} g/L", "caution": a.caution}
            for a in version.amendments.all()
        ],
        "cautions": "\n".join(caution.text for caution in version.cautions.all()),
        "shrinkage": "" if version.shrinkage is None else f"{figures(100 * version.shrinkage)} %",
        "incomplete": version.incomplete,
        "top_dressing": version.top_dressing,
        "not_for": version.not_for,
        "use_within_days": version.use_within_days or "",
    }
    return typed


def published_as_typed(start: PublishedStart) -> dict[str, object]:
    """Return what a form shows for a published recipe; where sources differ becomes a caution."""
    recipe = start.recipe
    return {
        **pot_as_asked({}),
        "recipe": start.text,
        "lines": []
        if start.text
        else [{"parts": written(c.parts), "material": c.name, "state": c.state} for c in recipe.components],
        "amendments": [
            {"name": a.name, "rate": rate, "caution": a.caution}
            for a, rate in zip(recipe.amendments, start.rates, strict=True)
        ],
        "cautions": "\n".join((*recipe.cautions, *start.conflicts)),
        "top_dressing": recipe.top_dressing,
        "name": recipe.name,
        "version_note": _("Published: {source}").format(source=start.source),
    }


def recipe_text(version: MixVersion) -> str:
    """Return a version as one line that reads back as the same recipe; empty if none does."""
    text = " + ".join(
        f"{line.written_parts} {line.name}" + ("" if line.state == USUAL_STATE else f" ({line.state})")
        for line in version.lines.all()
    )
    try:
        same = parse_recipe(text, name=version.name).components == plain.recipe(version).components
    except FriableError:
        return ""
    return text if same else ""


def pot_as_asked(asked: Mapping[str, str]) -> dict[str, str]:
    """Return the pot that an address asks for; the first of ours if it asks for none."""
    typed = {field: asked.get(field, "") for field in POT_FIELDS}
    if not typed["container"]:
        first = containers_in_use().first()
        typed["container"] = first.name if first else "round 17/12/13 cm"
    return typed


def _line(line) -> dict[str, str]:
    return {"parts": line.written_parts, "material": line.name, "state": line.state}
