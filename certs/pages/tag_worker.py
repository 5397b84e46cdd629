"""Decides what a phone does for tags without a signal: the script of the worker at /t/.

The worker keeps the last answer of each tag that this phone has seen, and gives it back only when
the network fails, with the day on it. What it does stands in the script.
"""

from typing import Final

from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.views.decorators.http import require_safe

from inventory.pages.rate import limited

# A worker fetches and does nothing else; the rest is what every answer says.
_POLICY: Final = (
    "default-src 'none'; connect-src 'self'; script-src 'self'; form-action 'self';"
    " base-uri 'none'; frame-ancestors 'none'"
)


@limited("tag")
@require_safe
def tag_worker(_request: HttpRequest) -> HttpResponse:
    """Give the script; browsers ask for it anew each time, so that it can be mended."""
    answer = HttpResponse(_bare(), content_type="text/javascript")
    answer["Cache-Control"] = "no-cache"
    answer["Content-Security-Policy"] = _POLICY
    answer["X-Robots-Tag"] = "noindex"
    return answer


def _bare() -> str:
    """Give the script without comments and indents: page and script must load on a weak signal."""
    lines = (line.strip() for line in render_to_string("certs/tag_worker.js").splitlines())
    return "\n".join(line for line in lines if line and not line.startswith("//"))
