"""Habits of this house that no linter knows."""

import ast
import re
import subprocess
from pathlib import Path

import pytest
from django.conf import settings

ROOT: Path = settings.ROOT
MAX_LINES = 250
BANNED_NAMES = {"utils", "helpers", "common", "misc", "manager", "base", "core"}
TOP_LEVEL = {
    "README.md", "DEVELOPERS.md", "LICENSE", "Makefile", "manage.py", "pyproject.toml",
    "requirements.lock", "requirements-dev.lock", "docker-compose.yml",
    "certs", "inventory", "templates", "tests", "fixtures",
}  # fmt: skip
VENDORED = ("tests/vectors/", "tests/browser/axe/", "certs/static/certs/vendor/")
# Spelled so that this file does not hold what it looks for.
HOSTS = ["py" + "pi.org", "python" + "hosted.org", "npm" + "js.org", "npm" + "js.com"]
HOSTS += ["deb.deb" + "ian.org", "proxy.gol" + "ang.org"]
MACHINE_PATHS = [f"/{folder}/" for folder in ("work", "root", "tmp", "home")]


def tracked_files():
    run = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True, text=True
    )
    names = filter(None, run.stdout.split("\0"))
    return [name for name in names if (ROOT / name).is_file()]


FILES = tracked_files()
PYTHON = [name for name in FILES if name.endswith(".py") and "/migrations/" not in name]
SOURCE = [name for name in PYTHON if name.startswith(("certs/", "inventory/"))]


def text_of(name):
    data = (ROOT / name).read_bytes()
    return "" if b"\0" in data else data.decode()


TEXTS = {name: text_of(name) for name in FILES if not name.startswith(VENDORED)}
SHELL = [name for name, text in TEXTS.items() if re.match(r"#!.*\b(ba)?sh\n", text)]


def holding(pattern, names=None):
    """Return file:line of every place where the pattern stands."""
    return [
        f"{name}:{number}"
        for name in (TEXTS if names is None else names)
        for number, line in enumerate(TEXTS[name].splitlines(), 1)
        if re.search(pattern, line)
    ]


def test_files_were_found():
    assert "manage.py" in FILES
    assert ".tools/demo" in SHELL


@pytest.mark.parametrize("host", HOSTS)
def test_no_file_names_a_package_registry(host):
    assert holding(re.escape(host)) == []


@pytest.mark.parametrize("path", MACHINE_PATHS)
def test_no_file_holds_a_path_of_one_machine(path):
    assert holding(rf"(?<![\w.>)}}/]){re.escape(path)}") == []


def test_nothing_is_left_to_do():
    assert holding("TO" + "DO|FIX" + "ME|XX" + "X") == []


def test_every_module_says_what_it_decides():
    silent = [n for n in SOURCE if TEXTS[n].strip() and not ast.get_docstring(ast.parse(TEXTS[n]))]
    assert silent == []


def test_no_source_file_outgrows_one_idea():
    lengths = {name: TEXTS[name].count("\n") for name in SOURCE}
    assert {name: lines for name, lines in lengths.items() if lines > MAX_LINES} == {}


def test_no_file_is_a_drawer_for_everything():
    assert [name for name in PYTHON if Path(name).stem in BANNED_NAMES] == []


def test_top_level_holds_only_what_belongs_there():
    top = {name.split("/")[0] for name in FILES}
    assert {name for name in top if not name.startswith(".")} <= TOP_LEVEL


def test_no_suppression_without_its_code():
    assert holding(r"type: ignore(?!\[)|noqa(?!: [A-Z])", SOURCE) == []


@pytest.mark.parametrize("name", SHELL)
def test_shell_script_is_well_formed(name):
    run = subprocess.run(
        ["bash", "-n", name], cwd=ROOT, capture_output=True, check=False, text=True
    )
    assert (run.returncode, run.stderr) == (0, "")


@pytest.mark.parametrize("name", SHELL)
def test_shell_script_stops_at_its_first_unset_variable(name):
    assert re.search(r"^set -e?uo pipefail$", TEXTS[name], re.MULTILINE)


def test_documents_name_only_targets_that_exist():
    targets = set(re.findall(r"^([a-z-]+):", TEXTS["Makefile"], re.MULTILINE))
    documents = "".join(text for name, text in TEXTS.items() if name.endswith(".md"))
    named = set(re.findall(r"(?:^|[`$] ?)make ([a-z-]+)", documents, re.MULTILINE))
    assert named <= targets


def test_every_target_is_explained():
    targets = set(re.findall(r"^([a-z-]+):", TEXTS["Makefile"], re.MULTILINE))
    explained = set(re.findall(r"^([a-z-]+):.*## \w", TEXTS["Makefile"], re.MULTILINE))
    assert targets == explained


def test_documents_link_only_to_files_that_exist():
    broken = [
        f"{name}: {link}"
        for name, text in TEXTS.items() if name.endswith(".md")
        for link in re.findall(r"\]\((?!https?:|#|mailto:)([^)#\s]+)", text)
        if not (ROOT / name).parent.joinpath(link).exists()
    ]  # fmt: skip
    assert broken == []


@pytest.mark.parametrize("lock", ["requirements.lock", "requirements-dev.lock"])
def test_every_locked_package_carries_a_hash(lock):
    packages = re.split(r"\n(?=[a-z])", TEXTS[lock].strip())
    assert len(packages) > 1
    assert [p.splitlines()[0] for p in packages if "--hash=sha256:" not in p] == []
