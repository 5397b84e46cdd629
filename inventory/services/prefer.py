"""Keeps how a person prefers to read: units and time zone. It is no part of the record.

So nothing is journalled, and nothing that is computed, recorded or printed rests on it.
"""

from django.db import transaction

from inventory.models import Person, Preference
from inventory.queries.time_zones import is_zone
from inventory.rules.refusal import Refusal
from inventory.services.guarded import check_fields, guarded
from inventory.services.locks import lock_rows


class CannotPrefer(Refusal):
    """Nothing can be shown so."""


def prefer(*, by: Person, units: str, time_zone: str) -> Preference:
    """Keep how a person reads from now on.

    Args:
        by: whose way of reading it is; everybody has his own.
        units: a value of `Preference.Units`.
        time_zone: a name of the IANA database; empty for the zone of the house.

    Raises:
        CannotPrefer: units or a zone that nobody offered.
    """
    if time_zone and not is_zone(time_zone):
        message = f"“{time_zone}” is no time zone of the list; choose one such as Europe/Berlin."
        raise CannotPrefer(message, field="time_zone")
    if units not in Preference.Units.values:
        message = f"“{units}” are no units of reading; write one of metric, us."
        raise CannotPrefer(message, field="units")
    with transaction.atomic():
        lock_rows(Person, [by.pk])
        kept = Preference.objects.filter(person=by).first() or Preference(person=by)
        kept.units, kept.time_zone = units, time_zone
        check_fields(kept, refusal=CannotPrefer)
        with guarded(CannotPrefer):
            kept.save()
    return kept
