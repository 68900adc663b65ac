"""Who may ask the page what: requests without a browser."""

from __future__ import annotations

import json

import pytest
from fronts import draw_front, served
from werkzeug.test import Client

from dxf2veneer.page.server import App, PortError, serve
from dxf2veneer.page.session import Session

HOME = "http://127.0.0.1:4000"
LOOK = {"do": "look", "view": "V1", "seen": True}


@pytest.fixture
def front(tmp_path):
    return draw_front(tmp_path / "front.dxf")


@pytest.fixture
def app(front):
    return App(Session(front, front.with_name("job.toml")), "token")


def ask(app, path, *, headers=None, base=HOME):
    return Client(app).get(path, base_url=base, headers=headers or {})


def tell(app, path, body=LOOK, *, headers=None, kind="application/json", base=HOME):
    return Client(app).post(
        path,
        base_url=base,
        data=body if isinstance(body, str | bytes) else json.dumps(body),
        content_type=kind,
        headers={"Origin": base, **(headers or {})},
    )


def test_the_page_and_its_state_come_with_the_token(app):
    assert ask(app, "/token/").status_code == 200
    assert ask(app, "/token/state").get_json()["drawing"] == "front.dxf"
    assert tell(app, "/token/edit").get_json()["confirmed"]


@pytest.mark.parametrize("path", ["/", "/state", "/wrong/state", "/token", "/tokens/state", "//"])
def test_without_the_token_there_is_nothing(app, path):
    answer = ask(app, path)
    # the bare token is the page's own address without its last stroke
    assert answer.status_code == (200 if path == "/token" else 404)


@pytest.mark.parametrize(
    "base", ["http://example.org", "http://127.0.0.1.example.org:4000", "http://10.0.0.7:4000"]
)
def test_no_other_host_than_loopback_is_answered(app, base):
    # a name of a stranger that leads to 127.0.0.1 would otherwise serve the page to the stranger
    assert ask(app, "/token/state", base=base).status_code == 403
    assert tell(app, "/token/edit", base=base).status_code == 403


@pytest.mark.parametrize("base", ["http://localhost:9000", "http://[::1]:9000"])
def test_a_forwarded_port_works(app, base):
    assert ask(app, "/token/state", base=base).status_code == 200
    assert tell(app, "/token/edit", base=base).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://example.org"},
        {"Origin": "null"},
        {"Origin": "http://127.0.0.1:4001"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
    ],
    ids=str,
)
def test_another_page_is_refused_even_with_the_token(app, headers):
    assert ask(app, "/token/state", headers=headers).status_code == 403
    assert tell(app, "/token/edit", headers=headers).status_code == 403
    assert not ask(app, "/token/state").get_json()["confirmed"]


def test_a_change_must_say_where_it_comes_from(app):
    answer = Client(app).post("/token/edit", base_url=HOME, json=LOOK)
    assert answer.status_code == 403


@pytest.mark.parametrize(
    ("body", "kind", "status"),
    [
        ("not json", "application/json", 400),
        ("[]", "application/json", 400),
        ("[" * 100_000, "application/json", 400),
        (json.dumps(LOOK), "text/plain", 415),
        (b" " * 1_000_001, "application/json", 413),
        ({"do": "fly"}, "application/json", 422),
    ],
)
def test_a_wrong_body_is_refused_in_one_line(app, body, kind, status):
    answer = tell(app, "/token/edit", body, kind=kind)
    assert answer.status_code == status
    assert answer.text.count("\n") <= 1
    assert "Traceback" not in answer.text


@pytest.mark.parametrize(
    "path",
    [
        "../server.py",
        "..%2fserver.py",
        "assets/page.html",
        "front.dxf",
        "job.toml",
        "%2e%2e/session.py",
        "/etc/passwd",
        "page.py",
    ],
)
def test_no_file_but_the_page_s_own_is_served(app, path):
    assert ask(app, f"/token/{path}").status_code == 404


def test_changes_are_never_made_by_reading(app):
    assert ask(app, "/token/edit").status_code == 405
    assert tell(app, "/token/state").status_code == 405


@pytest.mark.parametrize("query", ["", "?x=1", "?x=a&y=2", "?x=nan&y=1", "?x=inf&y=1"])
def test_places_that_are_no_numbers_are_refused(app, query):
    assert ask(app, f"/token/outlines{query}").status_code == 400


def test_every_answer_carries_the_policy(app):
    for path in ("/token/", "/token/state", "/token/page.css", "/wrong/"):
        headers = ask(app, path).headers
        assert "default-src 'none'" in headers["Content-Security-Policy"]
        assert "unsafe" not in headers["Content-Security-Policy"]
        assert headers["Referrer-Policy"] == "no-referrer"
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["Cache-Control"] == "no-store"


def test_it_listens_on_loopback_alone_with_a_new_token_each_time(front):
    session = Session(front, front.with_name("job.toml"))
    addresses = []
    for _ in range(2):
        with served(session) as address:
            assert address.startswith("http://127.0.0.1:")
            addresses.append(address.rstrip("/").rpartition("/")[2])
    assert addresses[0] != addresses[1]
    assert min(map(len, addresses)) >= 32


def test_a_port_that_is_taken_is_told(front):
    session = Session(front, front.with_name("job.toml"))
    with served(session) as address:
        port = int(address.split(":")[2].split("/")[0])
        with pytest.raises(PortError):
            serve(session, port)
