"""Writes: one function a verb, one transaction each, signed with initials, refusing with one sentence."""

from friable.records.actions.batches import (
    correct_batch,
    plan_batch,
    plan_litres,
    record_batch_made,
    undo_batch,
)
from friable.records.actions.equipment import (
    add_bucket,
    add_container,
    add_mixer,
    add_scale,
    change_container,
    container_for,
    retire,
)
from friable.records.actions.jobs import (
    PotLine,
    clone_job,
    drop_job,
    keep_typed,
    mark_potted,
    save_job_step,
    start_job,
)
from friable.records.actions.materials import (
    add_alias,
    add_material,
    add_pack,
    change_material,
    change_pack,
    drop_alias,
    use_material,
)
from friable.records.actions.measurements import (
    measure_dry_bulk_density,
    measure_mix_volume,
    measure_pack_yield,
    measure_pot_test,
    measure_pot_volume,
    withdraw_measurement,
)
from friable.records.actions.mixes import change_mix, change_mix_version, new_mix_version, write_mix

__all__ = [
    "PotLine",
    "add_alias",
    "add_bucket",
    "add_container",
    "add_material",
    "add_mixer",
    "add_pack",
    "add_scale",
    "change_container",
    "change_material",
    "change_mix",
    "change_mix_version",
    "change_pack",
    "clone_job",
    "container_for",
    "correct_batch",
    "drop_alias",
    "drop_job",
    "keep_typed",
    "mark_potted",
    "measure_dry_bulk_density",
    "measure_mix_volume",
    "measure_pack_yield",
    "measure_pot_test",
    "measure_pot_volume",
    "new_mix_version",
    "plan_batch",
    "plan_litres",
    "record_batch_made",
    "retire",
    "save_job_step",
    "start_job",
    "undo_batch",
    "use_material",
    "withdraw_measurement",
    "write_mix",
]
