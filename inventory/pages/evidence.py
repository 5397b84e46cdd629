"""Decides how a kept file is handed out: to be saved, never to be run or shown in this site."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.http import content_disposition_header

from inventory.models import StoredFile
from inventory.queries.kept_files import read_file
from inventory.rules.refusal import Refusal


def download(request: HttpRequest, stored: StoredFile, *, back: str, code: str) -> HttpResponse:
    """Answer with the bytes of a kept file; without them go back and say what is wrong."""
    try:
        content = read_file(stored)
    except Refusal as refusal:
        messages.error(request, refusal.message)
        return redirect(back, code)
    answer = HttpResponse(content, content_type=stored.media_type)
    answer["Content-Disposition"] = content_disposition_header(True, stored.name) or "attachment"  # noqa: FBT003 -- Django's own signature
    answer["X-Content-Type-Options"] = "nosniff"
    answer["Content-Security-Policy"] = "sandbox; default-src 'none'"
    return answer
