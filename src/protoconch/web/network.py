"""Where this machine is in its network."""

import socket


def address_here() -> str:
    """The address of this machine in its network; no packet is sent to find it."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address that documents use and nobody has
            return str(probe.getsockname()[0])
        except OSError:
            return ""
