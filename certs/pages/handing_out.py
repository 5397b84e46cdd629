"""Decides how bytes are handed out: as a file to be saved, of the type said, run by nothing."""

from typing import IO, cast
from urllib.parse import quote

from django.http import FileResponse, HttpResponse

from inventory.models import StoredFile
from inventory.queries.kept_files import FileIsNotAsKept, read_file


def attached(content: bytes, *, name: str, media_type: str) -> HttpResponse:
    """Answer with a file to save. The name may hold any letters (RFC 6266, RFC 8187)."""
    answer = HttpResponse(content, content_type=media_type)
    answer["Content-Disposition"] = f"attachment; filename*=UTF-8''{quote(name, safe='')}"
    answer["Cache-Control"] = "private, no-store"
    answer["X-Content-Type-Options"] = "nosniff"
    answer["Content-Security-Policy"] = "sandbox"
    return answer


def shown_within(answer: HttpResponse) -> HttpResponse:
    """Let an answer be shown, and so printed, within a page of this house, and of no other."""
    answer["X-Frame-Options"] = "SAMEORIGIN"
    # Nothing else is said: a reader of PDF that a browser brings must be able to show it.
    answer["Content-Security-Policy"] = "frame-ancestors 'self'"
    answer["Cache-Control"] = "private, no-store"
    return answer


def shown_at_once(content: bytes, *, name: str, media_type: str) -> HttpResponse:
    """Answer with a file that a browser may show by itself, in a page of its own."""
    answer = attached(content, name=name, media_type=media_type)
    shown = answer["Content-Disposition"].replace("attachment", "inline", 1)
    answer["Content-Disposition"] = shown
    return answer


def streamed(file: IO[bytes], *, name: str) -> HttpResponse:
    """Answer with an archive to save, read from an open file part by part, and close it then."""
    answer = FileResponse(file, content_type="application/zip")
    for header, value in attached(b"", name=name, media_type="application/zip").headers.items():
        answer[header] = value
    # Django's type of a page knows no answer that is streamed.
    return cast("HttpResponse", answer)


def kept(stored: StoredFile) -> HttpResponse:
    """Answer with a kept file, or say that its bytes are not those that were kept (500)."""
    try:
        content = read_file(stored)
    except FileIsNotAsKept as problem:
        return HttpResponse(problem.message, content_type="text/plain; charset=utf-8", status=500)
    return attached(content, name=stored.name, media_type=stored.media_type)
