"""Keeps private keys as encrypted PKCS#8 files of mode 0600 under `KEYS_ROOT`.

Never in the database, nor among the kept files. Which key signs is decided by the keyring.
"""

import os
from contextlib import suppress
from pathlib import Path
from typing import TypeAlias

from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePrivateKey
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from django.conf import settings

from inventory.rules.refusal import Refusal
from inventory.rules.signing import Purpose

PrivateKey: TypeAlias = Ed25519PrivateKey | EllipticCurvePrivateKey

# Protects nothing and says so: what it opens is marked an evaluation key on every paper.
EVALUATION_PASSPHRASE = "evaluation keys vouch for nobody"  # noqa: S105 -- see above
# PKCS#8 as the library writes it stretches a pass phrase by 2048 rounds only (PBKDF2): the
# phrase itself has to be long.
LEAST_PASSPHRASE = 20


class NoKey(Refusal):
    """No key can sign for this purpose now; the text says what to do."""


def check_passphrase() -> None:
    """Refuse a pass phrase that is missing or short, before a key of the house rests on it.

    Raises:
        NoKey: as said.
    """
    if len(settings.KEYS_PASSPHRASE) < LEAST_PASSPHRASE:
        message = (
            "A key that is not for evaluation needs a pass phrase: set KEYS_PASSPHRASE to"
            f" {LEAST_PASSPHRASE} signs or more."
        )
        raise NoKey(message)


def write_key(name: str, key: PrivateKey, *, is_evaluation: bool) -> Path:
    """Write a new key file whole or not at all, and never over another.

    Raises:
        NoKey: the folder cannot be written, or a file of this name is there.
    """
    path = _path(name)
    content = key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.BestAvailableEncryption(_passphrase(is_evaluation=is_evaluation)),
    )
    part = path.with_suffix(f".{os.getpid()}.part")
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.link(part, path)
    except OSError as error:
        message = f"The key file {name}.pem cannot be written to KEYS_ROOT: {error.strerror}."
        raise NoKey(message) from error
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)
    return path


def read_key(name: str, *, is_evaluation: bool) -> PrivateKey:
    """Read and decrypt the key of this name.

    Raises:
        NoKey: the file is missing, unreadable, damaged, or of another pass phrase.
    """
    try:
        content = _path(name).read_bytes()
    except OSError as error:
        message = (
            f"The key file {name}.pem cannot be read from KEYS_ROOT ({error.strerror})."
            " Put it back from its backup, or make the next key:"
            f" {_next_key(name, is_evaluation=is_evaluation)}."
        )
        raise NoKey(message) from error
    try:
        key = serialization.load_pem_private_key(
            content, password=_passphrase(is_evaluation=is_evaluation)
        )
    except (ValueError, TypeError) as error:
        message = (
            f"The key file {name}.pem does not open: KEYS_PASSPHRASE is not the one it was made"
            " with, or the file is damaged. Nothing is lost; set the right one."
        )
        raise NoKey(message) from error
    if not isinstance(key, Ed25519PrivateKey | EllipticCurvePrivateKey):
        message = f"The key file {name}.pem holds a key of another kind than this program makes."
        raise NoKey(message)
    return key


def has_key(name: str) -> bool:
    """Tell whether a key file of this name lies there."""
    return _path(name).is_file()


def public_bytes(key: PrivateKey) -> bytes:
    """Give the public half: 32 bytes of Ed25519, SubjectPublicKeyInfo in DER of P-256."""
    public = key.public_key()
    if isinstance(key, Ed25519PrivateKey):
        return public.public_bytes(serialization.Encoding.Raw, serialization.PublicFormat.Raw)
    return public.public_bytes(
        serialization.Encoding.DER, serialization.PublicFormat.SubjectPublicKeyInfo
    )


def _next_key(name: str, *, is_evaluation: bool) -> str:
    """Give the command that makes the next key; the root's name begins with no purpose."""
    named = [purpose for purpose in Purpose if name.startswith(purpose.value)]
    purpose = (named or [Purpose.PAPER])[0].value
    return f"manage.py make_keys --purpose {purpose}{' --evaluation' if is_evaluation else ''}"


def _path(name: str) -> Path:
    return Path(settings.KEYS_ROOT) / f"{name}.pem"


def _passphrase(*, is_evaluation: bool) -> bytes:
    chosen: str = EVALUATION_PASSPHRASE if is_evaluation else settings.KEYS_PASSPHRASE
    return chosen.encode()
