"""How a phone learns to trust the certificate: for everybody, and honest where there is none."""

from datetime import UTC, datetime

import pytest
from cryptography.x509 import load_der_x509_certificate
from django.test import Client

from protoconch.web.own_certificate import brought_up, own_certificate

pytestmark = pytest.mark.django_db


@pytest.fixture
def served(settings, tmp_path):
    settings.DATA, settings.SECURE_PORT = tmp_path, 8312
    own = own_certificate(tmp_path)
    brought_up(own, ("localhost", "127.0.0.1"), datetime.now(UTC))
    return own


def test_the_page_shows_the_words_the_fingerprint_and_where_to_go_then(served):
    text = Client().get("/trust/", HTTP_HOST="192.168.7.5:8311").content.decode()
    assert served.fingerprint_words in text
    assert served.fingerprint in text
    assert 'href="https://192.168.7.5:8312/"' in text
    assert text.count("<svg") == 10
    assert "Whoever has the key" in text


def test_the_certificate_is_given_to_anybody_and_never_its_key(served):
    answer = Client().get("/trust/protoconch.crt")
    assert answer["Content-Type"] == "application/x-x509-ca-cert"
    assert load_der_x509_certificate(answer.content).serial_number
    assert b"PRIVATE" not in answer.content


def test_without_a_certificate_the_page_says_how_to_begin(settings, tmp_path):
    settings.DATA = tmp_path
    text = Client().get("/trust/").content.decode()
    assert "protoconch serve --host 0.0.0.0 --own-certificate" in text
    assert Client().get("/trust/protoconch.crt").status_code == 404
