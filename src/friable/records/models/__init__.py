"""Everything that is kept, one file a thing."""

from friable.records.models.batches import Batch, BatchAmendment, BatchCaution, BatchLine
from friable.records.models.climates import ClimateColumn, ClimateFile
from friable.records.models.containers import Container
from friable.records.models.equipment import Bucket, Mixer, Scale
from friable.records.models.jobs import JobDraft, JobLine, PottingJob
from friable.records.models.materials import Material, MaterialAlias
from friable.records.models.measurements import Measurement
from friable.records.models.mixes import Mix, MixAmendment, MixCaution, MixLine, MixVersion
from friable.records.models.packs import Pack
from friable.records.models.seasons import Season
from friable.records.models.stock import MaterialPrice, MaterialStock
from friable.records.models.weighings import PotWeighing
from friable.records.models.windows import GroupWindow

__all__ = [
    "Batch",
    "BatchAmendment",
    "BatchCaution",
    "BatchLine",
    "Bucket",
    "ClimateColumn",
    "ClimateFile",
    "Container",
    "GroupWindow",
    "JobDraft",
    "JobLine",
    "Material",
    "MaterialAlias",
    "MaterialPrice",
    "MaterialStock",
    "Measurement",
    "Mix",
    "MixAmendment",
    "MixCaution",
    "MixLine",
    "MixVersion",
    "Mixer",
    "Pack",
    "PotWeighing",
    "PottingJob",
    "Scale",
    "Season",
]
