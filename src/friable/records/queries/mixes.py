"""Reading mixes: what is in them, what contains them, what was made of them."""

from django.db.models import Prefetch

from friable.errors import shown
from friable.records.models import Material, MaterialAlias, Mix, MixLine, MixVersion
from friable.records.text import tidy
from friable.wording import gettext as _

LINES = Prefetch("lines", MixLine.objects.select_related("material", "sub_mix__mix").order_by("position"))


def versions_with_lines():
    """Versions with mix, lines, amendments and cautions, in four queries however many."""
    return MixVersion.objects.select_related("mix").prefetch_related(LINES, "amendments", "cautions")


def mixes_in_use():
    """Mixes in use, by name; `newest` is the list of their versions, newest first, with lines."""
    newest_first = versions_with_lines().order_by("-number")
    return Mix.objects.filter(in_use=True).prefetch_related(
        Prefetch("versions", newest_first, to_attr="newest")
    )


def mix_history(mix):
    """Versions of a mix, newest first, with lines, amendments and cautions."""
    return versions_with_lines().filter(mix=mix).order_by("-number")


def mix_named(name):
    """The mix of a name, whatever its capitals; None if there is none."""
    return _named(Mix.objects.all(), name)


def material_named(name):
    """The stored material of a name or an alias, whatever its capitals; None if there is none."""
    found = _named(Material.objects.all(), name)
    if found is None:
        alias = _named(MaterialAlias.objects.select_related("material"), name)
        found = alias.material if alias else None
    return found


def versions_below(version):
    """A version and everything it contains at any depth, itself first, without repeats."""
    found = {version.pk: version}
    level = [version.pk]
    while level:
        parts = MixVersion.objects.select_related("mix").filter(contained_in__version__in=level).distinct()
        level = [part.pk for part in parts if part.pk not in found]
        found.update({part.pk: part for part in parts if part.pk not in found})
    return list(found.values())


def versions_above(version):
    """A version and everything that contains it at any depth, itself first, without repeats."""
    found = {version.pk: version}
    level = [version.pk]
    while level:
        wholes = MixVersion.objects.select_related("mix").filter(lines__sub_mix__in=level).distinct()
        level = [whole.pk for whole in wholes if whole.pk not in found]
        found.update({whole.pk: whole for whole in wholes if whole.pk not in found})
    return list(found.values())


def use_of(version):
    """What uses a version, by itself or inside another mix, in words; empty if nothing does."""
    wholes = versions_above(version)
    batch = _first(wholes, "batches")
    if batch is not None:
        return _("batch {code}").format(code=batch.code)
    job = _first(wholes, "jobs")
    if job is not None:
        return _("job “{title}”").format(title=shown(job.title))
    weighing = _first(wholes, "weighings")
    return _("a weighing of {pot}").format(pot=shown(str(weighing.container))) if weighing is not None else ""


def is_frozen(version):
    """True once a batch, a job or a weighing uses a version."""
    return bool(use_of(version))


def mixes_behind(version):
    """Components that are mixes and have a newer version than the one written here."""
    newest = {}
    lines = [line for line in version.lines.all() if line.sub_mix_id]
    for part in MixVersion.objects.filter(mix__in=[line.sub_mix.mix_id for line in lines]).order_by("number"):
        newest[part.mix_id] = part
    return [line for line in lines if newest[line.sub_mix.mix_id].pk != line.sub_mix_id]


def _first(versions, what):
    owners = MixVersion._meta.get_field(what).related_model.objects
    return owners.filter(mix_version__in=[version.pk for version in versions]).order_by("pk").first()


def _named(rows, name):
    """Find by folded name: the database folds only plain letters, a name may have others."""
    wanted = tidy(name)
    names = dict(rows.order_by().values_list("name", "pk"))
    found = names.get(wanted)
    if found is None:
        folded = wanted.casefold()
        found = next((pk for other, pk in names.items() if other.casefold() == folded), None)
    return None if found is None else rows.get(pk=found)
