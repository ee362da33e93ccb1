"""The hatchery's own certificate: what it vouches for, who can read its key, when it is renewed."""

import http.client
import shutil
import socket
import ssl
import stat
import subprocess
from datetime import UTC, datetime, timedelta

import pytest

from protoconch.web.own_certificate import brought_up, names_here, own_certificate

NAMES = ("localhost", "127.0.0.1", "192.168.7.5")
NOW = datetime.now(UTC)


@pytest.fixture
def own(tmp_path):
    made = own_certificate(tmp_path)
    assert brought_up(made, NAMES, NOW)
    return made


def test_keys_can_be_read_by_their_owner_only(own):
    for key in (own.authority_key, own.server_key):
        assert stat.S_IMODE(key.stat().st_mode) == 0o600
    assert stat.S_IMODE(own.folder.stat().st_mode) == 0o700


@pytest.mark.skipif(shutil.which("openssl") is None, reason="no independent reader here")
def test_an_independent_reader_finds_the_chain_sound_and_bound_to_local_networks(own):
    def said(*words):
        done = subprocess.run(
            ["openssl", *map(str, words)], capture_output=True, text=True, check=True
        )
        return done.stdout

    assert "OK" in said("verify", "-x509_strict", "-purpose", "sslserver", "-CAfile",
                        own.authority, own.server)  # fmt: skip
    told = said("x509", "-in", own.authority, "-noout", "-text", "-fingerprint", "-sha256")
    assert "Name Constraints: critical" in told
    assert "IP:192.168.0.0/255.255.0.0" in told
    assert "pathlen:0" in told
    assert own.fingerprint.replace(" ", ":") in told


def test_it_does_not_vouch_for_the_internet(tmp_path):
    own = own_certificate(tmp_path)
    brought_up(own, NAMES, NOW)
    brought_up(own, (*NAMES, "example.org", "8.8.8.8", "192.168.7.9"), NOW)
    names = ssl._ssl._test_decode_cert(str(own.server))["subjectAltName"]
    assert ("IP Address", "192.168.7.9") in names
    assert not any("example" in value or value == "8.8.8.8" for _, value in names)


def test_a_server_s_certificate_is_renewed_for_other_addresses_and_near_its_end(own):
    authority, server = own.authority.read_bytes(), own.server.read_bytes()
    assert not brought_up(own, NAMES, NOW + timedelta(days=300))
    assert brought_up(own, (*NAMES, "10.0.0.8"), NOW)
    assert own.server.read_bytes() != server
    server = own.server.read_bytes()
    assert brought_up(own, NAMES, NOW + timedelta(days=360))
    assert own.server.read_bytes() != server
    assert own.authority.read_bytes() == authority, "no phone has to trust anew for that"
    assert brought_up(own, NAMES, NOW + timedelta(days=3600))
    assert own.authority.read_bytes() != authority


def test_the_words_of_a_fingerprint_are_eight_and_follow_from_it(own, tmp_path):
    assert len(own.fingerprint_words.split()) == 8
    other = own_certificate(tmp_path / "other")
    brought_up(other, NAMES, NOW)
    assert other.fingerprint_words != own.fingerprint_words


def test_this_machine_is_reached_by_its_name_and_at_home():
    assert {"localhost", "127.0.0.1"} <= set(names_here())


def test_pages_come_over_https_and_a_stalled_phone_keeps_nobody_waiting(secure):
    host, port = secure.url.removeprefix("https://").split(":")
    trusting = ssl.create_default_context(cafile=str(secure.own.authority))
    with socket.create_connection((host, int(port))):  # connects, and never says hello
        line = http.client.HTTPSConnection(host, int(port), context=trusting, timeout=8)
        line.request("GET", "/sign-in/")
        answer = line.getresponse()
        assert answer.status in (200, 302)
        answer.read()
        line.close()
    stranger = http.client.HTTPSConnection(host, int(port), timeout=8)
    with pytest.raises(ssl.SSLCertVerificationError):
        stranger.request("GET", "/")
    stranger.close()


def test_a_renewed_certificate_is_shown_without_a_restart(secure):
    host, port = secure.url.removeprefix("https://").split(":")
    before = ssl.get_server_certificate((host, int(port)))
    secure.server._names = lambda: (*NAMES, "10.9.8.7")
    secure.server.renew()
    assert ssl.get_server_certificate((host, int(port))) != before
