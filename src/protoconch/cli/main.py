"""`protoconch`: the commands by name, and the one place that turns a mistake into a sentence."""

import importlib
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from difflib import get_close_matches
from importlib.util import find_spec
from typing import Any

import click

from protoconch import __version__
from protoconch.cli.language import speak
from protoconch.cli.telling import Telling, TellingOption, option
from protoconch.errors import ProtoconchError, UnknownName
from protoconch.words import joined, say

# The matrices here are small: more threads would only wait for each other.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

COMMANDS = {
    "plan": say("From a target to a feasible plan, its odds and what limits it."),
    "work": say("The work of a day, with amounts and their working."),
    "outlook": say("Will the season make it, given the log, and what would help."),
    "site": say("Is the seawater system sound: flows, pressures, doses, findings."),
    "algae": say("What to inoculate, feed and harvest, and how sure the food is."),
    "calc": say("One calculation of the trade, alone."),
    "demo": say("The invented hatchery, planned, half a season logged, served."),
    "serve": say("The web program, for this machine or the phones of the crew."),
    "backup": say("All records into one file, while the program goes on."),
    "restore": say("The records of a backup into an empty place."),
    "check": say("Whether the records are whole: the log, the description, the photos."),
}
"""Every command is an object of its own name in the module of that name in this folder. It is
loaded only when it is called, so that the help comes at once."""


class Mistake(click.ClickException):
    """What went wrong, in a sentence on standard error, with status 2."""

    exit_code = 2

    def show(self, file: Any = None) -> None:
        """Print the sentence, without a trace and without a usage text."""
        sentence = self.format_message().strip()
        click.echo(
            sentence if sentence.endswith((".", "?", "!")) else f"{sentence}.", file, err=True
        )


@contextmanager
def mistakes_told() -> Iterator[None]:
    """Within it, a mistake of the person becomes a sentence."""
    try:
        yield
    except (ProtoconchError, click.UsageError) as mistake:
        if isinstance(mistake, click.UsageError):
            raise Mistake(mistake.format_message()) from mistake
        raise Mistake(str(mistake)) from mistake


class Protoconch(Telling, click.Group):
    """The group of all commands, each loaded when it is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        """The commands whose modules are there, in the order of the table."""
        return [name for name in COMMANDS if find_spec(f"protoconch.cli.{name}")]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name, None where there is none."""
        if cmd_name not in self.list_commands(ctx):
            return None
        command: click.Command = getattr(
            importlib.import_module(f"protoconch.cli.{cmd_name}"), cmd_name
        )
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As in click, with the nearest command where there is none of that name."""
        commands = self.list_commands(ctx)
        if args and args[0] not in commands and not args[0].startswith("-"):
            near = get_close_matches(args[0], commands, n=1)
            hint = (
                say("Did you mean {name}?", name=near[0])
                if near
                else say("There are {names}.", names=", ".join(commands))
            )
            raise UnknownName(joined([say("There is no command {name}.", name=args[0]), hint]))
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The commands in the help, without loading them."""
        with formatter.section(str(say("Commands"))):
            formatter.write_dl([(name, str(COMMANDS[name])) for name in self.list_commands(ctx)])

    def make_context(self, *args: Any, **kwargs: Any) -> click.Context:
        """As in click, with mistakes told in a sentence; the language is known from here on."""
        with mistakes_told():
            speak()
            return super().make_context(*args, **kwargs)

    def invoke(self, ctx: click.Context) -> Any:
        """As in click, with mistakes told in a sentence."""
        with mistakes_told():
            return super().invoke(ctx)


def _speak(_ctx: click.Context, _option: click.Parameter, asked: str | None) -> None:
    if asked:
        speak(asked)


@click.group(
    cls=Protoconch,
    told=(say("Plan and run the season of a small seawater hatchery that raises marine snails."),),
    examples=(
        "protoconch plan demo",
        'protoconch calc ration tank="500 L" wanted=20000 culture=4e6',
    ),
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@option("--language", metavar="CODE", is_eager=True, expose_value=False, callback=_speak,
        help=say("The language of what is said, as in --language es."))  # fmt: skip
@click.version_option(
    __version__, prog_name="protoconch", cls=TellingOption, help=say("Show the version and exit.")
)
@click.pass_context
def main(ctx: click.Context) -> None:
    """Plan and run the season of a small seawater hatchery that raises marine snails."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal without µ still gets its answer
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())


if __name__ == "__main__":
    main(prog_name="protoconch")
