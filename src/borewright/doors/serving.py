"""The command that serves the bench: whom it lets in, and whether it speaks encrypted."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from borewright.doors.answering import reader


def bench(
    folder: Annotated[
        Path,
        typer.Argument(metavar="FOLDER", readable=False, help="Folder of files; made if missing."),
    ] = Path("."),
    host: Annotated[
        str, typer.Option(help="Address to listen at; one that others reach needs a password.")
    ] = "127.0.0.1",
    port: Annotated[int, typer.Option(min=0, max=65535, help="Port; 0 takes a free one.")] = 0,
    password: Annotated[
        str | None,
        typer.Option(
            envvar="BOREWRIGHT_BENCH_PASSWORD",
            show_envvar=True,
            help="The owner's: ask for it before anything is shown.",
        ),
    ] = None,
    bench_password: Annotated[
        str | None,
        typer.Option(
            envvar="BOREWRIGHT_BENCH_WORK_PASSWORD",
            show_envvar=True,
            help="Of those who work at the bench: everything but backups, tables, customers.",
        ),
    ] = None,
    viewer_password: Annotated[
        str | None,
        typer.Option(
            envvar="BOREWRIGHT_BENCH_VIEW_PASSWORD",
            show_envvar=True,
            help="Of those who only look.",
        ),
    ] = None,
    encrypted: Annotated[
        bool,
        typer.Option("--encrypted", help="Serve encrypted, with a certificate made here once."),
    ] = False,
    certificate: Annotated[
        Path | None,
        typer.Option(metavar="PEM", readable=False, help="Serve encrypted with this certificate."),
    ] = None,
    key: Annotated[
        Path | None, typer.Option(metavar="PEM", readable=False, help="Its key.")
    ] = None,
    show: Annotated[
        bool, typer.Option("--show/--no-show", help="Open the page in the browser.")
    ] = True,
) -> None:
    """Work on a folder in the browser: look, drag, fit.

    Everything is saved at once and can be undone. Ctrl-C ends the bench.
    """
    from borewright.bench import serve, served_encrypted
    from borewright.bench.rights import Role

    serve(
        folder,
        host=host,
        port=port,
        passwords={
            Role.OWNER: password or "",
            Role.BENCH: bench_password or "",
            Role.VIEWER: viewer_password or "",
        },
        certificate=served_encrypted(host, encrypted, certificate, key),
        show=show,
        words=reader(),
    )
