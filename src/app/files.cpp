#include "app/files.h"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <sys/stat.h>
#include <unistd.h>

namespace warmside::app {

namespace fs = std::filesystem;

namespace {

constexpr std::uintmax_t largest_input = 64ULL << 20;

tl::unexpected<Problem> refuse(const std::string& path, std::string_view doing, int error) {
    return fail(Code::input_output, fmt::format("cannot {} {}: {}", doing, path, std::strerror(error)));
}

// Closes and, unless told that the file is in its place, removes it.
class Draft {
public:
    Draft(std::string path, int file) : path_(std::move(path)), file_(file) {}
    Draft(const Draft&) = delete;
    Draft& operator=(const Draft&) = delete;
    ~Draft() {
        if (file_ >= 0) ::close(file_);
        if (!kept_) ::unlink(path_.c_str());
    }
    bool write(std::string_view bytes) const {
        while (!bytes.empty()) {
            const auto done = ::write(file_, bytes.data(), bytes.size());
            if (done < 0 && errno == EINTR) continue;
            if (done <= 0) return false;
            bytes.remove_prefix(static_cast<std::size_t>(done));
        }
        return sync();
    }
    [[nodiscard]] bool sync() const { return ::fsync(file_) == 0; }
    [[nodiscard]] const std::string& path() const { return path_; }
    bool move_to(const std::string& target) {
        kept_ = ::rename(path_.c_str(), target.c_str()) == 0;
        return kept_;
    }

private:
    std::string path_;
    int file_;
    bool kept_ = false;
};

}  // namespace

Result<std::string> read_file(const std::string& path) {
    std::error_code error;
    if (fs::is_directory(path, error)) return refuse(path, "read", EISDIR);
    std::ifstream in(path, std::ios::binary);
    if (!in) return refuse(path, "read", errno);
    std::string bytes;
    char block[65536];
    while (in.read(block, sizeof block) || in.gcount() > 0) {
        bytes.append(block, static_cast<std::size_t>(in.gcount()));
        if (bytes.size() > largest_input)
            return fail(Code::out_of_range, fmt::format("{} is larger than 64 MiB", path));
    }
    return bytes;
}

namespace {

// A file beside the target, filled by `fill` and moved over it.
template <class Fill>
Result<void> replace_by(const std::string& path, Fill fill) {
    std::string draft_path = path + ".XXXXXX";
    const int file = ::mkstemp(draft_path.data());
    if (file < 0) return refuse(path, "write", errno);
    Draft draft(draft_path, file);
    ::fchmod(file, 0644);
    if (auto filled = fill(draft); !filled) return filled;
    if (!draft.move_to(path)) return refuse(path, "write", errno);
    return {};
}

}  // namespace

Result<void> write_file(const std::string& path, std::string_view bytes) {
    return replace_by(path, [&](const Draft& draft) -> Result<void> {
        if (!draft.write(bytes)) return refuse(path, "write", errno);
        return {};
    });
}

Result<void> write_file_with(const std::string& path,
                             const std::function<Result<void>(const std::string& draft)>& writer) {
    return replace_by(path, [&](const Draft& draft) -> Result<void> {
        if (auto written = writer(draft.path()); !written) return written;
        // The writer opened the same file anew: one sync holds for all that was written to it.
        if (!draft.sync()) return refuse(path, "write", errno);
        return {};
    });
}

Result<void> write_new_file(const std::string& path, std::string_view bytes) {
    std::error_code error;
    if (fs::exists(path, error)) {
        return fail(Code::conflict, fmt::format("{} is there already; nothing was written", path));
    }
    return write_file(path, bytes);
}

Result<void> make_folder(const std::string& path) {
    std::error_code error;
    fs::create_directories(path, error);
    if (error) return refuse(path, "make the folder", error.value());
    return {};
}

std::string beside(const std::string& path, const std::string& name) {
    const fs::path given(name);
    return given.is_absolute() ? name : (fs::path(path).parent_path() / given).string();
}

}  // namespace warmside::app
