import ast
import subprocess
import sys

from certs.documents.verifier_file import verifier_text

OLDEST_PYTHON = (3, 9)


def names_bound(tree):
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            yield node.name
        elif isinstance(node, ast.Assign):
            for target in node.targets:
                yield from (n.id for n in ast.walk(target) if isinstance(n, ast.Name))


def test_no_part_hides_a_name_of_another():
    names = list(names_bound(ast.parse(verifier_text())))
    assert len(names) == len(set(names)) > 100


def test_needs_nothing_but_python():
    tree = ast.parse(verifier_text())
    taken = {
        (node.names[0].name if isinstance(node, ast.Import) else node.module).split(".")[0]
        for node in ast.walk(tree)
        if isinstance(node, ast.Import | ast.ImportFrom)
    }
    assert taken <= sys.stdlib_module_names
    assert "urllib" not in taken
    assert "socket" not in taken


def test_is_written_as_the_oldest_python_reads_it():
    ast.parse(verifier_text(), feature_version=OLDEST_PYTHON)


def test_is_clean_for_the_oldest_python():
    """Names that are not bound, and what only a later Python knows, are found by the linter."""
    rules = ["--isolated", "--target-version", "py39", "--select", "F,E9,PLE"]
    run = subprocess.run(
        [sys.executable, "-m", "ruff", "check", *rules, "-"],
        input=verifier_text(), capture_output=True, check=False, text=True,
    )  # fmt: skip
    assert run.returncode == 0, run.stdout


def test_says_what_it_is_and_how_it_is_called():
    assert verifier_text().startswith("#!/usr/bin/env python3\n")
    assert "verify_record.py FILE" in ast.get_docstring(ast.parse(verifier_text()))
