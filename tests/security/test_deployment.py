"""What must not reach production is told: Django's own checks and ours (ASVS 5.0.0, 13.2, 13.3)."""

import pytest
from django.core.checks import Error
from django.core.checks import Warning as Caution

from certs.project.security_checks import LIMITS, check_rate_limits, check_second_step
from certs.project.security_settings import RATE_LIMITS
from tests.security.production import asked_in_production, run_in_production


def deploy_check(**values):
    return run_in_production(
        "-W", "ignore", "manage.py", "check", "--deploy", "--fail-level", "WARNING", **values
    )


def test_production_settings_are_clean():
    run = deploy_check()
    assert (run.returncode, "no issues" in run.stdout) == (0, True), run.stderr


@pytest.mark.parametrize(
    ("values", "what"),
    [
        ({"DEBUG": "true", "MFA_REQUIRED": "true"}, "security.W018"),
        ({"MFA_REQUIRED": "false"}, "certs.W020"),
        ({"HTTPS_ONLY": "false"}, "security.W008"),
        ({"PUBLIC_ORIGIN": "http://rope.example"}, "certs.W001"),
        ({"SECRET_KEY": "local-evaluation-key-not-for-production-use-0000"}, "certs.E004"),
        ({"RATE_LIMITS": "tag=often"}, "certs.E020"),
        ({"WEB_CONCURRENCY": "2"}, "certs.W021"),
        ({"WEB_CONCURRENCY": "2", "CACHE_URL": "filecache://counts"}, "certs.W021"),
    ],
    ids=[
        "debug",
        "no second step",
        "no https",
        "tags without https",
        "known key",
        "no limit",
        "each counts apart",
        "counts that get lost",
    ],
)
def test_what_must_not_reach_production_is_told(values, what):
    run = deploy_check(**values)
    assert run.returncode != 0
    assert what in run.stderr


def test_processes_that_count_together_are_clean():
    run = deploy_check(WEB_CONCURRENCY="2", CACHE_URL="dbcache://rate_counts")
    assert (run.returncode, "no issues" in run.stdout) == (0, True), run.stderr


def test_in_production_the_second_step_is_on_unless_it_is_switched_off():
    assert asked_in_production()["mfa"] is True


def test_every_limit_has_a_sound_value():
    assert set(RATE_LIMITS) >= LIMITS


def test_a_limit_that_is_missing_is_told(settings):
    settings.RATE_LIMITS = dict.fromkeys(LIMITS - {"check"}, "1/min")
    (found,) = check_rate_limits()
    assert isinstance(found, Error)
    assert "check" in found.msg


def test_without_a_second_step_a_warning_is_given(settings):
    settings.MFA_REQUIRED = True
    assert check_second_step() == []
    settings.MFA_REQUIRED = False
    (found,) = check_second_step()
    assert isinstance(found, Caution)
