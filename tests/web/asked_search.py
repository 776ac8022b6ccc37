"""Asking for a search and doing the work of its process, for the tests of the pages."""

import html
import re

from tests.web import conftest, found_mixes

from friable.runs import search_worker, searches
from friable.web.finding import work as worked

POT = "round 17/12/13 cm"
ASKED = {"group": "general-grown", "container": POT, "which": "all", "parts": "4", "kinds": "3"}


def text_of(answer):
    """The page, without the marks that keep a size on one line."""
    return re.sub(r'<span class="whole">([^<]*)</span>', r"\1", conftest.text_of(answer))


def page_of(answer):
    """The page as it is read, on single spaces."""
    return html.unescape(" ".join(text_of(answer).split()))


def folders():
    """The folders of all searches."""
    root = worked.root()
    return (
        sorted(path for path in root.iterdir() if searches.KEY.fullmatch(path.name)) if root.exists() else []
    )


def folder_of(key):
    """The folder of a search."""
    return searches.folder_of(worked.root(), key)


def ask(helper, address="/find/", **changes):
    """Ask, and return the key of what was begun."""
    answer = helper.post(address, {**ASKED, **changes})
    assert answer.status_code == 302, page_of(answer)
    return answer["Location"].split("/")[2]


def work_out(key, engines=None):
    """Do what the process does, with answers from a few forecasts."""
    return search_worker.work(folder_of(key), engines or {"find": found_mixes.find})


def question_of(key):
    """What is searched for."""
    return worked.question_of(folder_of(key))


def case_of(key):
    """The case that is searched for."""
    return question_of(key).arguments["case"]
