"""OWASP ASVS 5.0.0, chapter V3: cookies, headers, policies, forms of other sites.

Every page that the table of permissions names is fetched, by somebody who may.
"""

import re

import pytest
from django.test import Client
from django.urls import reverse

from inventory.models import JournalEntry
from inventory.rules.roles import Role
from tests.clients import asked_for_nothing, client_of
from tests.endpoints import address, by_area
from tests.factories import given_person
from tests.permission_matrix import MAY, STRANGER
from tests.security.markup import inline_of
from tests.security.production import asked_in_production
from tests.security.signing_in import sign_in

READ = [row for row in MAY if row.method == "GET"]
SENT = [row for row in MAY if row.method != "GET"]
# Keeps nothing and knows no session: a form of another site gains nothing there.
KEEPS_NOTHING = {"/check/"}
HEADERS = {
    "X-Content-Type-Options": "nosniff",  # 3.4.4
    "Referrer-Policy": "no-referrer",  # 3.4.5
    "X-Frame-Options": "DENY",
    "Cross-Origin-Opener-Policy": "same-origin",  # 3.4.8
    "Cross-Origin-Resource-Policy": "same-origin",
}

# The camera, and the decoder that is WebAssembly, are let in on one page; the tag's page has one
# script of its own, which keeps it for when the signal is gone.
CAMERA = "/scan/"
MORE_SCRIPT = {
    CAMERA: ["'wasm-unsafe-eval'"],
    "/t/<str:text>": ["'nonce'"],
    "/T/<str:text>": ["'nonce'"],
}


def by_who_may(endpoint):
    if STRANGER in MAY[endpoint]:
        return Client()
    return client_of(next(role for role in Role if role in MAY[endpoint]))


def directives(answer):
    policy = answer["Content-Security-Policy"]
    return {part.split()[0]: part.split()[1:] for part in policy.split(";") if part.strip()}


@pytest.fixture
def fetched(db):
    """Fetch a page as somebody who may; each of them is signed in once."""
    clients = {}

    def fetch(endpoint, **more):
        may = MAY[endpoint]
        who = STRANGER if STRANGER in may else next(role for role in Role if role in may)
        if who not in clients:
            clients[who] = by_who_may(endpoint)
        return asked_for_nothing(clients[who], "GET", address(endpoint.path), **more)

    return fetch


@pytest.mark.parametrize("endpoints", by_area(READ).values(), ids=by_area(READ))
def test_3_4_every_answer_carries_its_policies(fetched, endpoints):
    for endpoint in endpoints:
        answer = fetched(endpoint)
        told = {name: answer.headers.get(name) for name in HEADERS}
        assert told == HEADERS, str(endpoint)
        camera = "camera=(self)" if endpoint.path == CAMERA else "camera=()"
        assert camera in answer["Permissions-Policy"], str(endpoint)
        rules = directives(answer)
        if "sandbox" not in rules:
            assert rules["default-src"] == ["'none'"]
            assert rules["frame-ancestors"] == ["'none'"]  # 3.4.6
            assert rules["base-uri"] == ["'none'"]
            assert rules["form-action"] == ["'self'"]
            more = [re.sub(r"nonce-[^']+", "nonce", text) for text in rules["script-src"][1:]]
            assert rules["script-src"][0] == "'self'"
            assert more == MORE_SCRIPT.get(endpoint.path, []), str(endpoint)
            assert "'unsafe-inline'" not in answer["Content-Security-Policy"]
            assert "'unsafe-eval'" not in answer["Content-Security-Policy"]


@pytest.mark.parametrize("endpoints", by_area(READ).values(), ids=by_area(READ))
def test_3_4_3_nothing_runs_or_styles_from_within_a_page(fetched, endpoints):
    for endpoint in endpoints:
        answer = fetched(endpoint)
        if not answer.headers.get("Content-Type", "").startswith("text/html"):
            continue
        nonce = re.search(r"'nonce-([^']+)'", answer["Content-Security-Policy"])
        assert inline_of(answer.text, nonce and nonce[1]) == [], str(endpoint)


@pytest.mark.parametrize("endpoints", by_area(READ).values(), ids=by_area(READ))
def test_3_4_2_no_other_site_reads_an_answer(fetched, endpoints):
    for endpoint in endpoints:
        answer = fetched(endpoint, headers={"Origin": "https://other.example"})
        assert "Access-Control-Allow-Origin" not in answer.headers, str(endpoint)
        assert "Access-Control-Allow-Credentials" not in answer.headers


def test_3_4_2_no_other_site_is_promised_anything_beforehand(db):
    asks = {"Origin": "https://other.example", "Access-Control-Request-Method": "POST"}
    for path in ("/api/reels/", "/", "/t/0000000000000000"):
        answer = Client().options(path, headers=asks)
        assert not [name for name in answer.headers if name.lower().startswith("access-control")]


@pytest.mark.parametrize(
    "endpoint",
    [row for row in SENT if not row.is_api and row.path not in KEEPS_NOTHING],
    ids=str,
)
def test_3_5_1_a_form_of_another_site_is_refused(db, endpoint):
    client = by_who_may(endpoint)
    strict = Client(enforce_csrf_checks=True)
    strict.cookies = client.cookies
    answer = strict.post(address(endpoint.path), {}, headers={"Origin": "https://other.example"})
    assert answer.status_code == 403


@pytest.mark.parametrize("path", KEEPS_NOTHING)
def test_3_5_1_what_takes_any_form_keeps_nothing(db, path):
    client = client_of(Role.QA_OFFICER)
    entries = JournalEntry.objects.count()
    answer = client.post(path, {}, headers={"Origin": "https://other.example"})
    assert JournalEntry.objects.count() == entries
    assert not answer.cookies


@pytest.mark.parametrize("endpoint", [row for row in SENT if row.is_api], ids=str)
def test_3_5_1_the_api_takes_a_session_only_with_the_forms_token(db, endpoint):
    if STRANGER in MAY[endpoint]:
        return  # it takes no session at all
    strict = Client(enforce_csrf_checks=True)
    strict.cookies = by_who_may(endpoint).cookies
    answer = getattr(strict, endpoint.method.lower())(address(endpoint.path))
    assert answer.status_code == 403
    assert "CSRF" in answer.json()["detail"]


@pytest.mark.parametrize("method", ["TRACE", "CONNECT", "PROPFIND", "MOVE"])
@pytest.mark.parametrize("path", ["/", "/reels/", "/sign-in/", "/api/reels/", "/t/0"])
def test_13_4_4_a_method_nobody_needs_is_not_served(db, path, method):
    answer = client_of(Role.QA_OFFICER).generic(method, path)
    assert answer.status_code == 405


def test_3_3_in_production_cookies_are_bound_to_host_and_https(db):
    # 3.3.1 Secure and __Host-, 3.3.2 SameSite, 3.3.4 HttpOnly
    for name, cookie in asked_in_production()["cookies"].items():
        assert name.startswith("__Host-")
        assert cookie["secure"]
        assert cookie["httponly"]
        assert cookie["samesite"] == "Lax"
        assert cookie["path"] == "/"
        assert cookie["domain"] == ""


def test_3_4_1_in_production_browsers_remember_to_use_https(db):
    said = asked_in_production()
    assert said["hsts"] == "max-age=31536000; includeSubDomains; preload"
    assert said["plain_status"] == 301
    assert said["plain_location"].startswith("https://")


def test_13_4_2_in_production_errors_tell_nothing_of_the_inside(db):
    assert asked_in_production()["debug"] is False


def test_3_3_1_cookies_of_a_session_are_closed_to_scripts(db, settings):
    client = Client()
    person = given_person(Role.STORES)
    person.set_password("four horses in a field")
    person.save()
    sign_in(client, person)
    client.get(reverse("inventory:account"))
    for name in (settings.SESSION_COOKIE_NAME, settings.CSRF_COOKIE_NAME):
        assert client.cookies[name]["httponly"]
        assert client.cookies[name]["samesite"] == "Lax"


def test_14_3_2_pages_of_the_house_stay_in_no_cache(db):
    answer = client_of(Role.STORES).get(reverse("inventory:reels"))
    assert "no-store" in answer["Cache-Control"]
