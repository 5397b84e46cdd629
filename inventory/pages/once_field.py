"""The template tag of forms that act once; built into the template engine (settings)."""

import secrets

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from inventory.pages.acting import ONCE

register = template.Library()


@register.simple_tag
def once() -> SafeString:
    """Write the hidden field by which a form that is sent twice acts once."""
    field = '<input type="hidden" name="{}" value="{}">'
    return format_html(field, ONCE, secrets.token_urlsafe(32))
