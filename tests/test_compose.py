"""The container set-up: valid by the Compose Specification, made of commands that CI runs."""

import json
import os
import re
from pathlib import Path

import jsonschema
import pytest
import yaml
from django.conf import settings
from django.core.management import get_commands

ROOT: Path = settings.ROOT
COMPOSE = yaml.safe_load((ROOT / "docker-compose.yml").read_text())
# Source: compose-spec.json of the Compose Specification, see vectors/compose-spec_SOURCE.txt.
SCHEMA = json.loads((ROOT / "tests/vectors/compose-spec.json").read_text())
OUR_SERVICES = ["prepare", "web", "worker"]
EXERCISED = (ROOT / ".ci/run").read_text() + (ROOT / ".tools/demo").read_text()


def commands_of(service):
    parts = COMPOSE["services"][service]
    checked = parts.get("healthcheck", {}).get("test", ["CMD"])[1:]
    recipe = re.findall(r"\.tools/[a-z-]+(?= |\n|$)", parts["build"]["dockerfile_inline"])
    return [parts["command"][0], *checked[:1], *recipe]


def test_file_is_valid_by_the_specification():
    jsonschema.Draft202012Validator(SCHEMA).validate(COMPOSE)


def test_schema_refuses_an_unknown_key():
    broken = {**COMPOSE, "services": {"web": {"errand": ["true"]}}}
    with pytest.raises(jsonschema.ValidationError, match="errand"):
        jsonschema.Draft202012Validator(SCHEMA).validate(broken)


@pytest.mark.parametrize("service", OUR_SERVICES)
def test_every_command_is_a_script_that_can_be_run(service):
    for command in commands_of(service):
        assert os.access(ROOT / command, os.X_OK), command


@pytest.mark.parametrize("service", OUR_SERVICES)
def test_every_command_is_one_that_ci_runs(service):
    for command in commands_of(service):
        assert command in EXERCISED, command


@pytest.mark.parametrize("script", ["prepare", "demo", "work", "check"])
def test_scripts_call_only_commands_that_exist(script):
    text = (ROOT / ".tools" / script).read_text()
    called = re.findall(r"(?:manage\.py|\.tools/manage) ([a-z_]+)", text)
    assert called
    assert set(called) <= set(get_commands())


@pytest.mark.parametrize("service", OUR_SERVICES)
def test_program_drops_every_privilege(service):
    parts = COMPOSE["services"][service]
    assert parts["cap_drop"] == ["ALL"]
    assert "\nUSER rope\n" in parts["build"]["dockerfile_inline"]


@pytest.mark.parametrize("service", OUR_SERVICES)
def test_every_variable_is_one_that_the_settings_or_scripts_read(service):
    settings_files = (ROOT / "certs/project").glob("*settings.py")
    readers = [*settings_files, *(ROOT / ".tools").iterdir()]
    text = "".join(path.read_text() for path in readers)
    for name in COMPOSE["services"][service]["environment"]:
        assert re.search(rf"\b{name}\b", text), name


def test_web_waits_for_the_database_to_be_prepared():
    services = COMPOSE["services"]
    assert services["prepare"]["depends_on"]["db"]["condition"] == "service_healthy"
    for service in ("web", "worker"):
        condition = services[service]["depends_on"]["prepare"]["condition"]
        assert condition == "service_completed_successfully"


@pytest.mark.parametrize("service", OUR_SERVICES)
def test_keys_lie_in_a_volume_of_their_own(service):
    parts = COMPOSE["services"][service]
    folder = parts["environment"]["KEYS_ROOT"]
    assert f"keys:{folder}" in parts["volumes"]
    assert not folder.startswith(parts["environment"]["STORAGE_ROOT"])
    assert f"-m 700 {folder}\n" in parts["build"]["dockerfile_inline"]


def test_the_processes_of_the_server_count_requests_together():
    assert all(
        COMPOSE["services"][service]["environment"]["CACHE_URL"].startswith("dbcache://")
        for service in OUR_SERVICES
    )
    assert "dbcache:*) .tools/manage createcachetable" in (ROOT / ".tools/prepare").read_text()


def test_no_pass_phrase_is_written_down():
    written = (ROOT / "docker-compose.yml").read_text()
    values = re.findall(r"(?:PASSWORD|SECRET_KEY|PASSPHRASE): (.+)", written)
    assert values
    assert all(value.startswith("${") for value in values)
