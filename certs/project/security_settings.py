"""Settings of what keeps strangers and mistakes out, which `settings.py` takes in.

Headers, cookies, rate limits, the second step of the sign-in, and what the log shows.
"""

from typing import Any

import environ
from csp.constants import NONCE, NONE, SELF

env = environ.Env()

DEBUG: bool = env.bool("DEBUG", default=False)
# The origin that is put into every QR code. It must outlive the server it runs on.
PUBLIC_ORIGIN: str = env.str("PUBLIC_ORIGIN", default="http://127.0.0.1:8000").rstrip("/")
HTTPS_ONLY: bool = env.bool("HTTPS_ONLY", default=PUBLIC_ORIGIN.startswith("https://"))
BEHIND_PROXY: bool = env.bool("BEHIND_PROXY", default=False)

# How often one address (one person, in the API) may ask. `login_name` counts the tries upon one
# user name from wherever: it slows guessing down and shuts nobody out for long.
RATE_LIMITS: dict[str, str] = {
    "tag": "120/min",
    "check": "20/min",
    "report": "10/hour",
    "login": "10/min",
    "login_name": "20/min",
    "api": "1200/min",
    **env.dict("RATE_LIMITS", default={}),
}
# How many processes serve; the server reads the same name.
WEB_CONCURRENCY: int = env.int("WEB_CONCURRENCY", default=1)
# Counts of requests lie in a cache of their own, which a flood of other entries cannot push out.
# Several processes count together only where CACHE_URL names a cache that they share.
CACHES: dict[str, dict[str, Any]] = {
    "default": {"BACKEND": "django.core.cache.backends.locmem.LocMemCache", "LOCATION": "default"},
    "rate": env.cache_url("CACHE_URL", default="locmemcache://rate?max_entries=100000"),
}
if CACHES["rate"]["BACKEND"] == "django.core.cache.backends.db.DatabaseCache":
    CACHES["rate"]["BACKEND"] = "inventory.services.shared_counts.SharedCounts"
# Nothing larger is read: four photographs of 8 MB, and the words with them.
MOST_BODY_BYTES = 33 * 1024 * 1024

# Whoever issues papers or keeps accounts proves more than a pass phrase. Off for demonstrations.
MFA_REQUIRED: bool = env.bool("MFA_REQUIRED", default=not DEBUG)
OTP_TOTP_ISSUER: str = env.str("ISSUER_NAME", default="Rope records")
# A code counts for one step on either side of its own, whatever was accepted before.
OTP_TOTP_SYNC = False

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF, NONCE],
        "img-src": [SELF, "data:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
        "base-uri": [NONE],
    },
}
X_FRAME_OPTIONS = "DENY"
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "no-referrer"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
SECURE_SSL_REDIRECT = HTTPS_ONLY
SECURE_HSTS_SECONDS: int = env.int("HSTS_SECONDS", default=31_536_000 if HTTPS_ONLY else 0)
SECURE_HSTS_INCLUDE_SUBDOMAINS = HTTPS_ONLY
SECURE_HSTS_PRELOAD = HTTPS_ONLY
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if BEHIND_PROXY else None
# A browser takes a cookie named so only over https and from this very host (RFC 6265bis).
_COOKIE_PREFIX = "__Host-" if HTTPS_ONLY else ""
SESSION_COOKIE_NAME = f"{_COOKIE_PREFIX}session"
SESSION_COOKIE_SECURE = HTTPS_ONLY
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
# A working day; the second step is asked for at each sign-in.
SESSION_COOKIE_AGE = 12 * 60 * 60
CSRF_COOKIE_NAME = f"{_COOKIE_PREFIX}csrf"
CSRF_COOKIE_SECURE = HTTPS_ONLY
CSRF_COOKIE_HTTPONLY = True
CSRF_COOKIE_SAMESITE = "Lax"
CSRF_FAILURE_VIEW = "certs.pages.form_refused.form_refused"

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {
        "discreet": {
            "()": "inventory.services.log_format.Discreet",
            "format": "{asctime} {levelname} {name} {message}",
            "style": "{",
        },
    },
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "discreet"}},
    "root": {"handlers": ["console"], "level": env.str("LOG_LEVEL", default="WARNING")},
    "loggers": {
        # Who got in and who was refused is told at any level.
        "security": {"level": "INFO"},
        # Its own console handler would write past ours.
        "django": {"handlers": [], "level": "NOTSET", "propagate": True},
        "django.server": {"handlers": [], "level": "NOTSET", "propagate": True},
        # At DEBUG it writes statements with their values: codes, hashes, contacts.
        "django.db.backends": {"level": "INFO"},
        # A stranger's file that does not hold is no trouble of ours: the judgement says what it is.
        "pyhanko": {"level": "ERROR"},
        # What it tells of each step of a rendering, and of style rules that are no trouble.
        "weasyprint": {"level": "ERROR"},
        "fontTools": {"level": "ERROR"},
        "pyhanko_certvalidator": {"level": "ERROR"},
    },
}
