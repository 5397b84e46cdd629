"""Ed25519 keys for tests of notes: the secret keys are those of RFC 8032, 7.1."""

import json
from pathlib import Path

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from inventory.rules.signed_note import NoteKey

_VECTORS = Path(__file__).parent / "vectors/rfc8032_ed25519.json"
_SECRETS = [case["secret_key"] for case in json.loads(_VECTORS.read_text())["vectors"]]


class NoteHand:
    def __init__(self, number=0):
        self._key = Ed25519PrivateKey.from_private_bytes(bytes.fromhex(_SECRETS[number]))
        self.public_key_bytes = self._key.public_key().public_bytes_raw()

    def sign(self, data):
        return self._key.sign(data)

    def key(self, name):
        return NoteKey(name, self.public_key_bytes)
