"""Load Quillmoor Glasshouses through the same acts that the pages use."""

from django.db import transaction

from friable.demo.collection import ask_for_a_season
from friable.demo.containers import store_containers, store_tools
from friable.demo.jobs import make_stock, write_jobs
from friable.demo.materials import store_materials, store_packs
from friable.demo.measurements import measure
from friable.demo.mixes import MARKER, write_mixes
from friable.demo.store import count_the_store, set_windows
from friable.demo.weather import store_climate
from friable.records.models import Mix


def is_loaded() -> bool:
    """Say whether Quillmoor was ever loaded here, even if its first mix has another name by now."""
    return Mix.history.filter(name=MARKER).exists()


@transaction.atomic
def load() -> bool:
    """Load everything, or nothing; say whether anything was loaded."""
    if is_loaded():
        return False
    rows = store_materials()
    store_packs(rows)
    count_the_store(rows)
    set_windows()
    pots = store_containers()
    tools = store_tools()
    mixes = write_mixes()
    measure(rows, pots, mixes, MARKER)
    make_stock(mixes)
    write_jobs(rows, pots, mixes, tools, MARKER)
    ask_for_a_season(store_climate())
    return True
