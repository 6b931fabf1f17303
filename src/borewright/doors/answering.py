"""How every command answers: text or JSON, one shape of error, quiet when the reader leaves."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Iterable
from contextvars import ContextVar
from typing import Any

import typer
from typer.core import TyperCommand

from borewright.doors.help import TellsHelp, reader_of, told_use
from borewright.errors import BorewrightError, Stopped
from borewright.words import ENGLISH, Reader

#: Exit codes besides 0: faults were found; the input was wrong; stopped by Ctrl-C (128 + SIGINT).
FAULTS, WRONG_INPUT, STOPPED = 1, 2, 130


#: Who reads this invocation's answer.
_READER: ContextVar[Reader] = ContextVar("reader", default=ENGLISH)


def reader() -> Reader:
    """Who reads the answer of the command that is at work."""
    return _READER.get()


class Answering(TellsHelp, TyperCommand):
    """A command whose errors become one line, or one JSON object, and exit code 2."""

    def invoke(self, ctx: Any) -> Any:
        """Run the command; an error that is not ours passes through as it is."""
        words = reader_of(ctx)
        before = _READER.set(words)
        try:
            with told_use(ctx):
                return super().invoke(ctx)
        except BorewrightError as error:
            if ctx.params.get("as_json"):
                print_json(error.as_dict())
            else:
                print_error(error.told(words))
            raise typer.Exit(WRONG_INPUT) from error
        except (KeyboardInterrupt, Stopped):
            print_error(words("stopped."))
            raise typer.Exit(STOPPED) from None
        finally:
            _READER.reset(before)


def answer(data: dict[str, Any], lines: Callable[..., Iterable[str]], as_json: bool) -> None:
    """Print a command's result: lines of text told to the reader, or JSON, which is English."""
    if as_json:
        print_json(data)
    else:
        # The ledger's lines ask for their reader themselves.
        told = lines(reader()) if lines.__code__.co_argcount else lines()
        for line in told:
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
