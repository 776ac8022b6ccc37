"""Water for a stored job: its mix forecast, its moistures handed to planning."""

from friable.planning.batch_water import BatchWater, water_for_batch, water_words
from friable.planning.container_text import parse_container
from friable.planning.forecast import forecast
from friable.records import plain
from friable.records.models import Batch, PottingJob

ANY_POT = "round 17/12/13 cm"  # the dry mass of a litre is the same in every pot


def job_water(job: PottingJob, finished_l: float) -> BatchWater | None:
    """Return the water for so many finished litres of a job's mix; None where no moisture is given.

    Raises
    ------
    FriableError
        If nothing is known of one of the materials, or the moistures are impossible.
    """
    if job.mix_version is None or job.moisture_now is None or job.moisture_wanted is None:
        return None
    found = forecast(
        plain.resolve_parts(job.mix_version),
        parse_container(ANY_POT),
        pair_overlap_loss=plain.pair_overlap_loss(job.mix_version) or None,
    )
    return water_for_batch(
        found.dry_bulk_density_g_cm3, finished_l, job.moisture_now, job.moisture_wanted, job.moisture_meaning
    )


def batch_water_words(batch: Batch) -> str:
    """Return the water that a batch was planned with, in words; empty where none was."""
    if batch.water_l is None:
        return ""
    litres = (batch.water_l, batch.water_low_l, batch.water_high_l)
    return water_words(litres, batch.moisture_now, batch.moisture_wanted, batch.moisture_meaning)
