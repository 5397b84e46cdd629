"""OWASP ASVS 5.0.0, chapter V6: pass phrases, the second step, guessing."""

import re

import pytest
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.test import Client
from django.urls import reverse

from certs.management.commands.demo import LOGINS
from inventory.models import Person
from inventory.rules.roles import Role
from tests.factories import given_person
from tests.security.conftest import PHRASE, who_signs_in
from tests.security.phone import NOON, code_at
from tests.security.signing_in import is_in, second_step, sign_in, sign_in_with_phone

pytestmark = pytest.mark.django_db
ISSUING = [Role.QA_OFFICER, Role.INSPECTION_REPRESENTATIVE, Role.ADMINISTRATOR]
OTHERS = [Role.STORES, Role.TEST_BENCH, Role.AUDITOR]

# RFC 6238, Appendix B, the rows of SHA-1: seconds since 1970, code of eight digits.
RFC_6238 = [
    (59, "94287082"),
    (1111111109, "07081804"),
    (1111111111, "14050471"),
    (1234567890, "89005924"),
    (2000000000, "69279037"),
    (20000000000, "65353130"),
]


@pytest.mark.parametrize(("seconds", "code"), RFC_6238)
def test_the_app_of_these_tests_is_that_of_rfc_6238(seconds, code):
    assert code_at(b"12345678901234567890", seconds, digits=8) == code


@pytest.mark.parametrize(("seconds", "code"), RFC_6238)
def test_6_5_the_published_codes_are_accepted(phone, qa, seconds, code):
    phone.set_up(qa)
    device = qa.totpdevice_set.get()
    device.key, device.digits, device.last_t = b"12345678901234567890".hex(), 8, -1
    device.save()
    phone.set_clock(seconds)
    assert device.verify_token(code)


@pytest.mark.parametrize("phrase", ["short", "eleven char", "password1234", ""])
def test_6_2_1_a_short_or_common_pass_phrase_is_refused(phrase):
    with pytest.raises(ValidationError):
        validate_password(phrase)


def test_6_2_9_long_pass_phrases_with_any_letters_are_taken(db):
    phrase = "ein langer Satz mit ß, 縄 and a 🐎 " * 3
    person = given_person(Role.STORES, password=phrase)
    client = Client()
    sign_in(client, person, phrase)
    assert is_in(client)


def test_6_2_8_the_pass_phrase_is_taken_as_typed(stores):
    for typed in (PHRASE.upper(), f" {PHRASE}", PHRASE[:-1]):
        client = Client()
        assert sign_in(client, stores, typed).status_code == 200
        assert not is_in(client)


def test_6_3_1_guessing_from_one_address_ends_for_a_while(limits, stores):
    limits(login="5/min")
    client = Client()
    statuses = [sign_in(client, stores, f"guess {n}").status_code for n in range(7)]
    assert statuses == [200] * 5 + [429] * 2
    refused = sign_in(client, stores)
    assert refused.status_code == 429
    assert 0 < int(refused["Retry-After"]) <= 60
    assert not is_in(client)


def test_6_3_1_guessing_one_name_from_many_addresses_ends_too(limits, stores):
    limits(login_name="5/min")
    statuses = [
        Client(REMOTE_ADDR=f"192.0.2.{n}").post(
            reverse("login"), {"username": stores.username.upper(), "password": "guess"}
        ).status_code
        for n in range(6)
    ]  # fmt: skip
    assert statuses == [200] * 5 + [429]


def test_6_3_1_reading_the_sign_in_page_costs_no_try(limits, stores):
    limits(login="1/min")
    client = Client()
    assert {client.get(reverse("login")).status_code for _ in range(5)} == {200}


def test_6_3_1_the_codes_of_the_second_step_cannot_be_tried_out(second_step_needed, phone, qa):
    phone.set_up(qa)
    client = Client()
    sign_in(client, qa)
    wrong = f"{(int(phone.code(qa)) + 1) % 10**6:06d}"
    assert "This is not the code" in second_step(client, wrong).text
    answer = second_step(client, phone.code(qa))
    assert "the next one has to wait" in answer.text
    assert not is_in(client)


def test_6_3_1_the_second_step_is_counted_by_address(limits, second_step_needed, phone, qa):
    phone.set_up(qa)
    limits(login="4/min")
    client = Client()
    sign_in(client, qa)
    assert [second_step(client, "000000").status_code for _ in range(4)] == [200] * 3 + [429]


def test_6_3_2_no_account_comes_with_the_program():
    assert not Person.objects.exists()


def test_6_3_2_the_logins_of_the_demonstration_are_made_by_its_command_alone():
    assert not Person.objects.filter(username__in=LOGINS).exists()


@pytest.mark.parametrize("role", ISSUING)
def test_6_3_3_who_issues_gets_no_further_than_the_second_step(second_step_needed, role, phone):
    person = who_signs_in(role)
    phone.set_up(person)
    client = Client()
    answer = sign_in(client, person)
    assert answer["Location"] == reverse("inventory:second_step")
    assert not is_in(client)
    answer = second_step(client, phone.code(person))
    assert answer["Location"] == reverse("certs:today")
    assert is_in(client)


@pytest.mark.parametrize("role", ISSUING)
def test_6_3_3_who_issues_and_has_none_is_led_to_set_it_up(second_step_needed, role, phone):
    person = who_signs_in(role)
    client = Client()
    sign_in(client, person)
    answer = client.get(reverse("inventory:second_step"), follow=True)
    assert "Set up the second step" in answer.text
    assert not is_in(client)
    page = reverse("inventory:set_up_second_step")
    refused = client.post(page, {"code": "12345"})
    assert "This is not the code" in refused.text
    person.totpdevice_set.update(throttling_failure_timestamp=None)
    codes = client.post(page, {"code": phone.code(person)})
    assert "shown this once" in codes.text
    assert "no-store" in codes["Cache-Control"]
    assert is_in(client)


@pytest.mark.parametrize("role", OTHERS)
def test_6_3_3_who_issues_nothing_may_do_without(second_step_needed, role):
    person = who_signs_in(role)
    client = Client()
    sign_in(client, person)
    assert is_in(client)


def test_6_3_3_who_set_it_up_of_his_own_accord_is_asked_as_well(phone, stores):
    client = Client()
    sign_in(client, stores)
    page = reverse("inventory:set_up_own")
    assert "Type this secret" in client.get(page).text
    assert "shown this once" in client.post(page, {"code": phone.code(stores)}).text
    other = Client()
    assert sign_in(other, stores)["Location"] == reverse("inventory:second_step")
    assert not is_in(other)


def test_6_3_3_a_session_from_before_the_setting_counts_for_nothing(settings, qa):
    client = Client()
    sign_in(client, qa)
    assert is_in(client)
    settings.MFA_REQUIRED = True
    assert not is_in(client)
    assert client.get("/api/parties/").status_code == 401


def test_6_3_3_a_pass_phrase_alone_gets_no_token(second_step_needed, phone, qa):
    phone.set_up(qa)
    body = {"username": qa.username, "password": PHRASE}
    assert Client().post("/api/token/", body).status_code == 400
    answer = Client().post("/api/token/", body | {"code": phone.code(qa)})
    token = {"Authorization": f"Token {answer.json()['token']}"}
    assert Client().get("/api/parties/", headers=token).status_code == 200


def test_6_3_3_who_never_set_it_up_gets_no_token(second_step_needed, qa):
    body = {"username": qa.username, "password": PHRASE, "code": "123456"}
    answer = Client().post("/api/token/", body)
    assert answer.status_code == 400
    assert "set up" in str(answer.json())


def test_6_3_3_a_token_from_before_the_setting_counts_for_nothing(settings, qa, phone):
    body = {"username": qa.username, "password": PHRASE}
    token = Client().post("/api/token/", body).json()["token"]
    header = {"Authorization": f"Token {token}"}
    assert Client().get("/api/parties/", headers=header).status_code == 200
    settings.MFA_REQUIRED = True
    assert Client().get("/api/parties/", headers=header).status_code == 401
    phone.set_up(qa)
    assert Client().get("/api/parties/", headers=header).status_code == 401


def test_6_3_8_a_name_that_exists_is_answered_like_one_that_does_not(stores):
    pages = []
    for name in (stores.username, "nobody_of_that_name"):
        answer = Client().post(reverse("login"), {"username": name, "password": "wrong"})
        hidden = re.sub(r'name="csrfmiddlewaretoken" value="\w+"', "", answer.text)
        pages.append(hidden.replace(name, "NAME"))
    assert pages[0] == pages[1]
    assert "error-summary" in pages[0]


def test_6_3_8_a_closed_account_is_answered_like_a_wrong_pass_phrase(stores):
    stores.is_active = False
    stores.save()
    answer = sign_in(Client(), stores)
    assert "closed" not in answer.text
    assert answer.status_code == 200


def test_6_5_who_just_set_it_up_finds_the_way_on_from_the_recovery_codes(
    second_step_needed, phone, keeper
):
    client = Client()
    sign_in(client, keeper)
    page = reverse("inventory:set_up_second_step")
    client.get(page)
    answer = client.post(page, {"code": phone.code(keeper)})
    assert answer.text.count("<li><code>") == 10
    assert f'href="{reverse("inventory:people")}"' in answer.text


def test_6_5_1_a_code_counts_once(second_step_needed, phone, qa):
    phone.set_up(qa)
    first, second = Client(), Client()
    for client in (first, second):
        sign_in(client, qa)
    code = phone.code(qa)
    second_step(first, code)
    assert is_in(first)
    assert "used before" in second_step(second, code).text
    assert not is_in(second)


@pytest.mark.parametrize(
    ("steps", "is_let_in"), [(-2, False), (-1, True), (0, True), (1, True), (2, False)]
)
def test_6_5_5_a_code_counts_for_one_step_on_either_side(
    second_step_needed, phone, qa, steps, is_let_in
):
    phone.set_up(qa)
    phone.set_clock(NOON + 300)
    client = Client()
    sign_in(client, qa)
    second_step(client, phone.code(qa, steps=steps))
    assert is_in(client) == is_let_in


def test_6_5_1_a_recovery_code_counts_once_however_it_is_typed(second_step_needed, phone, qa):
    codes = phone.set_up(qa)
    assert len(set(codes)) == 10
    first = Client()
    sign_in(first, qa)
    second_step(first, codes[0].replace("-", " ").lower())
    assert is_in(first)
    second = Client()
    sign_in(second, qa)
    second_step(second, codes[0])
    assert not is_in(second)


def test_6_5_2_recovery_codes_are_not_kept_as_they_are(phone, qa):
    codes = phone.set_up(qa)
    kept = set(qa.staticdevice_set.get().token_set.values_list("token", flat=True))
    assert len(kept) == 10
    plain = {code.replace("-", "") for code in codes}
    assert not any(part in code for part in kept for code in plain)
    assert {len(code) for code in plain} == {24}  # of 32 symbols: 120 bits


def test_6_5_new_recovery_codes_end_the_former_ones(phone, stores):
    former = phone.set_up(stores)
    client = Client()
    sign_in_with_phone(client, stores, phone)
    answer = client.post(reverse("inventory:renew_codes"))
    assert "shown this once" in answer.text
    other = Client()
    sign_in(other, stores)
    second_step(other, former[3])
    assert not is_in(other)


def test_6_4_4_the_second_step_opens_nothing_after_the_pass_phrase_was_changed(
    second_step_needed, phone, qa
):
    phone.set_up(qa)
    client = Client()
    sign_in(client, qa)
    qa.set_password("another invented pass phrase")
    qa.save()
    assert second_step(client, phone.code(qa))["Location"] == reverse("login")
    assert not is_in(client)


def test_nobody_is_asked_for_a_code_who_typed_no_pass_phrase(client, db):
    for name in ("second_step", "set_up_second_step"):
        answer = client.post(reverse(f"inventory:{name}"), {"code": "123456"})
        assert answer["Location"] == reverse("login")


def test_the_sign_in_page_says_where_no_second_step_is_asked_for(client, db, settings):
    assert "MFA_REQUIRED=false" in client.get(reverse("login")).text
    settings.MFA_REQUIRED = True
    assert "MFA_REQUIRED" not in client.get(reverse("login")).text


@pytest.mark.parametrize(
    ("to", "goes_to"),
    [
        ("/reels/", "/reels/"),
        ("https://evil.example/", "/"),
        ("//evil.example/", "/"),
        ("javascript:alert(1)", "/"),
    ],
)
def test_3_7_2_after_signing_in_nobody_is_led_elsewhere(stores, to, goes_to):
    assert sign_in(Client(), stores, next=to)["Location"] == goes_to
