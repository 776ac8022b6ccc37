"""Reading climates, weighings and seasons; long texts stay where they are until they are asked for."""

from friable.records.models import ClimateFile, PotWeighing, Season


def climates_in_use():
    """Climates in use, by name, without their texts."""
    return ClimateFile.objects.filter(in_use=True).defer("text")


def climate_named(name):
    """The stored climate of a name, whatever its capitals; None if there is none."""
    wanted = name.strip().casefold()
    rows = ClimateFile.objects.defer("text").order_by("-in_use", "pk")
    return next((row for row in rows if row.name.casefold() == wanted), None)


def weighings_standing():
    """Weighings that were not withdrawn, newest first."""
    return PotWeighing.objects.filter(withdrawn_at=None).select_related(
        "mix_version__mix", "container", "climate"
    )


def newest_weighing(*, container, plant, mix_version=None, recipe_text=""):
    """The newest standing weighing of this mix or recipe in this container with this plant, or None."""
    return (
        weighings_standing()
        .filter(container=container, plant=plant, mix_version=mix_version, recipe_text=recipe_text)
        .first()
    )


def seasons_asked():
    """Seasons, newest first, without their collections."""
    return Season.objects.select_related("climate").defer("collection", "climate__text")
