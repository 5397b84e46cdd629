"""Ends what a person is signed in with: sessions in browsers, and the token of programs."""

from datetime import datetime

from django.contrib.auth import SESSION_KEY
from django.contrib.sessions.models import Session
from rest_framework.authtoken.models import Token

from inventory.models import Person


def end_sessions(person: Person, *, at: datetime, but: str | None = None) -> int:
    """End every session of a person, and his token; return how many sessions ended.

    A session tells whose it is only when it is read, so all that have not run out are read: a
    house has a few dozen.

    Args:
        but: the key of the one session that goes on, from which this is done.
    """
    Token.objects.filter(user=person).delete()
    mine = [
        session.session_key
        for session in Session.objects.filter(expire_date__gt=at).iterator()
        if session.session_key != but and session.get_decoded().get(SESSION_KEY) == str(person.pk)
    ]
    Session.objects.filter(session_key__in=mine).delete()
    return len(mine)
