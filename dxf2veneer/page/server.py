"""Requests of the page, on the loopback address alone.

Every address begins with a token that only who started the command knows. A request must name a
loopback host (so that no other name that leads here serves a page from elsewhere) and, where the
browser says where it comes from, this very page.
"""

from __future__ import annotations

import hmac
import json
import logging
import secrets
import socket
from collections.abc import Callable
from importlib.resources import files
from typing import Any
from urllib.parse import urlsplit

from werkzeug.exceptions import (
    BadRequest,
    Forbidden,
    HTTPException,
    MethodNotAllowed,
    NotFound,
    UnsupportedMediaType,
)
from werkzeug.serving import BaseWSGIServer, WSGIRequestHandler, make_server
from werkzeug.wrappers import Request, Response

from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.basics.version import __version__
from dxf2veneer.page.session import Session
from dxf2veneer.wording import error_line

_LOG = logging.getLogger(__name__)
LOOPBACK = "127.0.0.1"
_HOSTS = frozenset({"127.0.0.1", "localhost", "::1"})
_MOST_BYTES = 1_000_000
"""Length of a request's body at most."""
_TYPES = {
    "page.html": "text/html; charset=utf-8",
    "page.css": "text/css; charset=utf-8",
    "icon.svg": "image/svg+xml",
}
_ASSETS = files("dxf2veneer.page") / "assets"
_SCRIPT = "text/javascript; charset=utf-8"
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; "
    "img-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; "
    "require-trusted-types-for 'script'; trusted-types 'none'"
)
_REPORT_POLICY = (
    "sandbox allow-scripts allow-modals; default-src 'none'; script-src 'unsafe-inline'; "
    "style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)
_HEADERS = {
    "Content-Security-Policy": _POLICY,
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
}


class PortError(TakeoffError):
    """The page can't be served at this port."""


class App:
    """The page's requests, as a WSGI application."""

    def __init__(self, session: Session, token: str | None = None) -> None:
        """An application for one session; ``token`` is a new one where it is left out."""
        self._session = session
        self.token = token or secrets.token_urlsafe(24)
        self._reading: dict[str, Callable[[Request], Response]] = {
            "state": lambda _: _json(session.state()),
            "drawing": lambda _: Response(session.lines(), mimetype="application/octet-stream"),
            "outlines": lambda r: _json(session.outlines_at(*_numbers(r, "x", "y"))),
            "snap": lambda r: _json(_snapped(session, *_numbers(r, "x", "y", "reach"))),
            "bound": lambda r: _json(_bound(session, r)),
            "courses": lambda _: _json(session.courses()),
            "figures": lambda _: _json(session.figures()),
            "takeoff": lambda _: _json(session.takeoff()),
            "job": lambda _: Response(session.job_text(), mimetype="text/plain"),
        }
        self._changing: dict[str, Callable[[Any], Any]] = {
            "edit": session.edit,
            "take": lambda _: session.take_off(),
            "undo": lambda _: session.undo(),
            "redo": lambda _: session.redo(),
            "settle": lambda asked: session.settle(mine=bool(asked.get("mine"))),
        }

    def __call__(self, environ: Any, start_response: Any) -> Any:
        """Answer one request."""
        request = Request(environ)
        request.max_content_length = _MOST_BYTES
        try:
            answer = self._answer(request)
        except HTTPException as error:
            answer = Response(f"{error.description}\n", error.code, mimetype="text/plain")
        except TakeoffError as error:
            answer = _json({"error": error_line(error)}, 422)
        for name, value in _HEADERS.items():
            answer.headers.setdefault(name, value)
        return answer(environ, start_response)

    def _answer(self, request: Request) -> Response:
        _refuse_strangers(request)
        token, _, rest = request.path.removeprefix("/").partition("/")
        if not hmac.compare_digest(token.encode(), self.token.encode()):
            raise NotFound("The address needs the token that the command printed.")
        if rest in self._changing:
            if request.method != "POST":
                raise MethodNotAllowed(["POST"])
            return _json(self._changing[rest](_body(request)))
        if request.method not in ("GET", "HEAD"):
            raise MethodNotAllowed(["GET", "HEAD"])
        if rest in self._reading:
            return self._reading[rest](request)
        if rest.startswith("output/"):
            return _output(self._session, rest.removeprefix("output/"))
        return _asset(rest) if rest else _page()


def serve(session: Session, port: int = 0) -> tuple[BaseWSGIServer, str]:
    """A server for a session, not yet running.

    Args:
        session: The session.
        port: The port; 0 for any that is free.

    Returns:
        The server, and the address of the page.

    Raises:
        PortError: The port can't be used.
    """
    app = App(session)
    try:
        listening = socket.create_server((LOOPBACK, port))
    except (OSError, OverflowError) as error:
        why = getattr(error, "strerror", None) or str(error)
        raise PortError(message("page-port-taken", port=port, why=why)) from error
    with listening:  # the server listens on a copy of it
        bound = listening.getsockname()[1]
        server = make_server(
            LOOPBACK, bound, app, threaded=True, request_handler=_Quiet, fd=listening.fileno()
        )
    return server, f"http://{LOOPBACK}:{bound}/{app.token}/"


class _Quiet(WSGIRequestHandler):
    """Requests go to the log alone, without the token."""

    server_version = f"dxf2veneer/{__version__}"
    sys_version = ""

    def log(self, type: str, message: str, *args: Any) -> None:
        """One line of the log."""
        if type == "error":
            _LOG.debug("a request failed")


def _refuse_strangers(request: Request) -> None:
    """Raises Forbidden for a host that is not loopback, and for requests of other pages."""
    host = request.headers.get("Host", "")
    if urlsplit(f"//{host}").hostname not in _HOSTS:
        raise Forbidden("This page is for the loopback address alone.")
    origin = request.headers.get("Origin")
    if origin is not None and origin != f"http://{host}":
        raise Forbidden("This page takes no requests from other pages.")
    if request.method == "POST" and origin is None:
        raise Forbidden("This page takes changes from itself alone.")
    if request.headers.get("Sec-Fetch-Site", "none") not in ("same-origin", "none"):
        raise Forbidden("This page takes no requests from other pages.")


def _body(request: Request) -> Any:
    if request.mimetype != "application/json":
        raise UnsupportedMediaType("JSON is wanted.")
    try:
        found = json.loads(request.get_data())
    except (ValueError, RecursionError):
        raise BadRequest("This is no JSON.") from None
    if not isinstance(found, dict):
        raise BadRequest("An object is wanted.")
    return found


def _numbers(request: Request, *names: str) -> list[float]:
    found = [request.args.get(name, type=float) for name in names]
    numbers = [n for n in found if n is not None and abs(n) < 1e15]
    if len(numbers) != len(names):
        raise BadRequest(f"Numbers are wanted: {', '.join(names)}.")
    return numbers


def _bound(session: Session, request: Request) -> Any:
    x, y, reach = _numbers(request, "x", "y", "reach")
    return session.bound_at(x, y, reach, request.args.get("how", "fits"))


def _snapped(session: Session, x: float, y: float, reach: float) -> Any:
    found = session.snap(x, y, reach)
    return None if found is None else {"at": list(found.at), "what": found.what}


def _json(value: Any, status: int = 200) -> Response:
    text = json.dumps(value, ensure_ascii=False, allow_nan=False)
    return Response(text, status, mimetype="application/json")


def _output(session: Session, name: str) -> Response:
    """A file of the last takeoff. The report runs its scripts as a page of no origin, so that it
    can ask this one nothing."""
    path = session.output(name)
    if path is None or not path.is_file():
        raise NotFound("There is nothing at this address.")
    if path.suffix == ".html":
        answer = Response(path.read_bytes(), content_type="text/html; charset=utf-8")
        answer.headers["Content-Security-Policy"] = _REPORT_POLICY
        return answer
    answer = Response(path.read_bytes(), mimetype="application/octet-stream")
    answer.headers.set("Content-Disposition", "attachment", filename=path.name)
    return answer


def _page() -> Response:
    """The page, and with it what the browser may fetch while it still reads it."""
    answer = _asset("page.html")
    scripts = sorted(f.name for f in _ASSETS.iterdir() if f.name.endswith(".js"))
    ahead = ["<drawing>; rel=preload; as=fetch; crossorigin"]
    ahead += [f"<{name}>; rel=modulepreload" for name in scripts]
    answer.headers["Link"] = ", ".join(ahead)
    return answer


def _asset(name: str) -> Response:
    """A file of the page, of those that ship with it alone."""
    kind = _TYPES.get(name) or (_SCRIPT if name.endswith(".js") else "")
    if not kind or name not in {entry.name for entry in _ASSETS.iterdir()}:
        raise NotFound("There is nothing at this address.")
    return Response((_ASSETS / name).read_bytes(), content_type=kind)
