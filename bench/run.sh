#!/bin/sh
# The benchmarks, one question each. Times are of this machine, now; read the ratios.
set -eu
cd "$(dirname "$0")/.."
echo "How long does the whole job take on the example, cold process? (three runs; budget 5 s and 500 MB on two cores)"
for run in 1 2 3; do
  /usr/bin/env time -f "  %e s wall, %U s processor, %M kB" ./build-bench/warmside answer examples/heron-ridge/house.toml >/dev/null 2>build-bench/time.txt
  tail -n 1 build-bench/time.txt
done
echo "How long does a year of one wall take, beside SUNDIALS CVODE (BDF, banded, analytic Jacobian) at the same error?"
kernel=$(find build-bench -name lanes_kernel.cpp.o)
WARMSIDE_KERNEL_FLOPS=$(sh bench/count_flops.sh "$kernel") exec ./build-bench/bench_wall_year
