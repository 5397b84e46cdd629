"""What the documents must name, so that nobody has to read the source for it."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text()
DOCUMENTS = DEVELOPERS + (ROOT / "README.md").read_text()
SETTINGS = [path.read_text() for path in sorted((ROOT / "certs/project").glob("*settings.py"))]
READ = re.compile(r"""\benv\.[a-z_]+\(\s*"([A-Z_]+)\"""")
COMMANDS = sorted(
    path.stem
    for path in (ROOT / "certs/management/commands").glob("*.py")
    if path.stem != "__init__"
)


@pytest.mark.parametrize("name", sorted({name for text in SETTINGS for name in READ.findall(text)}))
def test_every_variable_of_the_environment_has_its_row(name):
    rows = [line for line in DEVELOPERS.splitlines() if line.startswith("| `")]
    assert any(f"`{name}`" in row.split("|")[1] for row in rows)


def test_variables_are_read_in_the_settings_alone():
    reading = [
        path.relative_to(ROOT).as_posix()
        for app in ("certs", "inventory")
        for path in (ROOT / app).rglob("*.py")
        if re.search(r"os\.(environ|getenv)|environ\.Env", path.read_text())
    ]
    assert sorted(path for path in reading if not path.endswith("settings.py")) == [
        # It names the settings; the pass phrase of the demonstration protects nothing.
        "certs/management/commands/demo.py",
        "certs/project/wsgi.py",
    ]


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_is_told_of(command):
    assert re.search(rf"(manage(\.py)?|make|`) ?{command}\b", DOCUMENTS)


def test_decisions_are_numbered_without_gap_or_double():
    numbers = re.findall(r"^(\d+)\. \*\*", DEVELOPERS.partition("## Decisions")[2], re.MULTILINE)
    assert numbers == [str(n) for n in range(1, len(numbers) + 1)]
