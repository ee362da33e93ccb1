"""Commands and options whose help is told in the language of whoever asks for it."""

from collections.abc import Callable, Sequence
from typing import Any

import click

from protoconch.words import say


class Telling(click.Command):
    """A command that knows its help as texts, and the examples under it.

    told: paragraphs. examples: lines as they are typed.
    """

    def __init__(
        self, *args: Any, told: Sequence[str] = (), examples: Sequence[str] = (), **named: Any
    ) -> None:
        """As a command of click."""
        super().__init__(*args, **named)
        self.told, self.examples = told, examples

    def get_help_option(self, ctx: click.Context) -> click.Option | None:
        """As in click, with a help that is told in the words of now."""
        found = super().get_help_option(ctx)
        if found is not None:
            found.help = say("Show this message and exit.")
        return found

    def format_help_text(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The help in the words of now; the lines of the examples are kept."""
        if not self.told:
            super().format_help_text(ctx, formatter)
            return
        parts = [str(words) for words in self.told]
        if self.examples:
            parts.append("\n".join(("\b", *self.examples)))
        formatter.write_paragraph()
        with formatter.indentation():
            formatter.write_text("\n\n".join(parts))


class TellingOption(click.Option):
    """An option that keeps its help as the text that it is, not as the words of one language."""

    def __init__(self, *args: Any, help: str | None = None, **named: Any) -> None:  # noqa: A002
        """As an option of click."""
        super().__init__(*args, **named)
        self.help = help


def command(*told: str, examples: Sequence[str] = ()) -> Callable[[Callable[..., Any]], Telling]:
    """Make a command; told: its help, a text for each paragraph."""
    return click.command(cls=Telling, told=told, examples=examples)


def option(*names: str, **named: Any) -> Callable[[Any], Any]:
    """An option of a command; help is a said text."""
    return click.option(*names, cls=TellingOption, **named)


def echo(text: str = "", *, err: bool = False) -> None:
    """Print a text as whoever reads it now reads it. err: on standard error."""
    click.echo(str(text), err=err)


def as_json() -> Callable[[Any], Any]:
    """The option --json."""
    return option("--json", "as_json", is_flag=True, help=say("The answer as JSON."))
