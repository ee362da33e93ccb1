"""The hatchery's own certificate: an authority that its phones trust, and a server's under it.

The authority can vouch for addresses of a local network only, so that a phone that trusts it
trusts it with nothing else.
"""

import os
import socket
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from ipaddress import ip_address, ip_network
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from protoconch.operations.people.codes import code_words
from protoconch.web.network import address_here

AUTHORITY_FOR, SERVER_FOR = timedelta(days=3650), timedelta(days=397)
"""How long they hold; phones refuse a server's of more than 825 days (common practice)."""
NEAR_ITS_END = timedelta(days=60)
LOCAL = tuple(
    ip_network(net)
    for net in ("127.0.0.0/8", "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16",
                "100.64.0.0/10", "::1/128", "fc00::/7", "fe80::/10")
)  # fmt: skip
"""Networks that are nobody's in the Internet: RFC 1918, 3927, 4193, 4291, 6598."""
LOCAL_NAMES = ("localhost", "local", "lan", "home.arpa")
WORDS_OF_FINGERPRINT = 8
Key = ec.EllipticCurvePrivateKey


@dataclass(frozen=True)
class OwnCertificate:
    """Where the parts lie in the data folder. Keys can be read by their owner only."""

    folder: Path

    @property
    def authority(self) -> Path:
        """What phones trust, PEM."""
        return self.folder / "authority.pem"

    @property
    def authority_key(self) -> Path:
        """Its key."""
        return self.folder / "authority-key.pem"

    @property
    def server(self) -> Path:
        """What the server shows, PEM, with the authority after it."""
        return self.folder / "server.pem"

    @property
    def server_key(self) -> Path:
        """Its key."""
        return self.folder / "server-key.pem"

    @cached_property
    def fingerprint(self) -> str:
        """SHA-256 of the authority, as phones show it: "3A 0F ..."."""
        return _loaded(self.authority).fingerprint(hashes.SHA256()).hex(" ").upper()

    @property
    def name(self) -> str:
        """The authority's name, as phones show it."""
        found = _loaded(self.authority).subject.get_attributes_for_oid(NameOID.COMMON_NAME)
        return str(found[0].value)

    def as_der(self) -> bytes:
        """The authority as phones install it."""
        return _loaded(self.authority).public_bytes(serialization.Encoding.DER)

    @property
    def fingerprint_words(self) -> str:
        """The beginning of the same as words, to be said aloud."""
        first = bytes.fromhex(self.fingerprint)[:WORDS_OF_FINGERPRINT]
        return " ".join(code_words()[byte] for byte in first)


def own_certificate(data: Path) -> OwnCertificate:
    """Where the certificate of a data folder is, or will be."""
    return OwnCertificate(data / "certificate")


def brought_up(own: OwnCertificate, names: tuple[str, ...], now: datetime) -> bool:
    """Make what is missing, near its end, or not for these names; True where something was made.

    names: of the machine and its addresses; those that the authority may not vouch for are left
    out: it vouches for local networks, and for what the machine was called when it was made.
    now: with a zone.
    """
    own.folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    made = False
    if not (own.authority.exists() and own.authority_key.exists()) or _ends(own.authority, now):
        _make_authority(own, names, now)
        made = True
    asked = [name for name in dict.fromkeys(names) if _vouched(name, own)]
    if made or not own.server.exists() or not own.server_key.exists() or (
        _ends(own.server, now) or not set(asked) <= set(_names_of(own.server))
    ):  # fmt: skip
        _make_server(own, asked, now)
        made = True
    return made


def names_here() -> tuple[str, ...]:
    """The names and addresses under which others in the local network reach this machine."""
    host = socket.gethostname().split(".")[0].lower()
    found = ["localhost", "127.0.0.1", host, f"{host}.local"]
    with suppress(OSError):  # a name that nobody knows has no addresses
        found += [str(one[4][0]).split("%")[0] for one in socket.getaddrinfo(host, None)]
    found.append(address_here())
    return tuple(dict.fromkeys(name for name in found if name))


def _make_authority(own: OwnCertificate, names: tuple[str, ...], now: datetime) -> None:
    key = _new_key(own.authority_key)
    host = socket.gethostname().split(".")[0].lower()
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Protoconch of {host}"[:64])])
    allowed: list[x509.GeneralName] = [x509.DNSName(one) for one in (host, *LOCAL_NAMES)]
    allowed += [x509.IPAddress(net) for net in LOCAL]
    # a network with addresses of the Internet: those of this machine, and no others
    allowed += [
        x509.IPAddress(ip_network(name)) for name in names if _address(name) and not _local(name)
    ]
    made = (
        _begun(name, name, key, now, AUTHORITY_FOR)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs=True), critical=True)
        .add_extension(x509.NameConstraints(allowed, None), critical=True)
        .sign(key, hashes.SHA256())
    )
    own.authority.write_bytes(made.public_bytes(serialization.Encoding.PEM))


def _make_server(own: OwnCertificate, names: list[str], now: datetime) -> None:
    authority = _loaded(own.authority)
    signing = serialization.load_pem_private_key(own.authority_key.read_bytes(), None)
    assert isinstance(signing, ec.EllipticCurvePrivateKey)  # noqa: S101 - we wrote it
    key = _new_key(own.server_key)
    title = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Protoconch")])
    until = min(SERVER_FOR, authority.not_valid_after_utc - now)
    made = (
        _begun(title, authority.subject, key, now, until)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName([_general(n) for n in names]), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(signing.public_key()), critical=False
        )
        .sign(signing, hashes.SHA256())
    )
    pem = serialization.Encoding.PEM
    own.server.write_bytes(made.public_bytes(pem) + authority.public_bytes(pem))


def _begun(
    subject: x509.Name, issuer: x509.Name, key: Key, now: datetime, held: timedelta
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=2))  # the phone's clock may be a day behind
        .not_valid_after(now + held)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
    )


def _usage(*, signs: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=True, key_cert_sign=signs, crl_sign=signs, content_commitment=False,
        key_encipherment=False, data_encipherment=False, key_agreement=False, encipher_only=False,
        decipher_only=False,
    )  # fmt: skip


def _new_key(place: Path) -> Key:
    """A new key, written so that nobody but its owner ever could read it."""
    key = ec.generate_private_key(ec.SECP256R1())
    plain = key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    half = place.with_suffix(".new")
    half.unlink(missing_ok=True)
    with os.fdopen(os.open(half, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        file.write(plain)
    half.replace(place)
    return key


def _loaded(place: Path) -> x509.Certificate:
    return x509.load_pem_x509_certificate(place.read_bytes())


def _ends(place: Path, now: datetime) -> bool:
    return _loaded(place).not_valid_after_utc - now < NEAR_ITS_END


def _names_of(place: Path) -> list[str]:
    told = _loaded(place).extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return [*told.get_values_for_type(x509.DNSName),
            *(str(one) for one in told.get_values_for_type(x509.IPAddress))]  # fmt: skip


def _general(name: str) -> x509.GeneralName:
    return x509.IPAddress(ip_address(name)) if _address(name) else x509.DNSName(name)


def _vouched(name: str, own: OwnCertificate) -> bool:
    """Whether the authority may vouch for a name or address."""
    found = _loaded(own.authority).extensions.get_extension_for_class(x509.NameConstraints).value
    allowed = found.permitted_subtrees or ()
    if _address(name):
        nets = [ip_network(str(one.value)) for one in allowed if isinstance(one, x509.IPAddress)]
        return any(ip_address(name) in net for net in nets)
    names = [one.value for one in allowed if isinstance(one, x509.DNSName)]
    return any(name == one or name.endswith(f".{one}") for one in names)


def _address(name: str) -> bool:
    try:
        return bool(ip_address(name))
    except ValueError:
        return False


def _local(address: str) -> bool:
    return any(ip_address(address) in net for net in LOCAL)
