"""The page on a socket: the only place that knows of HTTP and of what serves it."""

from __future__ import annotations

import asyncio
import gc
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie
from socket import socket
from typing import Final
from urllib.parse import parse_qs, parse_qsl, quote, unquote

import uvicorn
from starlette.applications import Starlette
from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from coper.errors import CoperError, FileError, bounded
from coper.page.address import HERE, bound, has_display, network_host, show
from coper.page.code import code_lines
from coper.page.guard import CHANGING, COOKIE, HEADERS, MOST_BODY, Asked, Guard, Refusal, new_key
from coper.page.lines import Lines
from coper.page.shelf import shelf_at
from coper.page.site import Site
from coper.page.templates import rendered
from coper.page.visit import SVG, Call, Form, Reply

FORM: Final = "coper.form"
"""Where in a request's scope its form is, once it is read."""

MOBILE: Final = "sec-ch-ua-mobile"
"""What a browser on a phone says of itself; one that does not has Mobi in its name."""

MOST_FIELDS: Final = 500
"""Fields of a form: ten times those of the largest."""

END_S: Final = 2
"""So long an answer that is being given may take when the page is stopped."""


@dataclass(frozen=True, slots=True)
class Page:
    """A page that is ready to be served."""

    address: str
    notes: tuple[str, ...]
    code: tuple[str, ...]
    listening: socket
    app: ASGIApp
    browser: bool

    def stay(self) -> None:
        """Answer until Ctrl-C."""
        if self.browser:
            threading.Thread(target=show, args=(self.address,), daemon=True).start()
        config = uvicorn.Config(self.app, log_config=None, access_log=False, lifespan="off",
                                server_header=False, ws="none", log_level="critical",
                                timeout_graceful_shutdown=END_S)
        gc.collect()
        gc.freeze()  # going through all that is loaded, in the middle of an answer, takes 50 ms
        with suppress(KeyboardInterrupt):
            uvicorn.Server(config).run(sockets=[self.listening])


def opened(place: str, port: int | None, browser: bool, lan: bool) -> Page:
    """The page of a folder or a job, on a port of its own.

    Raises
    ------
    CoperError
        Where there is no such place, no port is free, or this computer is in no network.
    """
    shelf = shelf_at(place)
    hosts = [HERE, "localhost", *([network_host()] if lan else [])]
    listening, found = bound(port, lan)
    key = new_key() if lan else ""
    address = f"http://{hosts[-1] if lan else HERE}:{found}/"
    notes = []
    if port is not None and found != port:
        notes.append(f"port {port} is in use: it is {found}")
    if lan:
        notes.append("whoever has this address can come in until the page ends; in a network "
                     "without a password everybody on it can read along")
        address += f"?key={key}"
    if browser and not has_display():
        browser = False
        notes.append("no display here, so no browser is opened: open the address where there is "
                     "one")
    guard = Guard(frozenset(_host(host, found) for host in hosts), key)
    return Page(address, tuple(notes), code_lines(address) if lan else (), listening,
                make_app(Site(shelf, lan), guard), browser)


def make_app(site: Site, guard: Guard) -> ASGIApp:
    """The page behind its guard."""

    def answering(answer: Callable[[Request], Reply]) -> Callable[[Request], Response]:
        def answered(request: Request) -> Response:
            try:
                return _response(answer(request))
            except FileError as error:
                return _response(site.refused(404, str(error)))
            except CoperError as error:
                return _response(site.refused(422, str(error)))
            except Exception as error:
                return _response(site.refused(
                    500, f"A fault in coper itself ({type(error).__name__}: "
                         f"{bounded(str(error))}): nothing was kept. Report it."))

        return answered

    def route(path: str, method: str, answer: Callable[[Request], Reply]) -> Route:
        return Route(path, answering(answer), methods=[method])

    def nowhere(request: Request, error: Exception) -> Response:
        return _response(site.refused(404, "The page has no such place."))

    routes = [
        route("/", "GET", lambda asked: site.jobs()),
        route("/-/begin", "GET", lambda asked: site.jobs()),
        route("/-/begin", "POST", lambda asked: site.begin(_form(asked))),
        route("/-/{file}", "GET", lambda asked: site.static(str(asked.path_params["file"]))),
        route("/{place:path}", "GET", lambda asked: site.looked_at(_call(asked))),
        route("/{place:path}", "POST", lambda asked: site.posted(_call(asked))),
    ]
    app = Starlette(routes=routes, exception_handlers={404: nowhere, 405: nowhere})
    return Door(app, guard)


class Door:
    """Lets in what the guard lets in, reads its form, and puts the headers on every answer."""

    def __init__(self, app: ASGIApp, guard: Guard) -> None:
        self._app = app
        self._guard = guard
        self._lines = Lines()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            return
        sending = _with_headers(send)
        headers = Headers(scope=scope)
        first = parse_qs(scope["query_string"].decode("latin-1")).get("key", [""])[0]
        asked = Asked(scope["method"], headers.get("host"), headers.get("origin"),
                      headers.get("sec-fetch-site"), first or _cookie(headers),
                      headers.get("content-length"))
        refusal = self._guard.refusal(asked)
        form: Form = {}
        if refusal is None:
            body = await _body(receive)
            if body is None:
                refusal = Refusal(413, "That is larger than 1 MiB: it was not read.")
            elif asked.method == CHANGING:
                form = _read_form(body)
        if refusal is not None:
            answer: ASGIApp = _response(Reply(refusal.words, refusal.status, "text/plain"))
        elif self._guard.key and first:
            answer = _let_in(first, scope["raw_path"].decode("latin-1"))
        else:
            await self._in_turn({**scope, FORM: form}, receive, sending)
            return
        await answer(scope, receive, sending)

    async def _in_turn(self, scope: Scope, receive: Receive, send: Send) -> None:
        """The page's answer, once nobody else is being given the same, unless they go away."""
        gone = asyncio.ensure_future(receive())  # all was received: only the end comes after it
        try:
            await self._lines.answered(_line(scope["path"]), gone.done,
                                       lambda: self._app(scope, receive, send))
        finally:
            gone.cancel()


def _line(path: str) -> str:
    """In which line an address stands: pictures, of which a page asks for many, all in one."""
    return SVG if path.endswith(".svg") else path


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers[name] = value
        await send(message)

    return sending


async def _body(receive: Receive) -> bytes | None:
    """All of a request's body; ``None`` where it is larger than any form."""
    body = bytearray()
    while True:
        message = await receive()
        if message["type"] != "http.request":
            return bytes(body)
        body += message.get("body", b"")
        if len(body) > MOST_BODY:
            return None
        if not message.get("more_body", False):
            return bytes(body)


def _read_form(body: bytes) -> Form:
    """The fields of a form, each once; nothing where it is none."""
    try:
        return dict(parse_qsl(body.decode(), keep_blank_values=True, max_num_fields=MOST_FIELDS))
    except ValueError:
        return {}


def _let_in(key: str, path: str) -> Response:
    """Keep the key in a cookie, and go on to the address without it.

    By a page of its own, not by a redirect: a strict cookie does not come along with the redirect
    of a link that another program opened.
    """
    own = "/" + quote(path, safe="/%").lstrip("/")  # two of them would lead to another site
    found = _response(Reply(rendered("come_in.html", to=own)))
    found.set_cookie(COOKIE, key, httponly=True, samesite="strict", path="/")
    return found


def _cookie(headers: Headers) -> str | None:
    try:
        found = SimpleCookie(headers.get("cookie", "")).get(COOKIE)
    except CookieError:
        return None
    return None if found is None else found.value


def _form(request: Request) -> Form:
    form: Form = request.scope[FORM]
    return form


def _call(request: Request) -> Call:
    asked, headers = request.query_params, request.headers
    return Call(_parts(request), {key: tuple(asked.getlist(key)) for key in asked}, _form(request),
                headers.get(MOBILE) == "?1" or "Mobi" in headers.get("user-agent", ""))


def _parts(request: Request) -> tuple[str, ...]:
    """The parts of an address, each with whatever letters it has, ``/`` too."""
    return tuple(map(unquote, request.scope["raw_path"].decode("latin-1").split("/")[1:]))


def _response(reply: Reply) -> Response:
    headers = {"Location": reply.to} if reply.to else {}
    if reply.file:
        headers["Content-Disposition"] = f"attachment; filename*=UTF-8''{quote(reply.file)}"
    return Response(reply.body, reply.status, headers, reply.kind)


def _host(host: str, port: int) -> str:
    """As a browser writes it: without the port that addresses have anyway."""
    return host if port == 80 else f"{host}:{port}"


