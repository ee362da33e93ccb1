"""The same pages once more, over https with the hatchery's own certificate.

waitress, which answers plain http, knows no https; cheroot does.
"""

import ssl
import threading
import time
from collections.abc import Callable
from datetime import UTC, datetime
from socket import socket
from typing import Any

from cheroot.makefile import StreamReader, StreamWriter
from cheroot.ssl import Adapter
from cheroot.wsgi import Server

from protoconch.web.own_certificate import OwnCertificate, brought_up

LOOKED_AFTER_S = 300.0
"""How often it is asked whether the machine has other addresses or the certificate is old."""
BUFFER = 65536


class _Handshaking(Adapter):
    """Speaks TLS.

    The handshake is done by the thread that reads, so that one phone that stalls in the middle of
    it keeps nobody else waiting.
    """

    def __init__(self, context: ssl.SSLContext) -> None:
        self.context = context

    def bind(self, sock: socket) -> socket:
        """Plain until somebody connects."""
        return sock

    def wrap(self, sock: socket) -> tuple[ssl.SSLSocket, dict[str, str]]:
        """The connection, its handshake still to come."""
        wrapped = self.context.wrap_socket(sock, server_side=True, do_handshake_on_connect=False)
        return wrapped, self.get_environ()

    def get_environ(self) -> dict[str, str]:
        """What the pages are told of it."""
        return {"wsgi.url_scheme": "https", "HTTPS": "on"}

    def makefile(self, sock: Any, mode: str = "r", bufsize: int = BUFFER) -> Any:
        """The connection as a file."""
        return (StreamReader if "r" in mode else StreamWriter)(sock, mode, bufsize)


class SecureServer:
    """Answers over https in threads of its own, until the program ends."""

    def __init__(
        self, application: Any, own: OwnCertificate, host: str, port: int, threads: int,
        names: Callable[[], tuple[str, ...]],
    ) -> None:  # fmt: skip
        """Listen, but do not answer yet.

        names: those under which the machine is reached now.
        Raises: OSError, where the address cannot be listened on.
        """
        self._own, self._names = own, names
        brought_up(own, names(), datetime.now(UTC))
        self._context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        self._context.minimum_version = ssl.TLSVersion.TLSv1_2
        self._load()
        self._server = Server((host, port), application, numthreads=threads, server_name="")
        self._server.ssl_adapter = _Handshaking(self._context)
        self._server.error_log = _quiet  # type: ignore[method-assign]
        self._server.prepare()

    @property
    def port(self) -> int:
        """Where it listens."""
        return int(self._server.bind_addr[1])

    def start(self) -> None:
        """Answer from now on."""
        threading.Thread(target=self._server.serve, name="https", daemon=True).start()
        threading.Thread(target=self._look_after, name="certificate", daemon=True).start()

    def stop(self) -> None:
        """Answer no more."""
        self._server.stop()

    def _look_after(self) -> None:
        while self._server.ready:
            time.sleep(LOOKED_AFTER_S)
            self.renew()

    def renew(self) -> None:
        """A new certificate where the machine has other addresses, or the old one nears its end."""
        if brought_up(self._own, self._names(), datetime.now(UTC)):
            self._load()

    def _load(self) -> None:
        self._context.load_cert_chain(self._own.server, self._own.server_key)


def _quiet(*_parts: Any, **_named: Any) -> None:
    """A phone that does not trust the certificate yet breaks off; that is no news."""
