"""The program in a process of its own with the settings of production, asked a few things."""

import json
import os
import subprocess
import sys
from functools import cache

from django.conf import settings

SCRIPT = """
import json, os
import django
django.setup()
from django.core.management import call_command
from django.conf import settings
from django.test import Client
from django.test.utils import setup_test_environment
call_command("migrate", verbosity=0)
client = Client(headers={"Host": "rope.example"})
client.get("/sign-in/", secure=True)
from inventory.models import Person
from django.utils import timezone
person = Person.objects.create(username="ada", role="stores", journal_salt="s")
person.set_password("four horses in a field")
person.save()
answer = client.post("/sign-in/", {"username": "ada", "password": "four horses in a field"},
                     secure=True)
assert answer.status_code == 302, answer.content
plain = client.get("/sign-in/")
print(json.dumps({
    "cookies": {name: {key: cookie[key] for key in ("secure", "httponly", "samesite", "path",
                "domain")} for name, cookie in client.cookies.items()},
    "hsts": answer.headers.get("Strict-Transport-Security"),
    "plain_status": plain.status_code,
    "plain_location": plain.headers.get("Location", ""),
    "debug": settings.DEBUG,
    "mfa": settings.MFA_REQUIRED,
}))
"""
VALUES = {
    "HTTPS_ONLY": "true",
    "PUBLIC_ORIGIN": "https://rope.example",
    "ALLOWED_HOSTS": "rope.example",
    "CSRF_TRUSTED_ORIGINS": "https://rope.example",
    "SECRET_KEY": "k" * 25 + "4f9a0c7e1b83d5260e7f4a9b2c61d8",
    "DATABASE_URL": "sqlite://:memory:",
    "DJANGO_SETTINGS_MODULE": "certs.project.settings",
    "KEYS_PASSPHRASE": "an invented phrase for the keys",
    "TASK_BACKEND": "django_tasks_db.DatabaseBackend",
    "STATIC_FROM_SOURCE": "true",
}


def run_in_production(*arguments, **more):
    environment = {"PATH": os.environ["PATH"], **VALUES, **more}
    return subprocess.run(
        [sys.executable, *arguments],
        cwd=settings.ROOT, env=environment, capture_output=True, text=True, check=False,
    )  # fmt: skip


@cache
def asked_in_production():
    run = run_in_production("-W", "ignore", "-c", SCRIPT)
    assert run.returncode == 0, run.stderr
    return json.loads(run.stdout)
