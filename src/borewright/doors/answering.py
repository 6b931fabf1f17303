"""How every command answers: text or JSON, one shape of error, quiet when the reader leaves."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Iterable
from typing import Any

import typer
from typer.core import TyperCommand

from borewright.errors import BorewrightError, Stopped

#: Exit codes besides 0: faults were found; the input was wrong; stopped by Ctrl-C (128 + SIGINT).
FAULTS, WRONG_INPUT, STOPPED = 1, 2, 130


class Answering(TyperCommand):
    """A command whose errors become one line, or one JSON object, and exit code 2."""

    def invoke(self, ctx: Any) -> Any:
        """Run the command; an error that is not ours passes through as it is."""
        try:
            return super().invoke(ctx)
        except BorewrightError as error:
            if ctx.params.get("as_json"):
                print_json(error.as_dict())
            else:
                print_error(str(error))
            raise typer.Exit(WRONG_INPUT) from error
        except (KeyboardInterrupt, Stopped):
            print_error("stopped.")
            raise typer.Exit(STOPPED) from None


def answer(data: dict[str, Any], lines: Callable[[], Iterable[str]], as_json: bool) -> None:
    """Print a command's result, as JSON or as lines of text."""
    if as_json:
        print_json(data)
    else:
        for line in lines():
            print(line)


def print_json(data: dict[str, Any]) -> None:
    """One JSON document on standard output."""
    encoding = (getattr(sys.stdout, "encoding", None) or "ascii").lower().replace("-", "")
    print(json.dumps(data, indent=2, ensure_ascii=encoding != "utf8", allow_nan=False))


def print_error(text: str) -> None:
    """One line on standard error; signs that would move the cursor are spelt out."""
    plain = "".join(sign if sign.isprintable() else repr(sign)[1:-1] for sign in text)
    print(f"borewright: {plain}", file=sys.stderr)


def run(app: typer.Typer) -> None:
    """Run the command line; a terminal of any encoding and a closed pipe do no harm."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        app()
    finally:
        _flush()


def _flush() -> None:
    try:
        if sys.stdout is not None:
            sys.stdout.flush()
    except BrokenPipeError:
        # The reader, `head` perhaps, has what it wanted. What is left goes nowhere, otherwise
        # Python would complain of it on its way out.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
