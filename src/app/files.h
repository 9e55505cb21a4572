// The only room that opens files.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "base/result.h"

namespace warmside::app {

/// The whole file, at most 64 MiB. Problem: input_output, with the system's own word for it.
[[nodiscard]] Result<std::string> read_file(const std::string& path);

/// Writes next to the target, syncs, renames over it: the old file or the new one, never half of one.
[[nodiscard]] Result<void> write_file(const std::string& path, std::string_view bytes);

/// For what only a library can write: `writer` fills a file beside the target, which is then synced and
/// renamed over it. Where `writer` fails the target stays as it was and nothing is left beside it.
[[nodiscard]] Result<void> write_file_with(
    const std::string& path, const std::function<Result<void>(const std::string& draft)>& writer);

/// Like write_file, but refuses when the file exists.
[[nodiscard]] Result<void> write_new_file(const std::string& path, std::string_view bytes);

[[nodiscard]] Result<void> make_folder(const std::string& path);

/// `name` beside the file `path`, unless `name` is absolute.
[[nodiscard]] std::string beside(const std::string& path, const std::string& name);

}  // namespace warmside::app
