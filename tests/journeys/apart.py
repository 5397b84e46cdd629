"""Sets Django up for a script of this folder, if it was given a database of its own.

What such a script commits stays committed: without this, run by hand, it would issue its
certificates into the record of whoever runs it.
"""

import os
import sys

import django

# Names the database that was made for the script, by whoever made it.
OWN = "DATABASE_OF_ITS_OWN"


def set_up():
    url = os.environ.get("DATABASE_URL")
    if not url or os.environ.get(OWN) != url:
        sys.exit("Run it as: python -m tests.journeys.own_database SCRIPT ARGUMENTS")
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "certs.project.settings")
    django.setup()
