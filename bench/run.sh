#!/bin/sh
# The benchmarks, one question each: all, or the named ones (answer, wall-year, conduction, cutting). Times are of this
# machine, now; read the ratios.
set -eu
cd "$(dirname "$0")/.."

answer() {
  echo "How long does the whole job take on the example, cold process? (three runs; budget 5 s and 500 MB on two cores)"
  for run in 1 2 3; do
    /usr/bin/env time -f "  %e s wall, %U s processor, %M kB" ./build-bench/warmside answer examples/heron-ridge/house.toml >/dev/null 2>build-bench/time.txt
    tail -n 1 build-bench/time.txt
  done
}

wall_year() {
  echo "How long does a year of one wall take, beside SUNDIALS CVODE (BDF, banded, analytic Jacobian) at the same error?"
  kernel=$(find build-bench -name lanes_kernel.cpp.o)
  WARMSIDE_KERNEL_FLOPS=$(sh bench/count_flops.sh "$kernel") ./build-bench/bench_wall_year
}

conduction() {
  echo "How long does the linear solve of steady conduction take, beside CHOLMOD and hypre to the same residual?"
  # Without a topology file in a container hwloc prints lines that mean nothing here.
  HWLOC_HIDE_ERRORS=2 ./build-bench/bench_conduction
}

cutting() {
  echo "How long does a cutting plan of 3,000 pieces take? (budget 10 s, within 1 % of the proven least)"
  ./build-bench/bench_cutting
}

[ $# -gt 0 ] || set -- answer wall-year conduction cutting
for part in "$@"; do
  case "$part" in
    answer) answer ;;
    wall-year) wall_year ;;
    conduction) conduction ;;
    cutting) cutting ;;
    *) echo "usage: ./dev bench [answer] [wall-year] [conduction] [cutting]" >&2; exit 2 ;;
  esac
done
