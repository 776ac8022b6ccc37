"""Writes: one function a verb, one transaction each, signed with initials, refusing with one sentence."""

from friable.records.actions.batches import (
    correct_batch,
    plan_batch,
    plan_litres,
    record_batch_made,
    undo_batch,
)
from friable.records.actions.climates import add_climate, change_climate
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
from friable.records.actions.seasons import ask_season, begin_season, end_season, fail_season, stop_season
from friable.records.actions.stock import StoreLine, count_store, set_price, set_stock
from friable.records.actions.weighings import weigh_twice, withdraw_weighing
from friable.records.actions.windows import ask_nothing, drop_window, set_window

__all__ = [
    "PotLine",
    "StoreLine",
    "add_alias",
    "add_bucket",
    "add_climate",
    "add_container",
    "add_material",
    "add_mixer",
    "add_pack",
    "add_scale",
    "ask_nothing",
    "ask_season",
    "begin_season",
    "change_climate",
    "change_container",
    "change_material",
    "change_mix",
    "change_mix_version",
    "change_pack",
    "clone_job",
    "container_for",
    "correct_batch",
    "count_store",
    "drop_alias",
    "drop_job",
    "drop_window",
    "end_season",
    "fail_season",
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
    "set_price",
    "set_stock",
    "set_window",
    "start_job",
    "stop_season",
    "undo_batch",
    "use_material",
    "weigh_twice",
    "withdraw_measurement",
    "withdraw_weighing",
    "write_mix",
]
