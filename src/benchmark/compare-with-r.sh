#!/bin/sh
# The kernel against R on the same data, in one go on one machine.
# Needs Maven, and R with the packages survival and npsurv (on Debian: r-base-core,
# r-cran-survival, r-cran-npsurv).
set -eu
cd "$(dirname "$0")/../.."
results="$PWD/target/benchmark"
mvn -q -B -P benchmark -Dresults="$results" test-compile exec:exec@comparison
Rscript src/benchmark/compare-with-r.R "$results"
