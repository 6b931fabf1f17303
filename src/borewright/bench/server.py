"""The server: one folder, one address, as many pages as one likes."""

from __future__ import annotations

import asyncio
import logging
import secrets
import socket
import webbrowser
from collections.abc import Mapping
from functools import partial
from pathlib import Path

from fastapi import Response
from fastapi.responses import FileResponse
from nicegui import app, ui
from starlette.requests import Request

from borewright.bench.certificate import Certificate
from borewright.bench.frame import build_frame
from borewright.bench.page import Page
from borewright.bench.rights import Right, Role, Sessions, acting, require, take_part
from borewright.bench.safety import TOKEN, Guard, is_loopback
from borewright.bench.widgets.file_drop import add_routes
from borewright.bench.workbench import Workbench
from borewright.errors import BenchError, BorewrightError
from borewright.words import ENGLISH, LANGUAGES, Reader, say

_log = logging.getLogger("borewright.bench")
_LOOK = Path(__file__).parent / "look"
_LOOK_S = 1.0
_SESSIONS = Sessions()
_OWNERS = (".ledger", ".ledger-wal", ".backup", ".damaged")
#: A page whose connection was cut (a tablet asleep, say) is kept so long (s).
_RECONNECT_S = 30.0
_ICON = (
    "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 32 32'><rect width='32' height='32' "
    "rx='6' fill='#22303a'/><rect x='4' y='12' width='24' height='8' fill='#dcb98a'/>"
    "<circle cx='11' cy='16' r='2.4' fill='#22303a'/><circle cx='20' cy='16' r='2.4' "
    "fill='#22303a'/></svg>"
)


def serve(
    folder: Path, *, host: str = "127.0.0.1", port: int = 0,
    passwords: Mapping[Role, str] | None = None, certificate: Certificate | None = None,
    show: bool = True, words: Reader = ENGLISH,
) -> None:  # fmt: skip
    """Open a folder and serve its bench until the process is ended.

    Parameters
    ----------
    folder
        Made if missing.
    host, port
        Where to listen; port 0 takes a free one. The address is printed.
    passwords
        By role; the owner's is needed where ``host`` is reached from other machines.
    certificate
        Serve encrypted, with this certificate and key.
    show
        Open the page in the person's browser.
    words
        Who reads the terminal.

    Raises
    ------
    BenchError
        Where the folder cannot be opened, the address is taken, or a password is missing.
    """
    passwords = {role: given for role, given in (passwords or {}).items() if given}
    if not is_loopback(host) and Role.OWNER not in passwords:
        raise BenchError(
            say("the address {host} can be reached from other machines", host=host),
            place="--host",
            remedy=say("Set a password with --password, or leave --host out."),
        )
    if len(set(passwords.values())) != len(passwords):
        raise BenchError(
            say("two roles have the same password"),
            place="--password",
            remedy=say("Give each its own: it tells who comes in."),
        )
    port = _free_port(host, port)
    bench = Workbench(folder)
    _add_pages(bench)
    add_routes()
    token = secrets.token_urlsafe(24)
    app.add_middleware(
        Guard,
        host=host,
        port=port,
        passwords=passwords,
        token=token,
        sessions=_SESSIONS,
        secure=certificate is not None,
        reader=partial(_newcomer, bench),
    )
    app.on_startup(lambda: _watch(bench))
    app.on_shutdown(bench.close)
    shown = f"[{host}]" if ":" in host else host
    scheme = "https" if certificate else "http"
    address = f"{scheme}://{shown}:{port}/"
    if not passwords:
        address += f"?{TOKEN}={token}"
    print(words("The bench is at {address}  (Ctrl-C ends it)", address=address), flush=True)
    if certificate is not None:
        told = words("The certificate's SHA-256 is {digest}.", digest=certificate.fingerprint)
        print(told, flush=True)
    if show:
        app.on_startup(lambda: webbrowser.open(address))
    ui.run(
        ssl_certfile=str(certificate.certificate) if certificate else None,
        ssl_keyfile=str(certificate.key) if certificate else None,
        host=host,
        port=port,
        title="Borewright",
        favicon=_ICON,
        dark=None,
        reload=False,
        show=False,  # the address with its token is opened instead
        tailwind=False,
        show_welcome_message=False,
        reconnect_timeout=_RECONNECT_S,
    )


def _free_port(host: str, port: int) -> int:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        with socket.socket(family) as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind((host, port))
            return int(probe.getsockname()[1])
    except OSError as error:
        raise BenchError(
            say(
                "cannot listen at {host}, port {port} ({why})",
                host=host,
                port=str(port),
                why=error.strerror or str(error),
            ),
            place="--port",
            remedy=say("Choose another port, or leave --port out."),
        ) from error


def _newcomer(bench: Workbench) -> Reader:
    """Who is spoken to where there is no page yet: in the language of pages to come."""
    language = str(bench.settings.get("language", ""))
    return Reader(language if language in LANGUAGES else "en")


async def _watch(bench: Workbench) -> None:
    """Look for other programs' changes every second, as long as the server runs."""
    while True:
        await asyncio.sleep(_LOOK_S)
        try:
            bench.look()
        except Exception:  # whatever one page's listener does, the next look must come
            _log.exception("looking at the folder")


def _add_pages(bench: Workbench) -> None:
    css = "\n".join(file.read_text(encoding="utf-8") for file in sorted(_LOOK.glob("*.css")))

    @ui.page("/")
    def bench_page(request: Request) -> None:
        query = dict(request.query_params)
        take_part(ui.context.client, request.scope.get("borewright.role", Role.VIEWER))
        wanted = query.get("file", "")
        if wanted and wanted != bench.file and wanted in {each.name for each in bench.files()}:
            bench.choose(wanted)
        page = Page(bench, ui.context.client, query)
        ui.add_css(css)
        ui.add_head_html(f"<script>document.documentElement.lang = '{page.language}'</script>")
        colours = bench.settings.get("colours", "auto")
        ui.dark_mode({"light": False, "dark": True}.get(colours))
        build_frame(page)

    @app.get("/files/{name:path}", include_in_schema=False)
    def download(name: str, request: Request) -> Response:
        try:
            # The ledger holds what customers told: its file is the owner's alone.
            if name.lower().endswith(_OWNERS):
                with acting(request.scope.get("borewright.role", Role.VIEWER)):
                    require(Right.OWN)
            path = bench.folder.path(name)
            bench.folder.read(name)
        except BorewrightError as error:
            return Response(error.told(_newcomer(bench)), status_code=404, media_type="text/plain")
        return FileResponse(path, filename=path.name, headers={"cache-control": "no-store"})
