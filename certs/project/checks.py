"""System checks of the environment: a bad value stops the start and says what to set."""

from collections.abc import Sequence
from urllib.parse import urlsplit
from zoneinfo import available_timezones

from django.apps import AppConfig
from django.conf import settings
from django.core.checks import CheckMessage, Error, Tags, register
from django.core.checks import Warning as Caution

EVALUATION_KEY_PREFIX = "local-evaluation-key"


@register
def check_public_origin(
    _apps: Sequence[AppConfig] | None = None, /, **_options: object
) -> list[CheckMessage]:
    """`PUBLIC_ORIGIN` goes into every QR code; it must be a bare http(s) origin."""
    parts = urlsplit(settings.PUBLIC_ORIGIN)
    if parts.scheme in {"http", "https"} and parts.netloc and not parts.path:
        return []
    return [
        Error(
            f"PUBLIC_ORIGIN is {settings.PUBLIC_ORIGIN!r}, which is no origin.",
            hint="Set it to the scheme and host that tags shall lead to: https://rope.example",
            id="certs.E001",
        )
    ]


@register
def check_time_zone(
    _apps: Sequence[AppConfig] | None = None, /, **_options: object
) -> list[CheckMessage]:
    """`TIME_ZONE` must be a zone that this machine knows."""
    if settings.TIME_ZONE in available_timezones():
        return []
    return [
        Error(
            f"TIME_ZONE is {settings.TIME_ZONE!r}, which is no time zone.",
            hint="Use a name of the IANA database, such as Europe/Copenhagen.",
            id="certs.E002",
        )
    ]


@register
def check_storage(
    _apps: Sequence[AppConfig] | None = None, /, **_options: object
) -> list[CheckMessage]:
    """Evidence is kept under `STORAGE_ROOT`; a file in its place cannot hold any."""
    root = settings.STORAGE_ROOT
    if not root.exists() or root.is_dir():
        return []
    return [Error(f"STORAGE_ROOT {root} is not a folder.", id="certs.E003")]


@register(Tags.security, deploy=True)
def check_evaluation_values(
    _apps: Sequence[AppConfig] | None = None, /, **_options: object
) -> list[CheckMessage]:
    """Values that suit an evaluation and nothing else."""
    found: list[CheckMessage] = []
    if settings.SECRET_KEY.startswith(EVALUATION_KEY_PREFIX):
        found.append(Error("SECRET_KEY is the evaluation key.", id="certs.E004"))
    if not settings.PUBLIC_ORIGIN.startswith("https://"):
        found.append(
            Caution("PUBLIC_ORIGIN is not https: a tag's answer could be forged.", id="certs.W001")
        )
    return found
