// A house file with its weather, read and ready for the engine.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "answer/answer.h"
#include "assembly/assembly.h"
#include "base/result.h"

namespace warmside::app {

struct LoadedHouse {
    std::unique_ptr<assembly::House> house;            ///< null when there is an error
    std::optional<climate::Year> weather;              ///< when the house names a file
    std::shared_ptr<const takeoff::PriceBook> prices;  ///< when the house names a book; over the demo book
    std::string text;                                  ///< the house file, for messages
    std::string weather_text;
    std::string price_path, price_text;
    Problems problems;
};

/// Reads the file and, if it names them, its weather file and its price book (looked for beside it).
[[nodiscard]] LoadedHouse load_house(const std::string& path);

/// The price book at `path` into `loaded`, over the built-in demo book. False with a problem among
/// `loaded.problems` that leaves no book.
[[nodiscard]] bool read_prices(const std::string& path, LoadedHouse& loaded);

/// All problems for people, each with its line of the file it belongs to.
[[nodiscard]] std::string render_all(const LoadedHouse& loaded);

}  // namespace warmside::app
