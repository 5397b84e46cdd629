"""Papers in the language of the customer: nothing left out, no figure changed, English beside."""

import copy
import io
import json
import re
from collections import Counter

import pypdf
import pytest
from django.conf import settings
from django.utils.html import strip_tags
from fontTools.ttLib import TTFont

from certs.documents import paper_words
from certs.documents.certificate_pdf import certificate_html, certificate_pdf
from certs.documents.recall_letter import recall_letter_html
from certs.rules import cautions, end_cautions, recall_advice
from inventory.rules.paper_language import PAPER_LANGUAGES
from tests.certs.claims import given_breaking_test, given_proof_test
from tests.certs.papers import (
    given_assembly_draft,
    given_breaking_draft,
    given_certifiable_assembly,
    given_cut_length_draft,
    given_documented_reel,
    given_representative,
    issued,
)
from tests.certs.recalls import given_doubt, written
from tests.factories import given_sample

OTHERS = [one.value for one in PAPER_LANGUAGES if one.value != "en"]
FIGURE = re.compile(r"\d[\d.]*(?=\s?(?:kN|mm|m|kg|t|s|%|°C|N/mm²)\b)")


@pytest.fixture
def snapshots(tables):
    assembly = given_certifiable_assembly()
    given_proof_test(assembly=assembly)
    sample = given_sample(reel=given_documented_reel())
    drafts = [
        given_cut_length_draft(),
        given_assembly_draft(assembly, first_validator=given_representative()),
        given_breaking_draft(given_breaking_test(sample=sample, peak_n=110_000)),
    ]
    return [json.loads(issued(draft).snapshot) for draft in drafts]


@pytest.fixture
def letter(tables):
    return written(given_doubt().hold)[0].facts


def said_in(language, snapshots, letter):
    pages = [
        certificate_html(
            {**one, "language": language, "issued_pdf_sha256": "0" * 64}, is_site_copy=is_copy
        )
        for one in snapshots
        for is_copy in (False, True)
    ]
    return [*pages, recall_letter_html({**letter, "language": language})]


@pytest.mark.parametrize("language", OTHERS)
def test_every_word_that_a_paper_says_has_a_translation(language, snapshots, letter, monkeypatch):
    asked = {}
    true_gettext = paper_words.pgettext

    def recording(context, text):
        asked[text] = true_gettext(context, text)
        return asked[text]

    monkeypatch.setattr(paper_words, "pgettext", recording)
    said_in(language, snapshots, letter)
    # Such words as are the same in both languages.
    alike = {"Code", "page", "Sources."}
    assert len(asked) > 100
    assert {text for text, told in asked.items() if told == text} <= alike


SENTENCES = [
    *cautions.GENERAL, *cautions.DISCARD, *cautions.TEMPERATURE, *cautions.SLING, *cautions.STATIC,
    *cautions.ROPE_ONLY, *recall_advice.DO_NOW, *recall_advice.CAUTIONS,
    *(line for lines in end_cautions.CAUTIONS.values() for line in lines),
    *(
        line
        for kind, documents in {
            "cut_length": ["statement"],
            "assembly": ["2.1", "2.2", "3.1", "3.2"],
            "breaking": ["laboratory"],
        }.items()
        for document in documents
        for line in cautions.statements_for(kind=kind, document_kind=document)
    ),
]  # fmt: skip


@pytest.mark.parametrize("language", OTHERS)
def test_every_caution_is_translated_with_its_figures(language):
    with paper_words.speaking(language):
        for text in SENTENCES:
            told = paper_words.in_words(text)
            assert told != text, text
            assert Counter(re.findall(r"\d", told)) == Counter(re.findall(r"\d", text)), text


@pytest.mark.parametrize("language", OTHERS)
def test_the_figures_of_a_paper_are_those_of_its_english(language, snapshots):
    for snapshot in snapshots:
        english = strip_tags(certificate_html({**snapshot, "language": "en"}, is_site_copy=False))
        other = strip_tags(certificate_html({**snapshot, "language": language}, is_site_copy=False))
        assert not Counter(FIGURE.findall(english)) - Counter(FIGURE.findall(other))
        assert set(FIGURE.findall(other)) == set(FIGURE.findall(english))


def test_english_stands_beneath_and_governs(snapshots):
    page = certificate_html({**snapshots[0], "language": "de"}, is_site_copy=False)
    assert '<html lang="de">' in page
    assert "gilt der englische" in page
    assert "the English text governs" in page
    assert '<span class="also" lang="en-GB">Purchaser</span>' in page


@pytest.mark.parametrize("language", ["", "en", "ar"])
def test_a_paper_in_english_says_it_once(language, snapshots):
    page = certificate_html({**snapshots[0], "language": language}, is_site_copy=False)
    assert '<html lang="en-GB">' in page
    assert 'class="also"' not in page
    assert "governs" not in page


def test_a_paper_of_earlier_days_names_no_language(snapshots):
    earlier = copy.deepcopy(snapshots[0])
    del earlier["language"]
    assert certificate_html(earlier, is_site_copy=False) == certificate_html(
        snapshots[0], is_site_copy=False
    )


@pytest.mark.parametrize("language", OTHERS)
def test_the_typeface_has_every_letter(language):
    po = settings.ROOT / f"certs/words/paper/{language}/LC_MESSAGES/django.po"
    letters = {ord(letter) for letter in po.read_text() if letter.isprintable()}
    for face in ("Regular", "SemiBold", "Bold"):
        font = TTFont(settings.ROOT / f"certs/static/certs/fonts/RopewalkSans-{face}.ttf")
        assert letters <= set(font.getBestCmap())


def test_a_polish_paper_is_set_in_our_typeface_alone(snapshots):
    pdf = certificate_pdf({**snapshots[0], "language": "pl"}, canonical="{}")
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    text = " ".join(page.extract_text() for page in reader.pages)
    assert "Świadectwo na odcinki liny stalowej" in text
    assert "strona 1 z" in text
