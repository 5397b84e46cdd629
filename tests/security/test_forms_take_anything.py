"""OWASP ASVS 5.0.0, 2.2.1 and 16.5.2: no form falls over whatever is typed into it.

Each page that takes a form is opened with things on record; its own fields are filled with drawn
text, and where it takes files (scans, force logs, photographs, papers to check) with whole,
broken and dangerous ones, and sent. The API is drawn from its description in
`tests/test_api_schema.py`.
"""

import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from hypothesis import HealthCheck, given
from hypothesis import settings as bounded
from hypothesis import strategies as draw

from inventory.rules.roles import Role
from tests.certs.conftest import tables  # noqa: F401
from tests.certs.pages.conftest import claims, plain_paper  # noqa: F401 -- fixtures
from tests.clients import client_of
from tests.endpoints import address
from tests.factories import pdf_bytes
from tests.permission_matrix import MAY, STRANGER
from tests.security.test_v5_files import UNFIT, picture

FORMS = [row for row in MAY if row.method == "POST" and not row.is_api]
FIELD = re.compile(r"""<(?:input|select|textarea)[^>]*?\bname="([^"]+)"[^>]*>""")
FILE = re.compile(r"""<input(?=[^>]*\btype="file")[^>]*?\bname="([^"]+)"[^>]*>""")
KEPT = {"csrfmiddlewaretoken", "once"}
NASTY = [
    "", "0", "-1", "1e999", "NaN", "Infinity", "9" * 40, "1.5", "12,5", "½", "٣", "\x00", "\ud7ff",
    "' OR 1=1 --", "<script>alert(1)</script>", "../../etc/passwd", "{{7*7}}", "%s%s%n", "a" * 5000,
    "2026-02-30", "0001-01-01", "9999-12-31", "R-00001", "C-00001", "V-00001", "on", "A" * 16,
]  # fmt: skip
FILES = [
    *UNFIT.values(), pdf_bytes(), picture("JPEG"), picture("PNG"), b"\0" * 1000, b"\xff\xfe\x00",
    b"time_s,force_N\n0,0\n1,1000\n2,2000\n", b"time_s;force_N\n0;1e999\nNaN;-1\n", b"," * 3000,
    "t,F\n0,½\n".encode("utf-16"), b"time_s,force_N\n" * 50,
]  # fmt: skip
handed_in = draw.builds(
    SimpleUploadedFile, draw.sampled_from(["a.pdf", "..\\x.csv", "é.jpg"]), draw.sampled_from(FILES)
)
typed = draw.one_of(draw.sampled_from(NASTY), draw.text(max_size=40))


def codes_of(claims, path):  # noqa: F811
    thing = {"reels": claims.reel, "pieces": claims.piece, "assemblies": claims.assembly}
    thing |= {"certificates": claims.draft, "tests": claims.proof, "labels": claims.tag}
    if path.startswith("/t/"):
        return {"text": claims.tag.code}
    found = thing.get(path.split("/")[1])
    return {} if found is None else {"code": getattr(found, "draft_code", None) or found.code}


@pytest.mark.parametrize("endpoint", FORMS, ids=str)
def test_2_2_1_a_form_is_answered_whatever_is_typed(claims, endpoint):  # noqa: F811
    may = MAY[endpoint]
    role = Role.QA_OFFICER if Role.QA_OFFICER in may or STRANGER in may else next(iter(may))
    client = client_of(role)
    path = address(endpoint.path, **codes_of(claims, endpoint.path))
    page = client.get(path)
    text = page.text if page.status_code == 200 else ""
    fields = dict.fromkeys(sorted(set(FIELD.findall(text)) - KEPT), typed)
    fields |= dict.fromkeys(FILE.findall(text), handed_in)

    @bounded(
        max_examples=6, deadline=None, derandomize=True, database=None,
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(draw.fixed_dictionaries(fields or {"nothing": typed}))
    def send(body):
        assert client.post(path, body).status_code < 500

    send()


@pytest.mark.parametrize(
    ("path", "names"),
    [
        ("/check/", ["file"]),
        ("/mill-documents/file/", ["content"]),
        ("/t/<str:text>/report/", [f"photo_{number}" for number in range(1, 5)]),
    ],
)
def test_the_files_that_a_page_asks_for_are_found(claims, path, names):  # noqa: F811
    page = client_of(Role.QA_OFFICER).get(address(path, **codes_of(claims, path)))
    assert FILE.findall(page.text) == names
