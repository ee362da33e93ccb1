"""The server: answers pages until it is stopped."""

import signal
import socket
from collections.abc import Callable
from types import FrameType
from typing import Any

from waitress.server import create_server

from protoconch.errors import BadInput

THREADS = 6
"""Pages answered at once; the database writes one at a time anyway."""


def serve(host: str, port: int, ready: Callable[[list[str]], None]) -> None:
    """Serve the records that were opened, until the program is told to stop.

    ready: is given the addresses once they answer.
    Raises: BadInput, where the address cannot be listened on.
    """
    from protoconch.operations.planning import start_worker
    from protoconch.web.wsgi import application

    try:
        server: Any = create_server(application, host=host, port=port, threads=THREADS, ident=None)
    except (OSError, ValueError) as fault:
        said = getattr(fault, "strerror", None) or str(fault)
        raise BadInput(
            f"The address {host}, port {port}, cannot be used: {said}. Choose another with --host"
            " or --port."
        ) from None
    signal.signal(signal.SIGTERM, _stopped)
    ready(addresses(host, getattr(server, "effective_port", port)))
    start_worker()
    server.run()


def addresses(host: str, port: int) -> list[str]:
    """What to type into a browser: on this machine, and from others where they are let in."""
    if host not in ("0.0.0.0", "::", "*", ""):  # noqa: S104 - asked for by name
        return [f"http://{f'[{host}]' if ':' in host else host}:{port}/"]
    here = _address_here()
    return [f"http://127.0.0.1:{port}/", *([f"http://{here}:{port}/"] if here else [])]


def _address_here() -> str:
    """The address of this machine in its network; no packet is sent to find it."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address that documents use and nobody has
            return str(probe.getsockname()[0])
        except OSError:
            return ""


def _stopped(_signal: int, _frame: FrameType | None) -> None:
    raise SystemExit(0)
