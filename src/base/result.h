// Errors are values: every function that can fail for a reason the user can mend returns a Result.
#pragma once

#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <utility>
#include <vector>

namespace warmside {

/// What kind of trouble, for programs; people read `what`.
enum class Code {
    syntax,         ///< the text does not parse
    unknown_key,    ///< a key that the format does not have
    missing,        ///< a required key or file is not there
    wrong_type,     ///< a number where a text belongs, and the like
    wrong_unit,     ///< a unit of another dimension, or none
    out_of_range,   ///< parses, but cannot be true
    unknown_name,   ///< a material, rung, place ... that nothing defines
    duplicate,      ///< the same name twice
    conflict,       ///< two statements that exclude each other
    incomplete,     ///< data with gaps
    not_converged,  ///< a solver did not settle; no number is returned
    stopped,        ///< the user asked to stop
    unsupported,    ///< outside the limits of the method
    input_output,   ///< the file system said no
};
[[nodiscard]] const char* name_of(Code code);

enum class Severity { note, warning, error };
[[nodiscard]] const char* name_of(Severity severity);

/// A place in a text. Lines and columns count from 1; 0 = none.
struct Place {
    std::string file;
    int line = 0;
    int column = 0;
    friend bool operator==(const Place&, const Place&) = default;
};

struct Problem {
    Code code = Code::syntax;
    Severity severity = Severity::error;
    std::string what;        ///< one sentence, without place
    std::string found;       ///< what stands there
    std::string expected;    ///< what may stand there
    std::string suggestion;  ///< the nearest valid word, or what to do
    Place where;
};

using Problems = std::vector<Problem>;

template <class T>
using Result = tl::expected<T, Problem>;

[[nodiscard]] inline tl::unexpected<Problem> fail(Problem problem) {
    return tl::make_unexpected(std::move(problem));
}
[[nodiscard]] inline tl::unexpected<Problem> fail(Code code, std::string what, Place where = {}) {
    return tl::make_unexpected(Problem{.code = code, .what = std::move(what), .where = std::move(where)});
}

/// True when no entry is an error (notes and warnings may be there).
[[nodiscard]] bool usable(const Problems& problems);

/// `house.toml:14:13: error: thickness "5.5 W" is not a length (m, mm, in, ft)` and, when `text` is
/// the source, the line with a caret under the place. Ends with a newline.
[[nodiscard]] std::string render(const Problem& problem, std::string_view text = {});

}  // namespace warmside
