"""The tag page in every language: nothing left in English, no figure changed, small enough."""

import calendar
import html
import re
from io import BytesIO
from pathlib import Path

import pytest
from babel.messages.mofile import read_mo, write_mo
from babel.messages.pofile import read_po
from django.conf import settings
from django.core.cache import caches
from django.test import Client
from django.urls import reverse
from django.utils import translation
from django.utils.translation import trans_real

from certs.queries.claims import tag_of_certificate
from certs.services.tags import issue_tag, revoke_tag
from certs.services.withdraw import withdraw_certificate
from inventory.rules.language import Language
from tests.certs.papers import issued
from tests.certs.queries.test_marks import TWO, drafted
from tests.certs.sites import given_report, given_tag
from tests.factories import MOMENT, given_hold, given_person

OTHERS = [language for language in Language if language is not Language.ENGLISH]
WORDS = settings.ROOT / "certs" / "words" / "tag"
# What holds a page together over HTTP: initial window of ten segments (RFC 6928), less headers.
MOST_BYTES = 14_000
# The framework's own, some of them the same word in several languages.
MONTHS = {"", ":", *calendar.month_name}
ISOLATES = dict.fromkeys(map(ord, "\u2066\u2067\u2068\u2069\u200e\u200f"))


@pytest.fixture(autouse=True)
def _nobody_has_asked_yet():
    caches["rate"].clear()


def good(claims):
    return f"/t/{claims.tag.code}"


def held(claims):
    given_hold(claims.reel)
    return good(claims)


def reported(claims):
    for kind in ("damage", "failure", "tag", "other"):
        given_report(claims.tag, kind=kind)
    return good(claims)


def withdrawn(claims):
    withdraw_certificate(
        certificate=claims.certificate, reason="wrong rope", by=given_person(), at=MOMENT
    )
    return good(claims)


def revoked(claims):
    revoke_tag(tag=claims.tag, reason="lost on site", by=given_person(), at=MOMENT)
    return good(claims)


def without_paper(_claims):
    return f"/t/{given_tag().code}"


def marked_sling(_claims):
    return f"/t/{tag_of_certificate(issued(drafted(2200, **TWO))).code}"


def sling_by_us_practice(_claims):
    certificate = issued(drafted(None, **(TWO | {"convention": "from_horizontal"})))
    assembly = certificate.assembly
    return f"/t/{issue_tag(assembly=assembly, by=given_person(), at=MOMENT).code}"


def form(claims):
    return f"{good(claims)}/report/"


def receipt(claims):
    report = given_report(claims.tag)
    return reverse("certs:report_receipt", args=[claims.tag.code, report.code])


def unknown(_claims):
    return "/t/nothing"


def asked(_claims):
    return "/t/"


STATES = [
    good, held, reported, withdrawn, revoked, without_paper, marked_sling, sling_by_us_practice,
    form, receipt, unknown, asked,
]  # fmt: skip


@pytest.fixture
def untranslated(monkeypatch):
    """Every text that was asked for and that neither our words nor the framework's hold."""
    missing = []
    ours = {one: MONTHS | {message.id for message in catalogue(one)} for one in OTHERS}
    look_up = trans_real.gettext

    def recorded(text):
        said = look_up(text)
        language = translation.get_language()
        if language in ours and text not in ours[language] and said == text:
            missing.append((language, text))
        return said

    monkeypatch.setattr("django.utils.translation._trans.gettext", recorded)
    return missing


def catalogue(language):
    return read_po(BytesIO(words_of(language, "po").read_bytes()), locale=language)


def words_of(language, kind) -> Path:
    return WORDS / language / "LC_MESSAGES" / f"django.{kind}"


def figures(text):
    """Numbers, loads and codes as they are read, in their order; days have their own names.

    The minute in which a page was asked for, told when the signal is gone, passes meanwhile.
    """
    left_out = r'<style.*?</style>|<script.*?</script>|<footer.*|<p class="off signal">.*?</p>'
    body = re.sub(left_out, "", text, flags=re.DOTALL)
    shown = re.sub(r"<[^>]+>", "", body).translate(ISOLATES)
    return sorted(
        re.findall(r"[−+]?\d+(?:\.\d+)?(?: (?:t|kN|lb|m|%))?(?!\w)", html.unescape(shown))
    )


@pytest.mark.parametrize("state", STATES)
def test_every_state_is_said_whole_in_every_language(
    client, claims, plain_paper, state, untranslated
):
    address = state(claims)
    english = client.get(address)
    for language in OTHERS:
        page = client.get(address, headers={"accept-language": f"{language}-XX,en;q=0.5"})
        assert page.status_code == english.status_code
        assert f'<html lang="{language}"{" dir=" if language == "ar" else ">"}' in page.text
        assert figures(page.text) == figures(english.text)
        assert len(page.content) + len(client.get("/t/worker.js").content) < MOST_BYTES
        caches["rate"].clear()
    assert untranslated == []


@pytest.mark.parametrize("language", OTHERS)
def test_the_errors_of_the_form_are_said_too(client, claims, language, untranslated):
    address = f"{form(claims)}?lang={language}"
    for typed in ({}, {"kind": "praise", "words": "x" * 2001}, {"words": "\0", "trap": "x"}):
        assert client.post(address, typed | {"once": "z"}).status_code == 200
    assert untranslated == []


@pytest.mark.parametrize("language", OTHERS)
def test_a_form_that_does_not_bear_our_mark_is_told_in_his_language(claims, language, untranslated):
    address = f"{form(claims)}?lang={language}"
    answer = Client(enforce_csrf_checks=True).post(address, {"words": "broken"})
    assert answer.status_code == 403
    assert f'<html lang="{language}"' in answer.text
    assert f'href="{address}"' in answer.text
    assert untranslated == []


@pytest.mark.parametrize("language", OTHERS)
def test_who_has_to_wait_is_told_so_in_his_language(client, db, settings, language, untranslated):
    settings.RATE_LIMITS = settings.RATE_LIMITS | {"tag": "1/min"}
    answers = [client.get(f"/t/nothing?lang={language}") for _ in range(2)]
    assert answers[1].status_code == 429
    assert int(answers[1]["Retry-After"]) > 0
    assert f'lang="{language}"' in answers[1].text
    assert untranslated == []


@pytest.mark.parametrize("language", OTHERS)
def test_the_compiled_words_are_those_that_were_written(language):
    written = BytesIO()
    write_mo(written, catalogue(language))
    written.seek(0)
    compiled = read_mo(BytesIO(words_of(language, "mo").read_bytes()))
    assert {one.id: one.string for one in compiled if one.id} == {
        one.id: one.string for one in read_mo(written) if one.id
    }


@pytest.mark.parametrize("language", OTHERS)
def test_every_word_has_its_places_and_its_figures(language):
    for message in catalogue(language):
        if message.id:
            said = message.string.translate(ISOLATES)
            for found in (r"\{\w+\}|%\(\w+\)s", r"\d+"):
                assert sorted(re.findall(found, said)) == sorted(re.findall(found, message.id))


@pytest.mark.parametrize(
    ("query", "header", "shown"),
    [
        pytest.param("", "de-AT,en;q=0.8", "de", id="the phone's language"),
        pytest.param("", "uk,pl;q=0.8", "pl", id="the first that is held"),
        pytest.param("", "zh", "en", id="none that is held"),
        pytest.param("?lang=fr", "de", "fr", id="the choice before the phone"),
        pytest.param("?lang=xx", "es", "es", id="a choice that is none"),
    ],
)
def test_the_language_is_that_of_the_choice_or_else_of_the_phone(
    client, claims, query, header, shown
):
    answer = client.get(good(claims) + query, headers={"accept-language": header})
    assert f'<html lang="{shown}"' in answer.text
    assert "Accept-Language" in answer["Vary"]
    assert not answer.cookies


def test_what_a_person_typed_stays_english_and_is_marked_so(client, claims):
    page = client.get(f"{withdrawn(claims)}?lang=ar").text
    assert '<span lang="en" dir="ltr">wrong rope</span>' in page
    assert f"<bdi>{claims.certificate.number}</bdi>" in page
    assert '<html lang="ar" dir="rtl">' in page


def test_a_choice_is_handed_on_and_the_english_text_is_offered(client, claims):
    page = client.get(f"{good(claims)}?lang=de").text
    assert f'/t/{claims.tag.code}/report/?lang=de"' in page
    assert '<a href="?lang=en" lang="en" dir="ltr">English text</a>' in page
