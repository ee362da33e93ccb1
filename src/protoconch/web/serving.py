"""The server: answers pages until it is stopped."""

import signal
from collections.abc import Callable
from types import FrameType
from typing import Any

from waitress.server import create_server

from protoconch.errors import BadInput
from protoconch.web.network import address_here
from protoconch.words import say

THREADS = 6
"""Pages answered at once; the database writes one at a time anyway."""
EVERYWHERE = ("0.0.0.0", "::", "*", "")  # noqa: S104 - asked for by name


def serve(
    host: str, port: int, ready: Callable[[list[str]], None], *, own_certificate: bool = False
) -> None:
    """Serve the records that were opened, until the program is told to stop.

    ready: is given the addresses once they answer, those of plain http first. own_certificate:
    answer over https as well, at the port after that one.
    Raises: BadInput, where an address cannot be listened on.
    """
    from protoconch.operations.planning import start_worker
    from protoconch.web.wsgi import application

    try:
        server: Any = create_server(application, host=host, port=port, threads=THREADS, ident=None)
    except (OSError, ValueError) as fault:
        raise _taken(host, port, fault) from None
    at = int(getattr(server, "effective_port", port))
    found = addresses(host, at)
    if own_certificate:
        found += addresses(host, _serve_secure(application, host, port and at + 1), "https")
    signal.signal(signal.SIGTERM, _stopped)
    ready(found)
    start_worker()
    server.run()


def _serve_secure(application: Any, host: str, port: int) -> int:
    """Answer over https as well; the port. Raises: BadInput."""
    from django.conf import settings

    from protoconch.web.own_certificate import names_here, own_certificate
    from protoconch.web.secure_serving import SecureServer

    def names() -> tuple[str, ...]:
        return names_here() if host in EVERYWHERE else (*names_here(), host)

    own = own_certificate(settings.DATA)
    try:
        server = SecureServer(application, own, host, port, THREADS, names)
    except OSError as fault:
        raise _taken(host, port, fault) from None
    settings.SECURE_PORT = server.port
    server.start()
    return server.port


def _taken(host: str, port: int, fault: Exception) -> BadInput:
    said = getattr(fault, "strerror", None) or str(fault)
    return BadInput(
        say(
            "The address {host}, port {port}, cannot be used: {said}. Choose another with --host or"
            " --port.",
            host=host, port=f"{port}", said=said,
        )
    )  # fmt: skip


def addresses(host: str, port: int, scheme: str = "http") -> list[str]:
    """What to type into a browser: on this machine, and from others where they are let in."""
    if host not in EVERYWHERE:
        return [f"{scheme}://{f'[{host}]' if ':' in host else host}:{port}/"]
    here = address_here()
    return [f"{scheme}://127.0.0.1:{port}/", *([f"{scheme}://{here}:{port}/"] if here else [])]


def _stopped(_signal: int, _frame: FrameType | None) -> None:
    raise SystemExit(0)
