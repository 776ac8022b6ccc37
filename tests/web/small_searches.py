"""Searches over few materials, asked and worked out here by what really searches; their keys."""

from friable.planning.container_text import parse_container
from friable.planning.fewest_values import FewestCase
from friable.planning.find_values import FindCase
from friable.planning.limits import Limits
from friable.planning.replacing_values import ReplaceCase
from friable.records.queries.at_hand import at_hand
from friable.reference.material_flags import material_flags
from friable.reference.materials import find_material
from friable.reference.plant_groups import find_plant_group
from friable.runs import search_worker, searches
from friable.runs.searches import Question
from friable.web.fewest.collections import stands_of
from friable.web.finding import work as worked

FEW = ("PEAT_M", "BKP_M", "PERL_C", "COIR_P", "BKF_M")
POT = "round 17/12/13 cm"
TITLE = "general, grown"


def _few():
    return tuple(one for one in at_hand() if one.material.key in FEW)


def _asked(kind, arguments, typed=None, title=TITLE):
    question = Question(kind, arguments, typed or {"container": [POT], "watered": ["JO"]}, title)
    return searches.begin(worked.root(), question, command=("true",))


def worked_out(key):
    """Do the work of a search; return its key."""
    told = search_worker.work(searches.folder_of(worked.root(), key))
    assert told.state == searches.DONE, told
    return key


def _find_case(**changes):
    windows = find_plant_group(TITLE).windows
    values = {
        "windows": windows,
        "container": parse_container(POT),
        "at_hand": _few(),
        "parts": 5,
        "kinds": 3,
    }
    return FindCase(**{**values, **changes})


def found():
    """A search that found mixes."""
    return worked_out(_asked("find", {"case": _find_case()}))


def found_none():
    """A search of which nothing lies within."""
    coir = tuple(one for one in _few() if one.material.key == "COIR_P")
    return worked_out(_asked("find", {"case": _find_case(at_hand=coir)}))


def replaced():
    """A search that found what can stand in, among others another grade."""
    perlite = find_material("perlite coarse")
    mix = ((find_material("pine bark nursery"), 5.0), (perlite, 1.0))
    fine = tuple(one for one in at_hand() if one.material.key == "PERL_F")
    assert not material_flags(perlite).peat
    case = ReplaceCase(
        mix=mix,
        without=frozenset({"PERL_C"}),
        containers=(parse_container(POT),),
        at_hand=(*_few(), *fine),
        parts=6,
        kinds=2,
    )
    return worked_out(_asked("replace", {"case": case}, {"mix": ["none such"], "pot1": [POT]}))


def stood_in():
    """A search for what can be made, and for what stands in."""
    few = tuple(one for one in at_hand() if one.stock_l)
    arguments = {
        "mixes": [(TITLE, ((find_material("gravel"), 1.0),), None)],
        "at_hand": few,
        "wanted_l": 20.0,
        "containers": (parse_container(POT),),
        "kinds": 2,
        "parts": 4,
        "limits": Limits(),
    }
    return worked_out(_asked("can-make", arguments))


def fewest():
    """A search for the fewest mixes of a small collection, with pots of every kind that is told of."""
    lines = (
        "group,stage,container,count,mix", "fern,grown,1 L pot,75,potting-on mix", "bog,grown,,140,bog mix",
        "epiphyte,grown,1 L pot,8,", "palms,grown,seed tray,3,seed mix", "bromeliad,grown,,40,seed mix",
    )  # fmt: skip
    case = FewestCase(stands=stands_of("\n".join(lines)), at_hand=_few(), parts=4, kinds=2)
    return _asked("fewest", {"case": case}, {"collection": list(lines)})


def beginning():
    """A search that is just beginning."""
    return _asked("find", {"case": _find_case()})


def stopped():
    """A search that was stopped."""
    key = beginning()
    folder = searches.folder_of(worked.root(), key)
    searches.stop(folder)
    search_worker.work(folder)
    return key
