"""System checks of what keeps strangers out: what must not reach production.

Each says what to set. Django's own deployment checks look at cookies, headers and https.
"""

from collections.abc import Sequence

from django.apps import AppConfig
from django.conf import settings
from django.core.checks import CheckMessage, Error, Tags, register
from django.core.checks import Warning as Caution

from inventory.rules.rate_limit import read_limit

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
