#include "app/house.h"

#include "app/files.h"
#include "project/read.h"

namespace warmside::app {

bool read_prices(const std::string& path, LoadedHouse& loaded) {
    auto text = read_file(path);
    if (!text) {
        loaded.problems.push_back(text.error());
        return false;
    }
    loaded.price_path = path;
    loaded.price_text = std::move(*text);
    auto book = takeoff::read_price_book(path, loaded.price_text, loaded.problems, &takeoff::demo_prices());
    if (!book) return false;
    loaded.prices = std::make_shared<const takeoff::PriceBook>(std::move(*book));
    return true;
}

LoadedHouse load_house(const std::string& path) {
    LoadedHouse loaded;
    auto text = read_file(path);
    if (!text) {
        loaded.problems.push_back(text.error());
        return loaded;
    }
    loaded.text = std::move(*text);
    auto reading = project::read_house(path, loaded.text);
    loaded.problems = std::move(reading.problems);
    if (!reading.house) return loaded;
    if (!reading.house->weather_file.empty()) {
        const auto weather_path = beside(path, reading.house->weather_file);
        auto weather = read_file(weather_path).and_then([&](std::string bytes) {
            loaded.weather_text = std::move(bytes);
            return climate::read_weather(weather_path, loaded.weather_text, loaded.problems);
        });
        if (!weather) {
            loaded.problems.push_back(weather.error());
            return loaded;
        }
        loaded.weather = std::move(*weather);
    }
    if (!reading.house->prices.empty() && !read_prices(beside(path, reading.house->prices), loaded))
        return loaded;
    loaded.house = std::move(reading.house);
    return loaded;
}

std::string render_all(const LoadedHouse& loaded) {
    std::string out;
    for (const auto& problem : loaded.problems) {
        // A line of a weather file is thousands of figures; its number and column name say enough.
        const bool of_house = loaded.weather_text.empty() || problem.where.file.ends_with(".toml");
        const bool of_prices = !loaded.price_path.empty() && problem.where.file == loaded.price_path;
        out += render(problem, of_prices  ? std::string_view(loaded.price_text)
                               : of_house ? std::string_view(loaded.text)
                                          : std::string_view{});
    }
    return out;
}

}  // namespace warmside::app
