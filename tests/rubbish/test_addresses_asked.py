"""Requests that no page of ours sends: wrong methods, odd addresses, foreign hosts, climbing paths."""

import pytest
from django.urls import reverse
from tests import cast
from tests.web.conftest import browser, on_shift, text_of

pytestmark = pytest.mark.django_db

ASKED = [
    "/", "/initials", "/jobs/new", "/mixes/", "/mixes/write", "/mixes/compare", "/mixes/pot-test",
    "/materials/", "/materials/sources", "/materials/add", "/containers/", "/containers/add", "/batches/",
    "/watering/", "/watering/compare/", "/climates/", "/climates/add", "/seasons/", "/seasons/new",
    "/sayings/", "/sayings/sand-opens-bark/", "/sayings/one-size-up/", "/sayings/same-name-pots/",
    "/find/", "/find/replace/", "/find/can-make/",
    "/materials/stock", "/windows/", "/windows/fern-grown/", "/windows/fern-grown/lime",
]  # fmt: skip
CLIMBING = [
    "/static/../../../../etc/passwd", "/static/%2e%2e/%2e%2e/%2e%2e/etc/passwd",
    "/static/..%2f..%2fsettings.py",
    "/static//etc/passwd", "/static/web/css/../../../../settings.py", "/static/%00", "/static/",
    "/sheets/batch/..%2f..%2f..%2fetc%2fpasswd", "/sheets/label/../../../etc/passwd", "/sheets/card/../1",
    "/batches/..%2f..", "/batches/%00", "/batches/%ff%fe", "/batches/26-334J%0d%0aSet-Cookie:x=1",
    "/materials/../../etc/", "/materials/OWN_1e308/", "/materials/OWN_99999999999999999999999/",
    "/mixes/99999999999999999999999999/", "/jobs/99999999999999999999999/pots", "/containers/0/",
    "/sheets/card/99999999999999999999999", "/materials/measurement/99999999999999999999999/withdraw",
    "/admin/", "/admin/login/", "/api/", "/.env", "/friable.sqlite3", "/secret-key", "/__debug__/",
    "/find/../../etc/passwd", "/find/%00/", "/find/..%2f../", "/find/OWN_1/../../stop",
    "/manage.py", "/media/x", "/jobs/-1/pots", "/jobs/1e3/pots",
]  # fmt: skip


@pytest.fixture
def caller():
    return browser(raise_request_exception=False)


@pytest.mark.parametrize("address", CLIMBING)
def test_what_is_not_a_page_is_not_found(caller, address):
    answer = caller.get(address)

    page = text_of(answer)
    assert answer.status_code in (400, 404), page[:300]
    assert "root:x:0" not in page
    assert "SECRET_KEY" not in page
    assert "Traceback" not in page
    assert "Set-Cookie" not in answer.headers


@pytest.mark.parametrize("method", ["put", "patch", "delete", "trace"])
@pytest.mark.parametrize("address", ASKED)
def test_other_methods_are_refused_in_a_plain_sentence(caller, method, address):
    answer = getattr(caller, method)(address)

    assert answer.status_code == 405
    assert "Nothing was changed" in text_of(answer)
    assert "GET" in answer["Allow"]


@pytest.mark.parametrize(
    "address", ["/mixes/answer", "/sheets/paper", "/jobs/1/typed/pots", "/seasons/1/begin", "/find/x/stop"]
)
def test_what_is_only_sent_says_so_when_it_is_asked_for(caller, address):
    answer = caller.get(address)

    assert answer.status_code == 405
    assert "Nothing was changed" in text_of(answer)
    assert answer["Allow"] == "POST"


@pytest.mark.parametrize("address", ASKED)
def test_head_answers_as_get_without_a_body(caller, address):
    answer = caller.head(address)

    assert answer.status_code == 200
    assert answer.content == b""


def test_options_say_what_may_be_asked(caller):
    answer = caller.options("/mixes/")

    assert answer.status_code == 405
    assert answer["Allow"] == "GET, HEAD, POST"


FOREIGN = [
    {"HTTP_HOST": "garden.example"},
    {"HTTP_HOST": "127.0.0.1\r\nX: y"},
    {"HTTP_HOST": "127.0.0.1, garden.example"},
    {"HTTP_X_FORWARDED_FOR": "203.0.113.7"},
    {"HTTP_X_FORWARDED_HOST": "garden.example"},
    {"REMOTE_ADDR": "203.0.113.7"},
    {"REMOTE_ADDR": ""},
    {"REMOTE_ADDR": "127.0.0.1.garden.example"},
]


@pytest.mark.parametrize("header", FOREIGN)
@pytest.mark.parametrize("address", ["/", "/static/web/css/friable.css", "/nowhere", "/batches/"])
def test_no_page_and_no_file_goes_elsewhere(caller, header, address):
    caller.defaults.pop("HTTP_HOST", None)
    answer = caller.get(address, **{"HTTP_HOST": "127.0.0.1:8000", "REMOTE_ADDR": "127.0.0.1", **header})

    assert answer.status_code in (400, 403)
    assert text_of(answer).count("\n") == 1
    assert "Location" not in answer


def test_every_form_wants_its_token(db):
    batch = cast.planned_batch()
    strict = browser(enforce_csrf_checks=True, raise_request_exception=False)
    names = {
        "initials": [], "job-new": [], "mix-write": [], "pot-test": [], "material-add": [],
        "container-add": [], "mix-answer": [], "paper": [], "climate-add": [], "season-new": [],
        "season-begin": [1], "season-stop": [1], "watering-weigh": [],
        "find": [], "replace": [], "can-make": [], "find-stop": ["x"], "find-make": ["x"],
        "material-store": [], "material-stock": ["BKP_M"], "material-price": ["BKP_M"],
        "window-set": ["fern-grown", "air_space"],
        "job-pots": [batch.job.pk], "job-mix": [batch.job.pk], "job-amounts": [batch.job.pk],
        "job-batch": [batch.job.pk], "job-drop": [batch.job.pk], "job-clone": [batch.job.pk],
        "batch-record": [batch.code], "batch-undo": [batch.code],
    }  # fmt: skip
    for name, args in names.items():
        answer = strict.post(reverse(name, args=args), {"reason": "x", "title": "x"})
        assert answer.status_code == 403, name
        assert "This form was not sent from a page of friable" in text_of(answer), name


@pytest.mark.parametrize("length", [5_000, 100_000])
def test_very_long_addresses_are_answered(caller, length):
    for address in ("/" + "x" * length, f"/materials/?q={'x' * length}", f"/batches/?code={'x' * length}"):
        answer = caller.get(address)
        assert answer.status_code in (404, 414, 422)
        assert "Traceback" not in text_of(answer)


@pytest.mark.parametrize(
    "wanted", ["//garden.example", "https://garden.example", "/\\garden.example", "javascript:x"]
)
def test_nobody_is_sent_elsewhere(wanted):
    answer = browser().post("/initials", {"initials": "MK", "next": wanted})

    assert answer.status_code == 302
    assert answer["Location"] == "/"


ODD = ["", "NaN", "-1", "1e308", "99999999999999999999999", "0", "🌱", "\x00", "\u202e", "'", "1" * 5000]


@pytest.mark.parametrize("value", ODD)
def test_odd_values_in_an_address_are_answered(value):
    batch = cast.made_batch()
    helper = on_shift(browser(raise_request_exception=False))
    container = batch.job.lines.first().container
    for name, args, keys in (
        ("material-list", [], ["q", "page"]), ("batch-list", [], ["code", "state", "page"]),
        ("mix-list", [], ["page"]), ("container-list", [], ["trade", "page"]),
        ("mix-compare", [], ["mix", "mix1", "pot1"]), ("mix-write", [], ["recipe", "container"]),
        ("mix-detail", [batch.mix_version.mix_id], ["version", "container", "use", "layer"]),
        ("container-detail", [container.pk], ["mix", "headspace"]), ("container-add", [], ["name"]),
        ("job-mix", [batch.job.pk], ["version"]), ("initials", [], ["next"]),
        ("sheet-label", [batch.code], ["copies", "label_width_mm", "paper", "rows"]),
        ("watering", [], ["mix", "container", "climate", "plant", "factor", "first_day", "base", "used"]),
        ("watering-compare", [], ["mix", "a-mix", "b-container", "d-base", "climate", "dose"]),
        ("watering-weigh", [], ["mix", "container"]), ("climate-list", [], ["page"]),
        ("season-list", [], ["page"]), ("season-new", [], ["climate"]),
        ("saying-detail", ["gravel-drains"], ["medium1", "medium2", "container", "layer"]),
        ("saying-detail", ["one-size-up"], ["container", "other"]),
        ("saying-detail", ["same-name-pots"], ["pot_name"]),
        ("saying-detail", ["bale-doubles"], ["need", "pack_l"]),
        ("find", [], ["for", "group", "container", "again"]), ("replace", [], ["mix", "without", "again"]),
        ("can-make", [], ["litres", "container", "again"]),
        ("window-list", [], ["group"]), ("material-store", [], ["page"]),
    ):  # fmt: skip
        for key in keys:
            answer = helper.get(reverse(name, args=args), {key: value})
            assert answer.status_code in (200, 302, 404, 422), (name, key, answer.status_code)
