"""What a mix does in the pots of a job, put together for its pages: air, water, shrinkage."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from friable.drawing.pot_section import pot_section_svg
from friable.errors import FriableError
from friable.planning.evidence import Evidence, drainage_layer_evidence
from friable.planning.forecast_values import Forecast
from friable.planning.reading import pot_reading
from friable.records import plain
from friable.records.models import JobLine, MixVersion, PottingJob
from friable.records.queries.mixes import versions_below
from friable.reference.cautions import Caution
from friable.science.estimate import Estimate
from friable.web.mixes.answers import cautions_of
from friable.web.mixes.forecasts import forecast
from friable.web.mixes.poured import Poured, of_version


@dataclass(frozen=True, slots=True)
class PotAnswer:
    """Air and water of a mix in the pots of one line; a refusal in their place where nothing can be said."""

    line: JobLine
    forecast: Forecast | None = None
    reading: str = ""
    drawing: SafeString | str = ""
    refusal: str = ""


@dataclass(frozen=True, slots=True)
class ExpectedShrinkage:
    """What is likely to be lost on mixing, and whether that was measured here."""

    figure: Estimate
    measured: bool


@dataclass(frozen=True, slots=True)
class JobAnswer:
    """A mix in all pots of a job, what can hurt in it, and what is published on its drainage layers."""

    pots: tuple[PotAnswer, ...] = ()
    cautions: tuple[Caution, ...] = ()
    layer_evidence: tuple[Evidence, ...] = ()


def job_answer(job: PottingJob, version: MixVersion | None) -> JobAnswer:
    """Return one answer a line of the job, and the cautions, as far as its materials are known."""
    if version is None:
        return JobAnswer()
    lines = list(job.lines.all())
    layers = [line.layer_material for line in lines if line.layer_material]
    try:
        poured = of_version(version)
        known = plain.materials(layers) if layers else {}
    except FriableError as problem:
        return JobAnswer(tuple(PotAnswer(line, refusal=str(problem)) for line in lines))
    pots = tuple(_pot_answer(line, version, poured) for line in lines)
    return JobAnswer(
        pots,
        tuple(cautions_of([*[material for material, _share in poured.parts], *known.values()])),
        drainage_layer_evidence() if any(line.drainage_layer_cm for line in lines) else (),
    )


def _pot_answer(line: JobLine, version: MixVersion, poured: Poured) -> PotAnswer:
    try:
        found = forecast(
            poured.parts,
            plain.container(
                line.container, headspace_cm=line.headspace_cm, drainage_layer_cm=line.drainage_layer_cm
            ),
            layer_material=plain.material(line.layer_material) if line.layer_material else None,
            losses=poured.losses,
        )
        drawing = pot_section_svg(
            found.container,
            found.profile,
            title=_("{mix} in {pot}, cut open").format(mix=version.name, pot=line.container.name),
            root_ball=_root_ball(line),
            layer_name=line.layer_material.name if line.layer_material else "",
            key=f"pot-{line.pk}",
        )
    except FriableError as problem:
        return PotAnswer(line, refusal=str(problem))
    # Built by an XML writer from numbers and escaped text.
    return PotAnswer(line, found, pot_reading(found), mark_safe(drawing))  # noqa: S308


def _root_ball(line: JobLine):
    if line.root != "root ball" or line.potted_from is None:
        return None
    return plain.container(line.potted_from, headspace_cm=line.potted_from_headspace_cm)


def expected_shrinkage(job: PottingJob, pots: Sequence[PotAnswer]) -> ExpectedShrinkage | None:
    """Return the shrinkage measured for the mix, else the forecast one; None where neither can be given.

    A mix that contains a mix with a measured shrinkage has none forecast: the forecast pours everything
    together at once and would count that loss twice.
    """
    version = job.mix_version
    if version is None:
        return None
    if version.shrinkage is not None:
        measured = Estimate.exact(version.shrinkage, "measured", _("measured here"))
        return ExpectedShrinkage(measured, measured=True)
    if any(part.shrinkage is not None for part in versions_below(version)):
        return None
    for answer in pots[:1]:
        if answer.forecast is not None:
            return ExpectedShrinkage(answer.forecast.shrinkage, measured=False)
    return None
