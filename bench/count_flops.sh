#!/bin/sh
# Prints the packed floating-point operations a node and lane in one evaluation of the moisture kernel: the
# arithmetic instructions in the machine code of the sweeps over nodes (each of which is one loop), divided by
# the eight lanes. A multiply-add counts as two.
set -eu
objdump -d --no-show-raw-insn "$1" | c++filt | awk '
  /^[0-9a-f]+ <.*>:$/ { inside = /Lanes<8>::(properties|correct|update)\(/ }
  !inside { next }
  { wide = /%zmm/ ? 8 : /%ymm/ ? 4 : /%xmm/ ? 2 : 0 }
  /vfn?m(add|sub)[0-9]+pd/ { sum += 2 * wide; next }
  /v(add|sub|mul|div|min|max)pd/ { sum += wide }
  END { printf "%.0f\n", sum / 8 }'
