# Two commands are for users: `make serve` and `make test`. Both first install
# what is missing: tools into .tools/ and node_modules/, the browsers by apt.
# `make test` runs every suite below; each is also a target of its own.

PORT ?= 8080

# Bytes packed with brotli: of what the first figure waits for, and of the whole
# page, which a first visit stores after that. The whole was to stay within
# 230,000; entry, the walk, the converter, what the parts repeat, and carrying
# the first version's records over brought it to 292,000, and a worker that checks
# and mends what it keeps to 296,000; losing nothing to full storage and a file
# of all rigs, to 303,000; weights, with their solver, tickets and load plan, to
# 352,600; rounds, their log, what is due and its calendar, to 393,000; doubts by
# a second figure, dated readings and a vehicle without a van, to 402,000; copies
# by link, code and file, what comes laid beside what is here, and the door card,
# to 431,000; masses held to a total, and what is said of readings that disagree,
# to 438,200.
FIRST := 140000
WHOLE := 439000

# The versions of all tools: here, in Cargo.lock (wasm-bindgen must equal the
# library), in package-lock.json (wasm-opt, Playwright, axe) and in that of
# tests/firefox. What splits the wasm follows rustc's output closely: raise it
# alone, and run every journey.
TRUNK := 0.21.14
WASM_SPLIT := 0.2.4
WASM_BINDGEN := $(shell awk '/^name = "wasm-bindgen"$$/ { getline; gsub(/[^0-9.]/, ""); print; exit }' Cargo.lock)
WASM := wasm32-unknown-unknown

CHROMIUM ?= $(shell command -v chromium || echo /usr/bin/chromium)
CHROMEDRIVER ?= $(shell command -v chromedriver || echo /usr/bin/chromedriver)
FIREFOX ?= $(shell command -v firefox-esr || command -v firefox || echo /usr/bin/firefox-esr)

export PATH := $(CURDIR)/.tools/bin:$(CURDIR)/node_modules/.bin:$(PATH):$(HOME)/.cargo/bin
export CHROMIUM CHROMEDRIVER FIREFOX
export CARGO_TERM_COLOR ?= never
# Trunk takes the common NO_COLOR=1 for a bad argument.
unexport NO_COLOR

SHELL := bash
.SHELLFLAGS := -euo pipefail -c
.DELETE_ON_ERROR:
# Suites share cargo's lock and the machine's two or four cores.
.NOTPARALLEL:

SUITES := fmt-check clippy clippy-wasm arrows test-native units published-air weights schema docs test-browser size e2e test-firefox
SOURCES := $(shell find src style -type f) build.rs index.html site.mjs Trunk.toml Cargo.toml Cargo.lock package-lock.json

.PHONY: serve test build bench dist start-time pictures setup setup-rust setup-node setup-tools setup-chromium setup-firefox setup-python clean $(SUITES)

serve: dist/sw.js
	@exec node site.mjs serve dist $(PORT)

# Runs every suite, also after one has failed, and closes with a line for each.
test: setup
	@failed=0; lines=(); \
	for suite in $(SUITES); do \
	  printf '\n==== %s\n' "$$suite"; began=$$SECONDS; \
	  if $(MAKE) --no-print-directory "$$suite"; then verdict=passed; else verdict=FAILED; failed=$$((failed + 1)); fi; \
	  lines+=("$$(printf '%-14s %s in %d s' "$$suite" "$$verdict" "$$((SECONDS - began))")"); \
	done; \
	printf '\n==== all suites\n'; printf '%s\n' "$${lines[@]}"; \
	[ "$$failed" = 0 ]

fmt-check: setup-rust
	cargo fmt --check

clippy: setup-rust
	cargo clippy --locked --all-targets -- -D warnings

clippy-wasm: setup-rust
	cargo clippy --locked --all-targets --target $(WASM) -- -D warnings
	cargo clippy --locked --lib --features split --target $(WASM) -- -D warnings

# Prints who calls whom within the page; fails on a circle, and on an arrow from
# the kit to a view or between views.
arrows:
	@node tests/arrows.mjs
	@node --test --test-reporter=dot tests/arrows.test.mjs

# Shows the tables of deviations from published figures, which tests print.
# One of them has Python work the footprint out again, with its own modules
# only (tests/published/footprint_check.py).
test-native: setup-rust
	@command -v python3 > /dev/null || { echo 'Python 3 is missing: the footprint is checked against it.'; exit 1; }
	cargo test --locked -- --show-output

# Every torque and pressure factor against another library's.
units: setup-rust setup-python
	rm -f target/units.json
	cargo test --locked --test published_torque -- --exact the_factors_are_written_for_the_cross_check
	.tools/venv/bin/python tests/published/units_against_pint.py target/units.json

# The gas law against real air, the atmosphere against another writing of it.
published-air: setup-rust setup-python
	.tools/venv/bin/python tests/published/air_against_coolprop.py

# Random ticket sets, others each time, against another least squares.
weights: setup-rust setup-python
	rm -f target/weights.json
	cargo test --locked --test published_weights -- --exact random_ticket_sets_are_written_for_the_cross_check
	.tools/venv/bin/python tests/published/weights_against_numpy.py target/weights.json

# Files of random rigs against the published schema, and broken ones.
schema: setup-rust setup-python
	rm -f target/backups.jsonl
	cargo test --locked --test keeping -- --exact file::files_are_written_for_the_schema_check
	.tools/venv/bin/python tests/keeping/schema_check.py src/store/backup.schema.json target/backups.jsonl

# Once more for the browser's target, which alone has the page's modules.
docs: setup-rust
	RUSTDOCFLAGS='-D warnings' cargo doc --locked --no-deps
	RUSTDOCFLAGS='-D warnings' cargo doc --locked --no-deps --lib --target $(WASM)

# Wiring only, so built unoptimised.
test-browser: setup-rust setup-tools setup-chromium
	CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUNNER=wasm-bindgen-test-runner \
	WASM_BINDGEN_TEST_WEBDRIVER_JSON='$(CURDIR)/tests/web/webdriver.json' \
	cargo test --locked --profile dev --target $(WASM) --test web

size: dist/sw.js
	@node site.mjs size dist $(FIRST) $(WHOLE)

e2e: dist/sw.js setup-chromium
	node --test --test-reporter=spec --test-timeout=300000 tests/e2e/*.test.mjs

# The journeys that matter most in another engine; its driver is theirs alone.
test-firefox: dist/sw.js setup-node setup-firefox
	node --test --test-reporter=spec --test-timeout=120000 tests/firefox/*.test.mjs

build: dist/sw.js

# The site as one archive for a host, with its digest.
dist: dist/sw.js
	@node site.mjs archive dist tyreside.tar.gz

# How long a first visit, a start from what is kept, and a tap wait on a slow
# phone, beside an empty page. Builds to compare with: make start-time
# BUILDS='before=DIR'
BUILDS ?=

start-time: dist/sw.js setup-chromium
	cargo build --locked --release --target $(WASM) --example empty_page
	node tests/e2e/start-time.mjs target/$(WASM)/release/examples/empty_page.wasm $(BUILDS) now=dist

# The README's pictures, of the page as it is.
pictures: dist/sw.js setup-chromium
	node --test tests/e2e/pictures.mjs

# Trunk's last step takes the views apart and writes the worker. Offline it
# takes its tools from PATH only, and cargo what was fetched before.
dist/sw.js: $(SOURCES) | setup-rust setup-node setup-tools
	cargo fetch --locked
	trunk build --release --offline --locked --features split

# What types and checks cost in time: the core beside plain formulas, in
# nanoseconds and times. Fails above the goals in tests/speed.rs.
bench: setup-rust
	cargo bench --locked --test speed

setup: setup-rust setup-node setup-tools setup-chromium setup-firefox setup-python

setup-rust:
	@command -v cargo rustup > /dev/null || { echo 'Rust is missing: install it with rustup.'; exit 1; }
	@rustup target list --installed | grep -qx $(WASM) || rustup target add $(WASM)
	@cargo fmt --version > /dev/null 2>&1 || rustup component add rustfmt
	@cargo clippy --version > /dev/null 2>&1 || rustup component add clippy

setup-node: node_modules/.package-lock.json

node_modules/.package-lock.json: package.json package-lock.json .npmrc
	@node -e 'process.exit(Number(process.versions.node.split(".")[0]) >= 20 ? 0 : 1)' || { echo 'Node.js 20 or newer is needed.'; exit 1; }
	npm ci
	@touch $@

setup-tools:
	@[ "$$(trunk --version 2> /dev/null)" = 'trunk $(TRUNK)' ] || \
	  cargo install trunk --locked --version $(TRUNK) --root .tools
	@[ "$$(wasm-bindgen --version 2> /dev/null)" = 'wasm-bindgen $(WASM_BINDGEN)' ] || \
	  cargo install wasm-bindgen-cli --version $(WASM_BINDGEN) --root .tools
	@grep -qs '"wasm_split_cli_support $(WASM_SPLIT) ' .tools/.crates.toml || \
	  cargo install wasm_split_cli_support --locked --version $(WASM_SPLIT) --features build-binary --root .tools

setup-chromium:
	@if ! [ -x '$(CHROMIUM)' ] || ! [ -x '$(CHROMEDRIVER)' ]; then \
	  sudo=; [ "$$(id -u)" = 0 ] || sudo=sudo; \
	  $$sudo apt-get update && DEBIAN_FRONTEND=noninteractive $$sudo apt-get install -y --no-install-recommends chromium chromium-driver; \
	fi

setup-firefox: tests/firefox/node_modules/.package-lock.json
	@if ! [ -x '$(FIREFOX)' ]; then \
	  sudo=; [ "$$(id -u)" = 0 ] || sudo=sudo; \
	  $$sudo apt-get update && DEBIAN_FRONTEND=noninteractive $$sudo apt-get install -y --no-install-recommends firefox-esr; \
	fi

tests/firefox/node_modules/.package-lock.json: tests/firefox/package.json tests/firefox/package-lock.json tests/firefox/.npmrc
	cd tests/firefox && npm ci
	@touch $@

# Libraries that figures are compared with, for tests alone.
setup-python: .tools/venv/stamp

.tools/venv/stamp: tests/published/requirements.txt
	@if ! python3 -c 'import ensurepip, venv' 2> /dev/null; then \
	  sudo=; [ "$$(id -u)" = 0 ] || sudo=sudo; \
	  $$sudo apt-get update && DEBIAN_FRONTEND=noninteractive $$sudo apt-get install -y --no-install-recommends python3 python3-venv; \
	fi
	rm -rf .tools/venv
	python3 -m venv .tools/venv
	.tools/venv/bin/pip install --quiet --disable-pip-version-check --requirement $<
	@touch $@

clean:
	rm -rf dist target tyreside.tar.gz
