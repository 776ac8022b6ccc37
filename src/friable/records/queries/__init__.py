"""Reads that join or sum: plural nouns, without a query a row."""

from friable.records.queries.batches import (
    batch_coded,
    batches_by_state,
    batches_made_from,
    batches_with_lines,
    batches_with_material,
)
from friable.records.queries.jobs import closed_jobs, jobs_with_lines, last_open_job, open_jobs, typed_in
from friable.records.queries.measurements import (
    densities_measured,
    measurements_of_container,
    measurements_of_material,
    mix_volumes_measured,
    standing,
    yields_measured,
)
from friable.records.queries.mixes import (
    is_frozen,
    material_named,
    mix_history,
    mix_named,
    mixes_behind,
    mixes_in_use,
    use_of,
    versions_above,
    versions_below,
    versions_with_lines,
)
from friable.records.queries.problems import problems
from friable.records.queries.stores import (
    buckets_in_use,
    container_named,
    containers_in_use,
    materials_in_use,
    mixers_in_use,
    packs_in_use,
    packs_of,
    scales_in_use,
)

__all__ = [
    "batch_coded",
    "batches_by_state",
    "batches_made_from",
    "batches_with_lines",
    "batches_with_material",
    "buckets_in_use",
    "closed_jobs",
    "container_named",
    "containers_in_use",
    "densities_measured",
    "is_frozen",
    "jobs_with_lines",
    "last_open_job",
    "material_named",
    "materials_in_use",
    "measurements_of_container",
    "measurements_of_material",
    "mix_history",
    "mix_named",
    "mix_volumes_measured",
    "mixers_in_use",
    "mixes_behind",
    "mixes_in_use",
    "open_jobs",
    "packs_in_use",
    "packs_of",
    "problems",
    "scales_in_use",
    "standing",
    "typed_in",
    "use_of",
    "versions_above",
    "versions_below",
    "versions_with_lines",
    "yields_measured",
]
