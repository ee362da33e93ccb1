"""`protoconch serve`: the web program for the crew's phones and the manager's desk."""

from pathlib import Path

import click

from protoconch.cli.telling import command, echo, option
from protoconch.words import joined, listed, say

HOST, PORT = "127.0.0.1", 8311


@command(
    say("The web program, on this machine or for the phones of the crew."),
    examples=(
        "protoconch serve",
        "protoconch serve --host 0.0.0.0 --data hatchery",
        "protoconch serve --host 0.0.0.0 --own-certificate",
    ),
)
@option(
    "--host",
    default=HOST,
    show_default=True,
    help=say("Where to listen; 0.0.0.0 lets the phones in the same network in."),
)
@option("--port", type=click.IntRange(0, 65535), default=PORT, show_default=True)
@option(
    "--data",
    metavar="FOLDER",
    type=click.Path(path_type=Path, file_okay=False),
    help=say("Folder of the records."),
)
@option(
    "--own-certificate",
    is_flag=True,
    help=say(
        "Answer over https as well, at the next port, with a certificate of its own:"
        " phones that trust it open today's work without network."
    ),
)
def serve(host: str, port: int, data: Path | None, own_certificate: bool) -> None:
    """The web program, on this machine or for the phones of the crew."""
    from protoconch.operations.opening import open_records

    open_records(data)
    run(host, port, own_certificate=own_certificate)


def run(host: str, port: int, *, own_certificate: bool = False) -> None:
    """Serve the records that were opened, and say where, until stopped."""
    from protoconch.operations.starting import first_code, started
    from protoconch.web.serving import serve as serving

    def ready(found: list[str]) -> None:
        echo(say("Protoconch answers at {addresses}", addresses=listed(found)))
        if own_certificate:
            _tell_certificate(found)
        if not started():
            code = first_code()
            link = f"{found[0]}welcome/?code={code.replace(' ', '-')}"
            echo(
                joined(
                    [
                        say(
                            "Nobody is known here yet. Begin here, on this machine: {link}",
                            link=link,
                        ),
                        say(
                            "From another machine the first page asks for this code: {code}",
                            code=code,
                        ),
                    ],
                    "\n",
                )
            )
        echo(say("Stop it with Ctrl-C; what was acknowledged is kept."))

    try:
        serving(host, port, ready, own_certificate=own_certificate)
    except KeyboardInterrupt:
        echo(f"\n{say('Stopped.')}")


def _tell_certificate(found: list[str]) -> None:
    """Where phones learn to trust the certificate, and what to compare."""
    from django.conf import settings

    from protoconch.web.own_certificate import own_certificate

    own = own_certificate(settings.DATA)
    http = [address for address in found if address.startswith("http:")]
    echo(
        say(
            "Once on each phone: open {address}trust/ and follow the pictures. The certificate to"
            " trust begins with these words: {words}.",
            address=http[-1], words=own.fingerprint_words,
        )
    )  # fmt: skip
