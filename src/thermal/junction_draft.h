// What the drawings of junctions share: layers, members and air put down in painter's order.
#pragma once

#include <string>
#include <utility>

#include "thermal/junction.h"

namespace warmside::thermal {

/// m that a side is drawn away from the middle of a junction: 1 m or three times the thickness (ISO 10211).
[[nodiscard]] double reach(double thickness);

/// m of outside air that is drawn along an outer surface.
inline constexpr double air_strip = 0.02;

class Draft {
public:
    explicit Draft(JunctionKind kind, std::string name = {});

    /// m2 K/W; `film` on each surface that it touches.
    std::size_t air(std::size_t environment, conduction::Shape shape, double film);
    /// conductivity  W/(m K)
    std::size_t lay(std::string name, conduction::Shape shape, double conductivity);
    /// As `lay`, and left out where the junction is wanted without its members.
    std::size_t member(std::string name, conduction::Shape shape, double conductivity);
    /// As `lay`, a part of a window.
    std::size_t glazing(std::string name, conduction::Shape shape, double conductivity);
    void own_film(std::size_t region, double film) { out_.model.regions[region].own_film = film; }

    /// Sheets `from` to `to` of an upright build-up whose inner face is at x = 0, between two heights.
    void upright(const Buildup& wall, std::size_t from, std::size_t to, double low, double high);
    void upright(const Buildup& wall, double low, double high) {
        upright(wall, 0, wall.sheets.size(), low, high);
    }

    /// A member through each structural sheet of an upright wall.
    void plates(const Buildup& wall, const std::string& name, double low, double high);

    JunctionDrawing& out() { return out_; }
    [[nodiscard]] JunctionDrawing done() && { return std::move(out_); }

private:
    JunctionDrawing out_;
};

}  // namespace warmside::thermal
