"""Prints what a draft would look like as a paper, marked on every page as what it is: no paper.

It has no number, no code that can be scanned, no data enclosed and no signature.
"""

import hashlib
from collections.abc import Mapping
from datetime import datetime
from typing import Any, Final

from certs.documents.certificate_pdf import certificate_html
from certs.documents.paper import print_paper

NUMBER: Final = "DRAFT"
_BODY: Final = '<body class="paper">'
_MARK: Final = f'{_BODY}<div class="draft-mark">Draft, not issued</div>'


def draft_pdf(snapshot: Mapping[str, Any], *, logo: bytes = b"") -> bytes:
    """Print the picture of a draft.

    Args:
        snapshot: what the paper would say; its number and code are left out here.
    """
    no_code = {"code": "", "address": ""}
    without = {**snapshot, "number": NUMBER, "tag": no_code, "log": None, "keys": None}
    html = certificate_html(without, is_site_copy=False, logo=logo).replace(_BODY, _MARK, 1)
    return print_paper(
        html,
        identifier=hashlib.sha256(html.encode()).digest()[:16],
        made_at=datetime.fromisoformat(snapshot["issued_at"]),
    )
