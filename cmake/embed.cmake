# Files that travel inside the program: data, proof, examples and page assets. Each becomes a pair of
# symbols by .incbin, and one table maps its path to its bytes (base/embedded.h).
function(warmside_embed target)
  set(files)
  foreach(folder IN LISTS ARGN)
    file(GLOB_RECURSE found CONFIGURE_DEPENDS RELATIVE ${CMAKE_SOURCE_DIR} ${CMAKE_SOURCE_DIR}/${folder}/*)
    list(FILTER found EXCLUDE REGEX "README\\.md$")
    list(APPEND files ${found})
  endforeach()
  set(assembler ".section .note.GNU-stack,\"\",%progbits\n.section .rodata\n")
  set(table "#include \"base/embedded.h\"\n#include <array>\n")
  set(rows "")
  set(index 0)
  foreach(file IN LISTS files)
    string(APPEND assembler
      ".balign 16\n.global warmside_file_${index}\nwarmside_file_${index}:\n.incbin \"${CMAKE_SOURCE_DIR}/${file}\"\n"
      ".global warmside_end_${index}\nwarmside_end_${index}:\n.byte 0\n")
    string(APPEND table "extern \"C\" const char warmside_file_${index}[], warmside_end_${index}[];\n")
    string(APPEND rows "        File{\"${file}\", {warmside_file_${index}, static_cast<std::size_t>(warmside_end_${index} - warmside_file_${index})}},\n")
    math(EXPR index "${index} + 1")
  endforeach()
  string(APPEND table
    "namespace warmside::embedded {\nstd::span<const File> files() {\n    static const std::array<File, ${index}> all{\n${rows}    };\n    return all;\n}\n}\n")
  file(CONFIGURE OUTPUT ${CMAKE_BINARY_DIR}/embedded.S CONTENT "${assembler}" @ONLY)
  file(CONFIGURE OUTPUT ${CMAKE_BINARY_DIR}/embedded.cpp CONTENT "${table}" @ONLY)
  list(TRANSFORM files PREPEND ${CMAKE_SOURCE_DIR}/ OUTPUT_VARIABLE absolute)
  set_source_files_properties(${CMAKE_BINARY_DIR}/embedded.S PROPERTIES OBJECT_DEPENDS "${absolute}")
  target_sources(${target} PRIVATE ${CMAKE_BINARY_DIR}/embedded.S ${CMAKE_BINARY_DIR}/embedded.cpp)
endfunction()
