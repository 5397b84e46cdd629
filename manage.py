#!/usr/bin/env python
"""Django's command line for this project."""

import os
import sys

from django.core.management import execute_from_command_line
from django.db import Error, OperationalError, ProgrammingError

from inventory.services.trouble import StorageTrouble, trouble_of


def main() -> None:
    """Run a command; a machine that fails, or a database not up to date, is told in one line."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "certs.project.settings")
    try:
        execute_from_command_line(sys.argv)
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read along, such as head, has read enough; nothing is left to be told.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(1)
    except (Error, StorageTrouble, OSError) as error:
        if "--traceback" in sys.argv:
            raise
        trouble = trouble_of(error)
        if trouble is not None:
            sys.exit(f"{trouble.sentence} ({' '.join(str(error.__cause__ or error).split())})")
        if not isinstance(error, OperationalError | ProgrammingError):
            raise
        told = " ".join(str(error).split())
        sys.exit(
            f"The database does not serve this: {told}. See that DATABASE_URL names the right one,"
            " and bring it up to date with: manage.py migrate"
        )


if __name__ == "__main__":
    main()
