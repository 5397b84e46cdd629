"""Opens private keys so that they can sign: from a file once a process, or in a token.

Which key of a purpose signs is decided by the keyring.
"""

from base64 import b64decode
from dataclasses import dataclass
from functools import lru_cache
from typing import cast

from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from django.conf import settings
from django.utils.module_loading import import_string

from inventory.models import SigningKey
from inventory.rules.signing import Purpose, Signer
from inventory.services.key_files import NoKey, PrivateKey, public_bytes, read_key


@dataclass(frozen=True, slots=True)
class FileSigner:
    """A key of an encrypted file, opened."""

    purpose: Purpose
    name: str
    public_key_bytes: bytes
    certificate_pem: str
    is_evaluation: bool
    key: PrivateKey

    @property
    def algorithm(self) -> str:
        """Name the algorithm."""
        return self.purpose.algorithm

    def sign(self, data: bytes) -> bytes:
        """Sign the data."""
        if isinstance(self.key, Ed25519PrivateKey):
            return self.key.sign(data)
        return self.key.sign(data, ec.ECDSA(hashes.SHA256()))


def open_signer(row: SigningKey) -> Signer:
    """Open the private half of a key on record.

    Raises:
        NoKey: its file is missing or does not open, and no token holds it.
    """
    purpose = Purpose(row.purpose)
    token = token_for(purpose)
    if token is not None and token.name == row.name:
        return token
    key = _opened(str(settings.KEYS_ROOT), row.name, is_evaluation=row.is_evaluation)
    public = b64decode(row.public_key)
    if public_bytes(key) != public:
        message = f"The key file {row.name}.pem holds another key than the one on record."
        raise NoKey(message)
    return FileSigner(purpose, row.name, public, row.certificate_pem, row.is_evaluation, key)


@lru_cache(maxsize=32)
def _opened(_root: str, name: str, *, is_evaluation: bool) -> PrivateKey:
    """Open a key file once in the life of the process: a name is never used twice."""
    return read_key(name, is_evaluation=is_evaluation)


def token_for(purpose: Purpose) -> Signer | None:
    """Ask what `SIGNERS` names for this purpose; None where keys of the purpose lie in files."""
    path = settings.SIGNERS.get(purpose.value)
    return cast("Signer", import_string(path)()) if path else None


def forget_opened_keys() -> None:
    """Open key files anew from here on, as after they were put back."""
    _opened.cache_clear()
