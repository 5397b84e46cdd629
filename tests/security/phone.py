"""An authenticator app for tests, written after RFC 6238 and RFC 4226 and not after the library."""

import hmac
import struct
from types import SimpleNamespace

from django_otp.plugins.otp_totp.models import TOTPDevice

from inventory.services import second_step
from tests.factories import MOMENT

NOON = 1_800_000_000


def code_at(secret, seconds, *, digits=6):
    """RFC 4226 clause 5.3 over the time step of RFC 6238 clause 4.2."""
    counter = struct.pack(">Q", seconds // 30)
    digest = hmac.digest(secret, counter, "sha1")
    at = digest[-1] & 0x0F
    number = struct.unpack(">I", digest[at : at + 4])[0] & 0x7FFFFFFF
    return f"{number % 10**digits:0{digits}d}"


class Phone:
    """Shows codes, and sets the clock by which they are checked."""

    def __init__(self, monkeypatch):
        self._patch = monkeypatch
        self.set_clock(NOON)

    def set_clock(self, seconds):
        self.now = seconds
        clock = SimpleNamespace(time=lambda: seconds)
        self._patch.setattr("django_otp.plugins.otp_totp.models.time", clock)

    def code(self, person, *, steps=0):
        secret = bytes.fromhex(TOTPDevice.objects.get(user=person).key)
        return code_at(secret, self.now + 30 * steps)

    def set_up(self, person):
        """Put the second step into force and let half a minute pass; returns the recovery codes."""
        second_step.enrol(person)
        _, codes = second_step.confirm(person, code=self.code(person), at=MOMENT)
        self.set_clock(self.now + 30)
        return codes
