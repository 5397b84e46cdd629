"""Template filters that write quantities: whole units of the record into the words of the trade.

Built into the template engine (settings), so no page needs to load them.
"""

from datetime import date, datetime

from django import template
from django.utils import timezone

from inventory.rules.tag_code import grouped as grouped_code
from inventory.rules.units import format_kn, format_metres

register = template.Library()


@register.filter
def metres(mm: int | None) -> str:
    """Write whole millimetres as metres: 12500 is "12.500 m"; nothing stays nothing."""
    return "" if mm is None else format_metres(int(mm))


@register.filter
def span(from_mm: int, to_mm: int) -> str:
    """Write a stretch of metres: "251.232 to 255.269 m"."""
    return f"{format_metres(int(from_mm)).removesuffix(' m')} to {format_metres(int(to_mm))}"


@register.filter
def kilonewtons(force_n: int | None) -> str:
    """Write whole newtons as kilonewtons; nothing stays nothing."""
    return "" if force_n is None else format_kn(int(force_n))


@register.filter
def grouped(code: str) -> str:
    """Write a tag code in groups of four."""
    return grouped_code(code)


@register.filter
def day(value: date | datetime | str | None) -> str:
    """Write a day as 2026-11-25 (ISO 8601): it reads the same in every country."""
    if isinstance(value, str):
        value = datetime.fromisoformat(value) if value else None
    if isinstance(value, datetime):
        value = timezone.localtime(value).date()
    return value.isoformat() if value else ""


@register.filter
def moment(value: datetime | str | None) -> str:
    """Write an instant as 2026-11-25 14:05 with its zone."""
    if isinstance(value, str):
        value = datetime.fromisoformat(value) if value else None
    return timezone.localtime(value).strftime("%Y-%m-%d %H:%M %Z") if value else ""


@register.filter
def milliseconds(ms: int | None) -> str:
    """Write whole milliseconds as seconds with one decimal."""
    return "" if ms is None else f"{ms // 1000}.{ms % 1000 // 100} s"
