"""System checks of what keeps strangers out: what must not reach production.

Each says what to set. Django's own deployment checks look at cookies, headers and https.
"""

from collections.abc import Sequence

from django.apps import AppConfig
from django.conf import settings
from django.core.checks import CheckMessage, Error, Tags, register
from django.core.checks import Warning as Caution

from inventory.rules.rate_limit import read_limit

# These count for one process each, or lose requests that come at the same time.
_OF_ONE_PROCESS = ("LocMemCache", "DummyCache", "FileBasedCache")
LIMITS = frozenset({"tag", "check", "report", "login", "login_name", "api"})


@register
def check_rate_limits(
    _apps: Sequence[AppConfig] | None = None, /, **_options: object
) -> list[CheckMessage]:
    """Every limit must be set, and be one that can be read."""
    found: list[CheckMessage] = []
    for name in sorted(LIMITS | set(settings.RATE_LIMITS)):
        try:
            read_limit(settings.RATE_LIMITS.get(name, ""))
        except ValueError as error:
            hint = "Set it in RATE_LIMITS, as in RATE_LIMITS=tag=120/min."
            found.append(Error(f"The limit “{name}”: {error}", hint=hint, id="certs.E020"))
    return found


@register(Tags.security, deploy=True)
def check_second_step(
    _apps: Sequence[AppConfig] | None = None, /, **_options: object
) -> list[CheckMessage]:
    """Whoever issues papers must prove more than a pass phrase."""
    if settings.MFA_REQUIRED:
        return []
    message = "MFA_REQUIRED is off: a pass phrase alone is enough to issue papers in your name."
    return [Caution(message, hint="Leave it out, or set it to true.", id="certs.W020")]


@register(Tags.security, deploy=True)
def check_shared_counts(
    _apps: Sequence[AppConfig] | None = None, /, **_options: object
) -> list[CheckMessage]:
    """Several processes that count apart let each client ask that many times as often."""
    processes = settings.WEB_CONCURRENCY
    if processes < 2 or not settings.CACHES["rate"]["BACKEND"].endswith(_OF_ONE_PROCESS):  # noqa: PLR2004 -- several
        return []
    message = f"{processes} processes serve, and each counts for itself how often a client asks."
    hint = "Have them count together: CACHE_URL=dbcache://rate_counts, then createcachetable."
    return [Caution(message, hint=hint, id="certs.W021")]
