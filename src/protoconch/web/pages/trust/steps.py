"""The steps on the usual phones, each with what its screen shows.

Of Android 11 and later and of iOS 15 and later, from memory; makers of phones name their settings
differently, so each step says what to look for.
"""

from collections.abc import Sequence
from typing import NamedTuple

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _


class Row(NamedTuple):
    """A line on the drawn screen.

    y: where [px]; pressed: the one to touch; switch: drawn as one.
    """

    words: str | Promise
    pressed: bool = False
    switch: bool = False
    y: int = 0


class Step(NamedTuple):
    """What to do, and the screen on which to do it. title: of the drawn screen."""

    words: str | Promise
    title: str | Promise
    rows: tuple[Row, ...]


class Phone(NamedTuple):
    """A sort of phone and its steps."""

    name: str
    steps: tuple[Step, ...]


TOP, APART = 74, 40


def _step(words: str | Promise, title: str | Promise, *rows: Row) -> Step:
    return Step(words, title, tuple(r._replace(y=TOP + n * APART) for n, r in enumerate(rows)))


def phones(authority: str) -> Sequence[Phone]:
    """The phones. authority: the name of the certificate as they show it."""
    file = "protoconch.crt"
    return (
        Phone("Android", (
            _step(_("Press the button above. The phone downloads a small file."),
                  _("This page"), Row(_("Download it"), pressed=True)),
            _step(_("Open the phone's Settings and look for “CA certificate”. It is under Security,"
                    " then Encryption and credentials, then Install a certificate."),
                  _("Settings"), Row(_("Network")), Row(_("Security"), pressed=True),
                  Row(_("Accounts"))),
            _step(_("Choose CA certificate."), _("Install a certificate"),
                  Row(_("CA certificate"), pressed=True), Row(_("User certificate")),
                  Row(_("Wi-Fi certificate"))),
            _step(_("The phone warns you, and it is right to: read above what you trust. Then"
                    " choose Install anyway."),
                  _("Warning"), Row(_("Don't install")),
                  Row(_("Install anyway"), pressed=True)),
            _step(_("Choose the file that was downloaded."), _("Downloads"),
                  Row(file, pressed=True)),
        )),
        Phone("iPhone", (
            _step(_("In Safari, press the button above, and allow the download of a profile."),
                  _("This page"), Row(_("Download it"), pressed=True)),
            _step(_("Open Settings. Near the top it says Profile Downloaded: open it."),
                  _("Settings"), Row(_("Profile Downloaded"), pressed=True), Row(_("Wi-Fi")),
                  Row(_("General"))),
            _step(_("Press Install, and give the phone's code."), _("Install Profile"),
                  Row(authority), Row(_("Install"), pressed=True)),
            _step(_("In Settings open General, then About, then at the very bottom Certificate"
                    " Trust Settings."),
                  _("About"), Row(_("Name")), Row(_("Version")),
                  Row(_("Certificate Trust"), pressed=True)),
            _step(_("Switch the certificate on."), _("Certificate Trust"),
                  Row("Protoconch", pressed=True, switch=True)),
        )),
    )  # fmt: skip
