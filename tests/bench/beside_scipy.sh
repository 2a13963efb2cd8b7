#!/usr/bin/env bash
# Our sweep of one corner beside SciPy's fsolve on the same corner, one after the other on one core.
# Wants the Python packages of tests/outside/requirements.txt.
set -euo pipefail
cd "$(dirname "$0")/../.."
cargo bench -q -p wheelpath-tests --bench solve -- "1001-pose"
taskset -c 0 python3 tests/outside/scipy_sweep_timing.py
