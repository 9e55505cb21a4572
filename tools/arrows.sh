#!/bin/sh
# An include may point only at a room of a lower level (cmake/room.cmake), and never climb out with "../".
set -eu
cd "$(dirname "$0")/.."
levels=$(sed -n '/^set(WARMSIDE_LEVELS/,/)/p' cmake/room.cmake | grep -oE '[a-z]+=[0-9]+')
level_of() { printf '%s\n' "$levels" | sed -n "s/^$1=//p"; }
bad=0
for folder in src/*/; do
  room=$(basename "$folder")
  own=$(level_of "$room")
  [ -n "$own" ] || { echo "src/$room is not a room of cmake/room.cmake"; bad=1; continue; }
  for used in $(grep -hoE '^#include "[a-z]+/' "$folder"*.h "$folder"*.cpp 2>/dev/null | sed 's/.*"//; s,/,,' | sort -u); do
    [ "$used" = "$room" ] && continue
    level=$(level_of "$used")
    if [ -z "$level" ] || [ "$level" -ge "$own" ]; then
      echo "arrow points up: $room (level $own) includes $used (level ${level:-none})"; bad=1
    fi
  done
  if grep -nE '^#include "\.\./' "$folder"*.h "$folder"*.cpp 2>/dev/null; then echo "an include climbs out of $room"; bad=1; fi
done
[ "$bad" = 0 ] && echo "arrows: every include points down"
exit "$bad"
