"""Hostile texts in a real browser without a screen: nothing runs, no request goes out, the texts
are read as they are.

report.html, W2.svg  --opened by--> browser  --must not ask--> a site of ours,
                                                               which writes down who asks
"""

from __future__ import annotations

import html
import http.server
import threading

import pytest
from hostile import spoiled
from test_report_browser import browse, found, pytestmark  # noqa: F401  # skips where there is no browser

from dxf2veneer.writers.elevation import write_picture
from dxf2veneer.writers.report import write_report
from dxf2veneer.writers.report.page import report_text


@pytest.fixture
def site():
    """A site on this machine; the addresses that were asked for."""
    asked = []

    class Writes(http.server.BaseHTTPRequestHandler):
        def do_GET(self):
            asked.append(self.path)
            self.send_response(204)
            self.end_headers()

        def log_message(self, *words):
            pass

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Writes)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}", asked
    server.shutdown()
    server.server_close()


def hostile_to(url):
    """One text for every place in a page: element, attribute, script, style, comment, address."""
    return (
        "</title></style></script><script>document.title='owned';new "
        f"Image().src='{url}/script'</script>"
        f"\"'><img src={url}/img onerror=\"document.title='owned'\"><svg "
        f"onload=\"fetch('{url}/svg')\"><image href='{url}/image'/>"
        f"<link rel=stylesheet href={url}/css><iframe "
        f"src='javascript:document.title=1'></iframe><base href={url}/>"
        f"<meta http-equiv=refresh content='0;url={url}/meta'>]]>--><style>@import "
        f"'{url}/import';*{{background:url({url}/bg)}}</style>"
        f"' onmouseover=document.title='owned' `"
    )


def test_the_site_writes_down_who_asks(tmp_path, site):
    url, asked = site
    (tmp_path / "open.html").write_text(f"<title>a</title>{hostile_to(url)}", encoding="utf-8")
    browse(tmp_path, "--dump-dom", (tmp_path / "open.html").as_uri())
    assert asked, "where nothing is escaped the browser does ask"


def test_the_page_runs_nothing_asks_nobody_and_shows_the_texts(tmp_path, site):
    url, asked = site
    made = spoiled(hostile_to(url))
    write_report(made, tmp_path / "report.html")
    shown, complaints = browse(
        tmp_path, "--dump-dom", "--virtual-time-budget=2000", (tmp_path / "report.html").as_uri()
    )
    assert complaints == [] and asked == []
    assert (
        "<title>owned" not in shown
        and shown.count("<script") == 2
        and "<iframe" not in shown
        and "<img" not in shown
    )
    told = found(
        tmp_path,
        report_text(made),
        "return [doc.title, doc.body.textContent, "
        "doc.querySelectorAll('[onload],[onerror],[onmouseover],base,link,iframe,img').length];",
    )
    title, text, strange = told
    assert strange == 0 and title.startswith(hostile_to(url)) and text.count(hostile_to(url)) > 50
    assert asked == []


def test_a_picture_runs_nothing_and_asks_nobody(tmp_path, site):
    url, asked = site
    write_picture(spoiled(hostile_to(url)), spoiled(hostile_to(url)).walls[1], tmp_path / "W2.svg")
    shown, complaints = browse(
        tmp_path, "--dump-dom", "--virtual-time-budget=2000", (tmp_path / "W2.svg").as_uri()
    )
    assert complaints == [] and asked == []
    assert (
        "<script" not in shown
        and "<image" not in shown
        and html.escape("<script>", quote=False) in shown
    )
