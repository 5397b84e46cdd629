"""What must not stand in a log: the text with every secret in it taken out.

It knows secrets by their form: a tag's code, a token, a kept pass phrase, a key, and whatever
stands behind a name such as `password`. It is the last net; nothing here should log one at all.
"""

import re
from typing import Final

HIDDEN: Final = "[hidden]"
_NAMES: Final = (
    "password|passwd|passphrase|pass_phrase|former|secret|secret_key|token|code|authorization"
    "|csrfmiddlewaretoken|sessionid|__host-session|session|contact"
)
_FORMS: Final = (
    # A private key, whole or cut off.
    (re.compile(r"-----BEGIN [A-Z ]*PRIVATE KEY-----.*?(?:-----END [A-Z ]*PRIVATE KEY-----|\Z)",
                re.DOTALL), HIDDEN),
    # The address of a tag, whatever was typed as its code.
    (re.compile(r"(/t/|/tags/)(?!\?)[^/\s\"'?]+", re.IGNORECASE), rf"\1{HIDDEN}"),
    (re.compile(r"\b(Token|Bearer|Basic)\s+[\w.=+/-]+", re.IGNORECASE), rf"\1 {HIDDEN}"),
    (re.compile(r"otpauth://\S+"), HIDDEN),
    # name=value, name: value, 'name': 'value'
    (re.compile(rf"""(["']?\b(?:{_NAMES})["']?\s*[:=]\s*)(?:"[^"]*"|'[^']*'|[^\s,;&}}\])]+)""",
                re.IGNORECASE), rf"\1{HIDDEN}"),
    (re.compile(r"\b(?:argon2|pbkdf2_sha256|md5|scrypt)\$\S+"), HIDDEN),
    # A token of the API; also 40 digits of any other hash, which nobody misses.
    (re.compile(r"\b[0-9a-f]{40}\b"), HIDDEN),
    # Sixteen symbols of Crockford's alphabet, grouped or not, with a letter among them.
    (re.compile(r"\b(?=[0-9-]*[A-Z])(?:[0-9A-HJKMNP-TV-Z]{4}-?){3}[0-9A-HJKMNP-TV-Z]{4}\b"),
     HIDDEN),
)  # fmt: skip
_LINE_BREAKS: Final = str.maketrans({"\r": "\\r", "\n": "\\n", "\x1b": "\\x1b", "\x00": "\\0"})


def without_secrets(text: str) -> str:
    """Return the text with every secret replaced by `[hidden]`."""
    for form, instead in _FORMS:
        text = form.sub(instead, text)
    return text


def on_one_line(text: str) -> str:
    """Return the text so that it cannot pretend to be another entry (OWASP ASVS 5.0, 16.4.1)."""
    return text.translate(_LINE_BREAKS)
