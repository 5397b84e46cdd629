"""System checks: a bad value of the environment, or a guard that is down, stops the start.

Each says what to set or to do.
"""

from collections.abc import Iterable, Sequence
from urllib.parse import urlsplit
from zoneinfo import available_timezones

from django.apps import AppConfig
from django.conf import settings
from django.core.checks import CheckMessage, Error, Tags, register
from django.core.checks import Warning as Caution
from django.db import connections
from django.db.migrations.recorder import MigrationRecorder

from certs.models import claim_guards
from inventory.models import ledger_guards
from inventory.models.guards import missing
from inventory.queries.signing_keys import keys_in_use
from inventory.rules.signing import Purpose

EVALUATION_KEY_PREFIX = "local-evaluation-key"
# The migration of each app that puts its guards up: before it there is nothing to miss.
GUARDED_SINCE = "0002_guards"


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


@register(Tags.database)
def check_guards(
    _apps: Sequence[AppConfig] | None = None,
    /,
    *,
    databases: Iterable[str] | None = None,
    **_options: object,
) -> list[CheckMessage]:
    """Every guard that a migration put up must stand; a table that was rebuilt loses its own."""
    guards_of = {"inventory": ledger_guards.GUARDS, "certs": claim_guards.GUARDS}
    found: list[CheckMessage] = []
    for alias in databases or ():
        applied = MigrationRecorder(connections[alias]).applied_migrations()
        up = [
            g
            for app, guards in guards_of.items()
            if (app, GUARDED_SINCE) in applied
            for g in guards
        ]
        found += [
            Error(
                f"The guard {name} does not stand in the database “{alias}”.",
                hint="Run manage.py put_up_guards, and find out who took it down.",
                id="certs.E005",
            )
            for name in missing(connections[alias], up)
        ]
    return found


@register(Tags.database)
def check_signing_keys(
    _apps: Sequence[AppConfig] | None = None,
    /,
    *,
    databases: Iterable[str] | None = None,
    **_options: object,
) -> list[CheckMessage]:
    """A house that is open to others needs keys, and not those that suit an evaluation."""
    if settings.DEBUG or settings.SECRET_KEY.startswith(EVALUATION_KEY_PREFIX):
        return []
    found: list[CheckMessage] = []
    for alias in databases or ():
        applied = MigrationRecorder(connections[alias]).applied_migrations()
        if ("inventory", GUARDED_SINCE) not in applied:
            continue
        held = keys_in_use(alias)
        found += [
            Caution(
                f"No key of purpose {purpose.value} signs: no certificate can be issued.",
                hint="Register the first administrator, then run manage.py make_keys.",
                id="certs.W003",
            )
            for purpose in Purpose
            if purpose.value not in held
        ]
        found += [
            Caution(
                f"The key {key.name} is for evaluation: every paper says that it vouches for"
                " nobody.",
                hint="Set KEYS_PASSPHRASE and run manage.py make_keys --purpose all.",
                id="certs.W002",
            )
            for key in held.values()
            if key.is_evaluation
        ]
    return found
