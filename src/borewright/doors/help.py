"""Help and usage errors of the command line, told in the reader's language.

English comes from the library as it is. For any other language the texts of commands, arguments
and options are looked up in the catalogues, and the library's own words are told anew here.
"""

from __future__ import annotations

import copy
import inspect
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from enum import Enum
from typing import Any

import typer
from typer.core import TyperGroup

from borewright.words import LANGUAGES, Message, Reader, language_wished, listed, say

#: The library's base of all usage errors; its package moved between versions.
UsageError: Any = typer.BadParameter.__mro__[1]
KEY = "borewright.language"
_OPTION = "--language"


def reader_of(ctx: Any) -> Reader:
    """The reader of an invocation."""
    return Reader(ctx.meta[KEY])


def language_taken(ctx: Any, args: list[str]) -> list[str]:
    """Arguments without ``--language``, wherever it stands; its reader is kept in the context.

    Raises a usage error where no such language is known.
    """
    ctx.meta.setdefault(KEY, language_wished())
    left: list[str] = []
    rest = iter(args)
    for arg in rest:
        name, equals, value = arg.partition("=")
        if arg == "--":
            return [*left, arg, *rest]
        if name != _OPTION:
            left.append(arg)
            continue
        language = value if equals else next(rest, "")
        if language not in LANGUAGES:
            known = listed(LANGUAGES, "or")
            raise WrongUse(say("the language is {known}", known=known), param_hint=_OPTION)
        ctx.meta[KEY] = language
    return left


class WrongUse(typer.BadParameter):
    """A wrong use of a command that the command itself noticed, as a message."""

    def __init__(self, said: Message, param_hint: str | None = None) -> None:
        super().__init__(str(said), param_hint=param_hint)
        self.said = said


class ToldUse(UsageError):  # type: ignore[misc]  # noqa: N818
    """A usage error in the reader's language."""

    def __init__(self, error: Any, ctx: Any, words: Reader, said: Message | None = None) -> None:
        super().__init__(error.message, ctx=error.ctx or ctx)
        self._words = words
        self._said = said or _wrong_use(error)

    def show(self, file: Any = None) -> None:
        """Usage, where help is, and what was wrong."""
        words, ctx = self._words, self.ctx
        lines = [
            usage(ctx, words).rstrip("\n"),
            words("'{command} --help' tells more.", command=ctx.command_path),
            "",
            words("Error: {what}", what=self._said),
        ]
        print(*lines, sep="\n", file=file or sys.stderr)


def _wrong_use(error: Any) -> Message:
    """What a usage error of the library is about, from its kind and its parameter."""
    kind = type(error).__name__
    if isinstance(error, WrongUse):
        return error.said
    if kind == "NoSuchOption":
        return say("there is no option {option}", option=error.option_name)
    if kind == "BadOptionUsage":
        return say("the option {option} needs a value", option=error.option_name)
    parameter = getattr(error, "param", None)
    if parameter is None:
        return say("there are more arguments than this command takes")
    name = parameter.opts[-1] if parameter.param_type_name == "option" else _metavar(parameter)
    if kind == "MissingParameter":
        return say("{parameter} is missing", parameter=name)
    return say("{parameter} cannot be that: {wanted}", parameter=name, wanted=_wanted(parameter))


def _metavar(parameter: Any) -> str:
    return str(parameter.metavar or parameter.name.upper())


def _wanted(parameter: Any) -> Message:
    """What a parameter may be."""
    low, high = _limits(parameter)
    if low is not None and high is not None:
        return say("a number from {low:g} to {high:g} is wanted", low=low, high=high)
    if low is not None:
        return say("a number from {low:g} is wanted", low=low)
    choices = getattr(parameter.type, "choices", None) if hasattr(parameter, "type") else None
    kind = getattr(getattr(parameter, "type_descriptor", None), "annotation", None)
    if isinstance(kind, type) and issubclass(kind, Enum):
        choices = [each.value for each in kind]
    if choices:
        return say("one of {choices} is wanted", choices=", ".join(map(str, choices)))
    return say("see its help")


def _limits(parameter: Any) -> tuple[Any, Any]:
    source = parameter if hasattr(parameter, "min") else getattr(parameter, "type", None)
    return getattr(source, "min", None), getattr(source, "max", None)


def usage(ctx: Any, words: Reader) -> str:
    """The line that shows how a command is typed."""
    library = {
        "[OPTIONS]": words("[OPTIONS]"),
        "COMMAND [ARGS]...": words("COMMAND [ARGS]..."),
    }
    pieces = ctx.command.collect_usage_pieces(ctx)
    formatter = ctx.make_formatter()
    told = " ".join(library.get(piece, piece) for piece in pieces)
    formatter.write_usage(ctx.command_path, told, prefix=words("Usage: "))
    return str(formatter.getvalue())


class TellsHelp:
    """What commands and groups share: help in the reader's language, ``--language`` in it."""

    def format_usage(self, ctx: Any, formatter: Any) -> None:
        """How the command is typed."""
        formatter.write(usage(ctx, reader_of(ctx)))

    def format_help_text(self, ctx: Any, formatter: Any) -> None:
        """What the command does."""
        text = _paragraphs(self.help or "")  # type: ignore[attr-defined]
        formatter.write_paragraph()
        with formatter.indentation():
            formatter.write_text(_told(text, reader_of(ctx)))

    def format_epilog(self, ctx: Any, formatter: Any) -> None:
        """What is said at the end."""
        if epilog := self.epilog:  # type: ignore[attr-defined]
            formatter.write_paragraph()
            with formatter.indentation():
                formatter.write_text(_told(_paragraphs(epilog), reader_of(ctx)))

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """Arguments, options and ``--language``; a group's commands."""
        words = reader_of(ctx)
        arguments: list[tuple[str, str]] = []
        options: list[tuple[str, str]] = []
        for parameter in self.get_params(ctx):  # type: ignore[attr-defined]
            record = _record(parameter, ctx, words)
            if record is not None:
                is_option = parameter.param_type_name == "option"
                (options if is_option else arguments).append(record)
        help_of_language = words("Language of the answer.")
        options.insert(-1, (f"{_OPTION} [{'|'.join(LANGUAGES)}]", help_of_language))
        if arguments:
            with formatter.section(words("Arguments")):
                formatter.write_dl(arguments)
        with formatter.section(words("Options")):
            formatter.write_dl(options)

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Take the language first, so that a wrong word is told in it too."""
        left = language_taken(ctx, args)
        with told_use(ctx):
            parsed: list[str] = super().parse_args(ctx, left)  # type: ignore[misc]
            return parsed


class Group(TellsHelp, TyperGroup):
    """A group of commands that tells its help in the reader's language."""

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """Options, then the commands."""
        super().format_options(ctx, formatter)
        self.format_commands(ctx, formatter)

    def format_commands(self, ctx: Any, formatter: Any) -> None:
        """A line a command, cut to its width."""
        words = reader_of(ctx)
        names = [name for name in self.list_commands(ctx) if not self.commands[name].hidden]
        width = formatter.width - 6 - max(map(len, names))
        rows = []
        for name in names:
            command = copy.copy(self.commands[name])
            command.help = _told(_paragraphs(command.help or ""), words)
            rows.append((name, command.get_short_help_str(width)))
        with formatter.section(words("Commands")):
            formatter.write_dl(rows)

    def resolve_command(self, ctx: Any, args: list[str]) -> Any:
        """The command that is meant."""
        with told_use(ctx, say("there is no command '{command}'", command=args[0])):
            return super().resolve_command(ctx, args)


@contextmanager
def told_use(ctx: Any, said: Message | None = None) -> Iterator[None]:
    """Usage errors from inside are told in the reader's language."""
    try:
        yield
    except UsageError as error:
        words = reader_of(ctx)
        shows_help = type(error).__name__ == "NoArgsIsHelpError"
        if words.language == "en" or shows_help or isinstance(error, ToldUse):
            raise
        raise ToldUse(error, ctx, words, said) from error


def _record(parameter: Any, ctx: Any, words: Reader) -> tuple[str, str] | None:
    """Name and help of a parameter, with what the library adds in brackets."""
    record = parameter.get_help_record(ctx)
    if record is None or words.language == "en":
        return record  # type: ignore[no-any-return]
    extra = []
    if getattr(parameter, "show_envvar", False) and parameter.envvar:
        extra.append(words("environment: {variable}", variable=parameter.envvar))
    if (default := _default(parameter, words)) is not None:
        extra.append(words("default: {default}", default=default))
    low, high = _limits(parameter)
    if low is not None:
        top = "" if high is None else f"{high:g}"
        extra.append(f"{low:g} … {top}".rstrip())
    if parameter.required:
        extra.append(words("required"))
    told = _told(parameter.help or "", words)
    return record[0], f"{told}  [{'; '.join(extra)}]".strip() if extra else told


def _default(parameter: Any, words: Reader) -> Any:
    shown, default = getattr(parameter, "show_default", False), parameter.default
    if isinstance(shown, str):
        return _told(shown, words)
    if not shown or default in (None, "", ()) or callable(default) or default is False:
        return None
    if parameter.secondary_opts:
        return (parameter.opts if default else parameter.secondary_opts)[0].lstrip("-")
    if default is True:
        return None
    if isinstance(default, Enum):
        return default.value
    return words.number(default) if isinstance(default, float) else str(default)


def _paragraphs(text: str) -> str:
    """A docstring as paragraphs without breaks of lines: the catalogue's key."""
    parts = inspect.cleandoc(text).partition("\f")[0].split("\n\n")
    return "\n\n".join(" ".join(part.split()) for part in parts)


def _told(text: str, words: Reader) -> str:
    """A text of the commands, which stands in docstrings and options, in words."""
    return words.tell(Message(text.replace("{", "{{").replace("}", "}}"))) if text else ""


def help_texts(app: typer.Typer) -> list[str]:
    """Every text that ``--help`` looks up: for the catalogues."""
    found: dict[str, None] = {"Show this message and exit.": None}

    def walk(command: Any) -> None:
        texts = [_paragraphs(command.help or ""), _paragraphs(command.epilog or "")]
        for parameter in command.params:
            shown = getattr(parameter, "show_default", "")
            texts += [parameter.help or "", shown if isinstance(shown, str) else ""]
        found.update(dict.fromkeys(text for text in texts if text))
        for each in getattr(command, "commands", {}).values():
            walk(each)

    walk(typer.main.get_command(app))
    return list(found)
