#include "base/embedded.h"

namespace warmside::embedded {

std::optional<std::string_view> find(std::string_view path) {
    for (const File& file : files()) {
        if (file.path == path) return file.bytes;
    }
    return std::nullopt;
}

}  // namespace warmside::embedded
