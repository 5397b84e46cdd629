# Each target is one script in .tools; `make` alone lists them.
.DEFAULT_GOAL := help
.PHONY: help demo serve test test-postgres browser check fmt bench pictures words lock clean

help: ## this list
	@sed -n 's/^\([a-z-]*\):.*## /\1|/p' $(MAKEFILE_LIST) | awk -F'|' '{printf "make %-14s %s\n", $$1, $$2}'

demo: ## set everything up, fill in the demonstration, serve on 127.0.0.1:8000
	@.tools/demo

serve: ## serve what is there, without setting anything up
	@.tools/serve

test: ## set up and run all tests: SQLite, a browser, PostgreSQL where installed
	@.tools/test

test-postgres: ## run the tests on a throw-away PostgreSQL
	@.tools/test --postgres

browser: ## run the tests in a real browser only
	@.tools/system-packages --test
	@.tools/venv dev
	@.venv/bin/python -m pytest -m browser

check: ## lint, format, layers, types, spelling, migrations, deployment
	@.tools/check

fmt: ## put the code into shape
	@.tools/venv dev
	@.venv/bin/ruff check --fix-only .
	@.venv/bin/ruff format .

bench: ## measure the slow paths
	@.tools/venv dev
	@.venv/bin/python -m tests.bench

pictures: ## make the README's pictures from the running program
	@.tools/system-packages --test
	@.tools/venv dev
	@.venv/bin/python -m tests.browser.pictures

words: ## compile the translated words of tags and paper
	@.tools/words

lock: ## resolve the dependencies anew into both lock files
	@.tools/lock

clean: ## remove what can be made again (never .data)
	rm -rf .venv .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache htmlcov .coverage*
