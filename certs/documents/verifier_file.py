"""Joins the parts of the stand-alone verifier into the one file that auditors run.

The file is made of the sources as they stand, so that what is tested is what is handed out. The
parts are put in the order in which they need each other; their imports go to the top, once.
"""

import ast
from functools import cache
from pathlib import Path
from typing import Final

NAME: Final = "verify_record.py"
_PACKAGE: Final = "certs.documents.verifier"
_FOLDER: Final = Path(__file__).resolve().parent / "verifier"
_LAST: Final = "command"


@cache
def verifier_text() -> str:
    """Return the stand-alone verifier: one file for Python 3.9 or later that needs nothing else."""
    trees = {name: _tree(name) for name in _in_order(_LAST)}
    imports = sorted({line for tree in trees.values() for line in _imports(tree)})
    parts = [_part(name, tree) for name, tree in trees.items()]
    head = ["#!/usr/bin/env python3", f'"""{ast.get_docstring(trees[_LAST])}\n"""', ""]
    lines = [*head, "from __future__ import annotations", "", *imports, *parts]
    return "\n".join(lines) + "\n"


def _in_order(name: str, known: tuple[str, ...] = ()) -> tuple[str, ...]:
    """List the parts that one needs, each after those that it needs itself."""
    for node in _tree(name).body:
        needed = _part_named(node)
        if needed and needed not in known:
            known = _in_order(needed, known)
    return (*known, name)


def _tree(name: str) -> ast.Module:
    return ast.parse(_source(name))


def _source(name: str) -> str:
    return (_FOLDER / f"{name}.py").read_text(encoding="utf-8")


def _part_named(node: ast.stmt) -> str:
    """Name the part that an import takes from, an empty text for any other line."""
    if isinstance(node, ast.ImportFrom) and str(node.module).startswith(f"{_PACKAGE}."):
        return str(node.module).removeprefix(f"{_PACKAGE}.")
    return ""


def _imports(tree: ast.Module) -> list[str]:
    """Give the imports from Python itself, a name a line."""
    lines = []
    for node in tree.body:
        if isinstance(node, ast.Import):
            lines += [f"import {alias.name}" for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and not _part_named(node):
            lines += [f"from {node.module} import {alias.name}" for alias in node.names]
    return lines


def _part(name: str, tree: ast.Module) -> str:
    """Give a part without its imports, its docstring turned into a comment."""
    lines = _source(name).splitlines()
    for node in tree.body:
        is_import = isinstance(node, ast.Import | ast.ImportFrom)
        if is_import or node is tree.body[0]:
            for number in range(node.lineno - 1, node.end_lineno or node.lineno):
                lines[number] = ""
    told = "" if name == _LAST else ast.get_docstring(tree) or ""
    comment = "\n".join(f"# {line}".rstrip() for line in told.splitlines())
    rule = "# " + "-" * 98
    return f"\n\n{rule}\n{comment}\n" + "\n".join(lines).strip("\n")
