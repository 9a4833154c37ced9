#!/usr/bin/env bash
# Passes every test on a fresh machine: installs the outside judges, then format, lints, docs and tests.
set -euo pipefail
cd "$(dirname "$0")/.."

judges_missing() { for tool in qpdf pdfinfo pdftoppm gs mutool; do command -v "$tool" >/dev/null || return 0; done; return 1; }
if judges_missing; then
    as_root=""; [ "$(id -u)" = 0 ] || as_root="sudo"
    $as_root apt-get update -q
    $as_root apt-get install -y -q qpdf poppler-utils ghostscript mupdf-tools
fi
python_judges="jsonschema coloraide fonttools pikepdf pymupdf pdfminer.six numpy pillow ortools"
python3 -c 'import jsonschema, coloraide, fontTools, pikepdf, fitz, pdfminer, numpy, PIL, ortools' 2>/dev/null ||
    python3 -m pip install -q --disable-pip-version-check $python_judges ||
    python3 -m pip install -q --disable-pip-version-check --break-system-packages $python_judges

export CARGO_TERM_COLOR=never
cargo fmt --check
cargo clippy --all-targets --locked -q -- -D warnings
RUSTDOCFLAGS="-D warnings" cargo doc --no-deps --document-private-items --locked -q
cargo test --locked --no-fail-fast
