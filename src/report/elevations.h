// Framing elevations in the page: in the report as they are, in the live page drawn when they are opened.
#pragma once

#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>

#include "answer/answer.h"
#include "drawing/elevation.h"

namespace warmside::report {

/// "frame", "furring", "battens": as names of files and addresses have it.
[[nodiscard]] std::string_view name_of(drawing::Shown shown);
[[nodiscard]] std::optional<drawing::Shown> shown_of(std::string_view name);

/// The drawing of one panel of the rung's frame, with the rung in its caption.
[[nodiscard]] drawing::Sheet elevation_sheet(const assembly::House& house, const answer::RungAnswer& rung,
                                             const framing::Panel& panel, drawing::Shown shown,
                                             bool inch_pound_first);

/// What a live page's folds ask for. One thread sets it, any may ask.
class Elevations {
public:
    /// `house` and the framed rungs of `answer` from now on.
    void set(std::shared_ptr<const assembly::House> house, const answer::Answer& answer);
    /// SVG to stand in the page; nothing for a rung, panel or layer of members that is not there.
    [[nodiscard]] std::optional<std::string> svg(std::string_view rung, std::size_t panel,
                                                 std::string_view shown) const;

private:
    struct Framed {
        std::shared_ptr<const assembly::House> house;
        answer::Answer answer;  ///< of its rungs only names and frames
    };
    mutable std::mutex guard_;
    std::shared_ptr<const Framed> framed_;
};

}  // namespace warmside::report
