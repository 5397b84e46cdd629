#!/usr/bin/env python
"""Django's command line for this project."""

import os
import sys

from django.core.management import execute_from_command_line
from django.db import OperationalError, ProgrammingError


def main() -> None:
    """Run a command; a database that is not there or not up to date is told in one line."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "certs.project.settings")
    try:
        execute_from_command_line(sys.argv)
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read along, such as head, has read enough; nothing is left to be told.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(1)
    except (OperationalError, ProgrammingError) as error:
        if "--traceback" in sys.argv:
            raise
        told = " ".join(str(error).split())
        sys.exit(
            f"The database does not serve this: {told}. See that DATABASE_URL names the right one,"
            " and bring it up to date with: manage.py migrate"
        )


if __name__ == "__main__":
    main()
