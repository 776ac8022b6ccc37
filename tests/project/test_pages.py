"""What fails is said in plain words, with the same protection as every page."""

import pytest
from django.test import Client
from tests.project import addresses

pytestmark = pytest.mark.urls("tests.project.addresses")

HERE = {"headers": {"host": "127.0.0.1:8000"}}


@pytest.fixture
def caller():
    return Client(raise_request_exception=False, enforce_csrf_checks=True, **HERE)


@pytest.fixture(autouse=True)
def _nothing_saved():
    addresses.saved.clear()


def text(answer) -> str:
    return answer.content.decode()


@pytest.mark.parametrize(
    ("path", "status", "words"),
    [
        ("/nowhere", 404, "There is nothing at this address"),
        ("/refuse", 422, "height is -1 cm; it must be above 0."),
        ("/crash", 500, "Something went wrong in friable"),
        ("/full", 507, "nothing of this was saved. Make room"),
        ("/locked", 503, "Send it again soon"),
        ("/readonly", 507, "cannot be written"),
    ],
)
def test_failures_are_pages_with_a_sentence(caller, path, status, words):
    answer = caller.get(path)

    assert answer.status_code == status
    assert words in text(answer)
    assert text(answer).startswith("<!doctype html>")
    assert "Traceback" not in text(answer)
    assert "secret of the inside" not in text(answer)


def test_a_form_from_elsewhere_saves_nothing_though_nobody_logs_in(caller):
    answer = caller.post("/save", {"name": "a"})

    assert answer.status_code == 403
    assert "This form was not sent from a page of friable" in text(answer)
    assert addresses.saved == []


def test_a_form_with_the_token_of_another_browser_saves_nothing(caller):
    caller.cookies["csrftoken"] = "a" * 32
    answer = caller.post("/save", {"name": "a", "csrfmiddlewaretoken": "b" * 32})

    assert answer.status_code == 403
    assert addresses.saved == []


def test_a_form_sent_by_a_page_elsewhere_saves_nothing_even_with_the_token(caller):
    caller.cookies["csrftoken"] = "a" * 32
    answer = caller.post(
        "/save", {"name": "a", "csrfmiddlewaretoken": "a" * 32}, headers={"origin": "http://garden.example"}
    )

    assert answer.status_code == 403
    assert addresses.saved == []


def test_our_own_form_is_saved(caller):
    caller.cookies["csrftoken"] = "a" * 32
    answer = caller.post("/save", {"name": "a", "csrfmiddlewaretoken": "a" * 32})

    assert answer.status_code == 200
    assert addresses.saved == ["a"]


def test_a_body_over_one_megabyte_is_refused_in_a_sentence(caller):
    answer = caller.post("/save", data=b"x" * 1_500_000, content_type="application/octet-stream")

    assert answer.status_code == 413
    assert "What was sent is 1.5 MB; it must be at most 1 MB. Nothing was saved." in text(answer)
    assert addresses.saved == []


def test_thousands_of_fields_are_refused_in_a_page(caller):
    caller.cookies["csrftoken"] = "a" * 32
    answer = caller.post("/save", {f"field{number}": "1" for number in range(3000)})

    assert answer.status_code == 400
    assert "cannot be read" in text(answer)


@pytest.mark.parametrize("path", ["/show", "/nowhere", "/crash"])
def test_every_page_forbids_what_does_not_come_from_here(caller, path):
    answer = caller.get(path)

    policy = dict(part.strip().split(" ", 1) for part in answer["Content-Security-Policy"].split(";"))
    assert policy["default-src"] == "'none'"
    assert (
        policy["script-src"]
        == policy["style-src"]
        == policy["connect-src"]
        == policy["form-action"]
        == "'self'"
    )
    assert policy["base-uri"] == policy["frame-ancestors"] == "'none'"
    assert "unsafe" not in answer["Content-Security-Policy"]
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Referrer-Policy"] == "same-origin"
    assert answer["Cross-Origin-Opener-Policy"] == "same-origin"
    assert answer["X-Frame-Options"] == "DENY"


def test_pages_travel_compressed(caller):
    answer = caller.get("/show", headers={"accept-encoding": "gzip"})

    assert answer["Content-Encoding"] == "gzip"
    assert len(answer.content) < 400
