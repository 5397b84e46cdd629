"""Counts whole months between two days, for an age that people read."""

from datetime import date


def whole_months(since: date, until: date) -> int:
    """Give how many months are over: from 31 January, one is over on the last day of February.

    Nought where the second day is the earlier one.
    """
    months = 12 * (until.year - since.year) + until.month - since.month
    is_last_day = date.fromordinal(until.toordinal() + 1).day == 1
    if until.day < since.day and not is_last_day:
        months -= 1
    return max(months, 0)
