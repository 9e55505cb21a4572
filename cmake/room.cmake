# One library a room. Every room is listed here once, with its level; a room may use only rooms of a
# lower level, and the configure step fails on an arrow that points up or sideways.
#
# A room sees another room's headers as "room/file.h" only through that room's own include folder,
# so an include of a room that it does not use does not compile.
set(WARMSIDE_LEVELS
  base=0
  units=1 numerics=1
  air=2
  climate=3 material=3
  conduction=4
  assembly=5
  framing=6
  thermal=7
  leakage=8
  moisture=9 structure=9 takeoff=9 house=9
  rules=10
  project=11
  answer=12
  drawing=13
  report=14
  study=15 proof=15
  app=16)

function(warmside_level room out)
  foreach(entry IN LISTS WARMSIDE_LEVELS)
    if(entry MATCHES "^${room}=([0-9]+)$")
      set(${out} ${CMAKE_MATCH_1} PARENT_SCOPE)
      return()
    endif()
  endforeach()
  message(FATAL_ERROR "room '${room}' is not in WARMSIDE_LEVELS")
endfunction()

add_library(warmside_flags INTERFACE)
target_compile_options(warmside_flags INTERFACE
  -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wold-style-cast -Wnon-virtual-dtor -Wno-missing-field-initializers -Werror
  # clang 19 takes what GCC 12's std::stable_sort does inside for a deprecated call of ours.
  $<$<CXX_COMPILER_ID:Clang>:-Wno-deprecated-declarations>)
# One precompiled header for all rooms: half of a short file's compile time. Off, each file stands on its own
# includes (the sanitizer and fuzz builds check that).
option(WARMSIDE_PRECOMPILE "precompile the headers that nearly every file includes" ON)
if(WARMSIDE_PRECOMPILE)
  # The first is for ccache. The others: GCC 12 takes moves of short strings inside <string> for overruns, which it
  # keeps to itself where the header is no part of a precompiled one. Builds without it keep these warnings.
  target_compile_options(warmside_flags INTERFACE
    $<$<CXX_COMPILER_ID:GNU>:-fpch-preprocess -Wno-array-bounds -Wno-restrict -Wno-stringop-overflow -Wno-stringop-overread>)
  file(CONFIGURE OUTPUT ${CMAKE_BINARY_DIR}/precompiled.cpp CONTENT "// What the precompiled header is made with.\n")
  add_library(warmside_precompiled OBJECT ${CMAKE_BINARY_DIR}/precompiled.cpp)
  target_link_libraries(warmside_precompiled PRIVATE warmside_flags fmt::fmt Threads::Threads)
  set(WARMSIDE_PRECOMPILED <algorithm> <array> <cmath> <fmt/format.h> <functional> <map> <memory> <numeric> <optional>
    <set> <span> <string> <string_view> <tl/expected.hpp> <vector>)
  target_precompile_headers(warmside_precompiled PRIVATE ${WARMSIDE_PRECOMPILED})
endif()

# The tests keep assert() on; the shipped program is built from the same objects, so it keeps it too.

# warmside_room(name USES room... LINKS target... KERNELS file... PRECOMPILE <header>...)
#   USES     rooms below this one
#   LINKS    libraries from outside
#   KERNELS  sources built with -O3 for this machine's instruction set
#   PRECOMPILE  further headers that most files of the room include
function(warmside_room room)
  cmake_parse_arguments(ARG "" "" "USES;LINKS;KERNELS;PRECOMPILE" ${ARGN})
  warmside_level(${room} level)
  foreach(used IN LISTS ARG_USES)
    warmside_level(${used} used_level)
    if(NOT used_level LESS level)
      message(FATAL_ERROR "arrow points up: ${room} (level ${level}) uses ${used} (level ${used_level})")
    endif()
  endforeach()

  set(view ${CMAKE_BINARY_DIR}/rooms/${room})
  file(MAKE_DIRECTORY ${view})
  file(CREATE_LINK ${CMAKE_CURRENT_SOURCE_DIR} ${view}/${room} SYMBOLIC)

  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/*.cpp)
  set(tests ${sources})
  list(FILTER sources EXCLUDE REGEX "_(test|fuzz)\\.cpp$|/main\\.cpp$")
  list(FILTER tests INCLUDE REGEX "_test\\.cpp$")

  add_library(warmside_${room} STATIC ${sources})
  add_library(warmside::${room} ALIAS warmside_${room})
  target_include_directories(warmside_${room} PUBLIC ${view})
  target_link_libraries(warmside_${room} PUBLIC ${ARG_LINKS} PRIVATE warmside_flags)
  foreach(used IN LISTS ARG_USES)
    target_link_libraries(warmside_${room} PUBLIC warmside_${used})
  endforeach()
  if(WARMSIDE_PRECOMPILE AND ARG_PRECOMPILE)
    target_precompile_headers(warmside_${room} PRIVATE ${WARMSIDE_PRECOMPILED} ${ARG_PRECOMPILE})
  elseif(WARMSIDE_PRECOMPILE)
    target_precompile_headers(warmside_${room} REUSE_FROM warmside_precompiled)
  endif()
  if(ARG_KERNELS)
    set(kernel_flags "-O3;-fno-math-errno;-fno-trapping-math")
    if(WARMSIDE_NATIVE)
      list(APPEND kernel_flags "-march=native")
    endif()
    set_source_files_properties(${ARG_KERNELS} PROPERTIES COMPILE_OPTIONS "${kernel_flags}" SKIP_PRECOMPILE_HEADERS ON)
  endif()

  if(WARMSIDE_TESTS AND tests)
    add_executable(${room}_test ${tests})
    target_link_libraries(${room}_test PRIVATE warmside_${room} warmside_test_main warmside_flags)
    if(WARMSIDE_PRECOMPILE AND ARG_PRECOMPILE)
      target_precompile_headers(${room}_test REUSE_FROM warmside_${room})
    elseif(WARMSIDE_PRECOMPILE)
      target_precompile_headers(${room}_test REUSE_FROM warmside_precompiled)
    endif()
    set_target_properties(${room}_test PROPERTIES RUNTIME_OUTPUT_DIRECTORY ${CMAKE_BINARY_DIR}/tests)
    doctest_discover_tests(${room}_test TEST_PREFIX "${room}: " PROPERTIES TIMEOUT 300
      ENVIRONMENT "WARMSIDE_SOURCE=${CMAKE_SOURCE_DIR}")
  endif()
  file(GLOB fuzzers CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/*_fuzz.cpp)
  if(WARMSIDE_FUZZ AND fuzzers)
    foreach(file IN LISTS fuzzers)
      get_filename_component(name ${file} NAME_WE)
      add_executable(${name} ${file})
      target_compile_options(${name} PRIVATE -fsanitize=fuzzer)
      target_link_options(${name} PRIVATE -fsanitize=fuzzer)
      target_link_libraries(${name} PRIVATE warmside_${room} warmside_flags)
    endforeach()
  endif()
endfunction()

if(WARMSIDE_TESTS)
  find_package(doctest REQUIRED)
  include(doctest OPTIONAL)
  add_library(warmside_test_main STATIC ${CMAKE_SOURCE_DIR}/cmake/test_main.cpp)
  target_link_libraries(warmside_test_main PUBLIC doctest::doctest)
endif()
