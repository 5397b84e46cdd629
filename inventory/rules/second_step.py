"""Who must prove more than a pass phrase when signing in, and what recovery codes look like.

The second step is six digits from an authenticator app (TOTP, RFC 6238). Whether it is asked for
at all is a setting; checking the digits is the service's business.
"""

import base64
import hashlib
from typing import Final

from inventory.rules.roles import Role

# Whoever issues, validates or withdraws papers, and whoever keeps accounts and keys.
NEEDED_BY: Final = frozenset({Role.QA_OFFICER, Role.INSPECTION_REPRESENTATIVE, Role.ADMINISTRATOR})
RECOVERY_CODES: Final = 10
# 24 symbols of 5 bits: 120 bits, so that a plain hash of it protects it (OWASP ASVS 5.0, 6.5.2).
RECOVERY_BYTES: Final = 15
_RECOVERY_SYMBOLS: Final = RECOVERY_BYTES * 8 // 5
_GROUP: Final = 4
_KEPT_SYMBOLS: Final = 16
_LOOK_ALIKES: Final = str.maketrans("018", "OIB")


def recovery_code(random: bytes) -> str:
    """Write fifteen random bytes as a recovery code: six groups of four letters and digits.

    Raises:
        ValueError: there are not fifteen of them.
    """
    if len(random) != RECOVERY_BYTES:
        message = f"a recovery code is made of {RECOVERY_BYTES} bytes"
        raise ValueError(message)
    text = base64.b32encode(random).decode()
    return "-".join(text[at : at + _GROUP] for at in range(0, _RECOVERY_SYMBOLS, _GROUP))


def folded(typed: str) -> str:
    """Read what was typed: without spaces and dashes, in capitals, no digit for its look-alike.

    The alphabet (RFC 4648, clause 6) has no 0, 1 or 8, so each of them was meant as a letter.
    """
    return "".join(typed.split()).replace("-", "").upper().translate(_LOOK_ALIKES)


def is_recovery_code(typed: str) -> bool:
    """Tell whether it has the length of a recovery code rather than that of six digits."""
    return len(folded(typed)) == _RECOVERY_SYMBOLS


def kept_form(code: str) -> str:
    """What is kept of a recovery code: the first 80 bits of its SHA-256, as sixteen symbols."""
    digest = hashlib.sha256(folded(code).encode()).digest()
    return base64.b32encode(digest).decode()[:_KEPT_SYMBOLS]
