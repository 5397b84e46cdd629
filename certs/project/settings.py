"""All settings, read from the environment and from nothing else.

Every name has a default that suits one person on one machine; `checks.py` says which of them
must not reach production.
"""

from pathlib import Path
from typing import Any

import environ

from certs.project.api_settings import REST_FRAMEWORK, SPECTACULAR_SETTINGS  # noqa: F401 -- Django reads them here
from certs.project.security_settings import *  # noqa: F403 -- and these

ROOT = Path(__file__).resolve().parent.parent.parent

env = environ.Env()

SECRET_KEY: str = env.str("SECRET_KEY", default="local-evaluation-key-not-for-production-use-0000")
ALLOWED_HOSTS: list[str] = env.list("ALLOWED_HOSTS", default=["127.0.0.1", "localhost", "[::1]"])
CSRF_TRUSTED_ORIGINS: list[str] = env.list("CSRF_TRUSTED_ORIGINS", default=[])
STORAGE_ROOT = Path(env.str("STORAGE_ROOT", default=str(ROOT / ".data")))
# Private keys lie here, encrypted, apart from the database and from the files. Without a pass
# phrase only evaluation keys are made, and every paper says so.
KEYS_ROOT = Path(env.str("KEYS_ROOT", default=str(STORAGE_ROOT / "keys")))
KEYS_PASSPHRASE: str = env.str("KEYS_PASSPHRASE", default="")
# Purpose to the dotted name of what makes its signer: where a hardware token holds the key.
SIGNERS: dict[str, str] = env.dict("SIGNERS", default={})
# A time-stamp service (RFC 3161). Without one, papers are signed and carry no time stamp.
TSA_URL: str = env.str("TSA_URL", default="")
# The roots (PEM) by which that service is trusted; without them its stamps are not.
TSA_ROOTS: str = env.str("TSA_ROOTS", default="")
# Who issues the papers. Printed on each certificate.
ISSUER_NAME: str = env.str("ISSUER_NAME", default="Demonstration stockist (invented)")
ISSUER_ADDRESS: str = env.str("ISSUER_ADDRESS", default="No address set: ISSUER_ADDRESS")

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "csp",
    "django_htmx",
    "django_otp",
    "django_otp.plugins.otp_totp",
    "django_otp.plugins.otp_static",
    "django_tasks",
    "django_tasks_db",
    "rest_framework",
    "rest_framework.authtoken",
    "drf_spectacular",
    "inventory",
    "certs",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "inventory.pages.gate.Policies",
    "inventory.pages.body_size.BodySize",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django_otp.middleware.OTPMiddleware",
    "inventory.pages.gate.SecondStep",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
]

ROOT_URLCONF = "certs.project.urls"
WSGI_APPLICATION = "certs.project.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [ROOT / "templates"],
        "OPTIONS": {
            "builtins": [
                "inventory.documents.quantities",
                "inventory.pages.once_field",
                "inventory.pages.reading",
                "inventory.pages.unbroken",
                "certs.documents.paper_words",
                "certs.pages.weight_tags",
                "certs.pages.paper_tags",
            ],
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "certs.pages.claims_context.claims_allowed",
                "certs.pages.reel_context.receiving_note",
            ],
        },
    },
]


def database() -> dict[str, Any]:
    """One database by URL: SQLite beside the stored files unless `DATABASE_URL` says otherwise."""
    default = f"sqlite:///{STORAGE_ROOT / 'rope.sqlite3'}"
    config: dict[str, Any] = env.db_url("DATABASE_URL", default=default)
    if config["ENGINE"].endswith("sqlite3"):
        # IMMEDIATE takes the write lock at BEGIN: without it two read-then-write transactions
        # fail with "database is locked". The pragma recursive_triggers closes the way round the
        # guards that INSERT OR REPLACE opens.
        config["OPTIONS"] = {
            "timeout": 30,
            "transaction_mode": "IMMEDIATE",
            "init_command": (
                "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; "
                "PRAGMA foreign_keys=ON; PRAGMA recursive_triggers=ON;"
            ),
        }
    else:
        config["CONN_MAX_AGE"] = env.int("CONN_MAX_AGE", default=60)
        config["CONN_HEALTH_CHECKS"] = True
    return config


DATABASES = {"default": database()}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "inventory.Person"
AUTHENTICATION_BACKENDS = ["inventory.queries.signed_in_person.SignedInPerson"]
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "inventory.services.pass_phrases.LongEnough",
        "OPTIONS": {"min_length": 12},
    },
    {"NAME": "inventory.services.pass_phrases.NotCommon"},
]
LOGIN_URL = "login"
LOGIN_REDIRECT_URL = "certs:today"
LOGOUT_REDIRECT_URL = "login"

LANGUAGE_CODE = "en-gb"
TIME_ZONE: str = env.str("TIME_ZONE", default="UTC")
USE_I18N = True
# The words of tag pages and of paper in the languages of `inventory.rules.language`; nothing else
# is translated. `.tools/words` puts them together.
LOCALE_PATHS = [ROOT / "certs" / "words" / "tag", ROOT / "certs" / "words" / "paper"]
USE_TZ = True

STATIC_URL = "static/"
STATIC_ROOT = STORAGE_ROOT / "static"
STATICFILES_DIRS: list[Path] = []
STORAGES = {
    "default": {
        "BACKEND": "django.core.files.storage.FileSystemStorage",
        "OPTIONS": {"location": STORAGE_ROOT / "files", "file_permissions_mode": 0o440},
    },
    "staticfiles": {
        "BACKEND": env.str(
            "STATIC_BACKEND", default="django.contrib.staticfiles.storage.StaticFilesStorage"
        ),
    },
}
WHITENOISE_USE_FINDERS: bool = env.bool("STATIC_FROM_SOURCE", default=True)

# Without a worker the task runs at once, in the request; with one, in the database's queue.
TASKS = {
    "default": {
        "BACKEND": env.str(
            "TASK_BACKEND", default="django_tasks.backends.immediate.ImmediateBackend"
        ),
    },
}

# An upload is a scanned mill document or a force log; anything larger is a mistake.
DATA_UPLOAD_MAX_MEMORY_SIZE = 25 * 1024 * 1024
FILE_UPLOAD_MAX_MEMORY_SIZE = 5 * 1024 * 1024
