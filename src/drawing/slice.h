// A plane through a solved conduction model: what stands in it, temperatures and heat flow.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "conduction/model.h"
#include "conduction/steady.h"
#include "drawing/contour.h"
#include "drawing/display.h"

namespace warmside::drawing {

/// Which plane is looked at. In two dimensions there is only one, and `at` is not read.
struct Cut {
    std::size_t across = 0, up = 1;  ///< axes of the model (0 x, 1 y, 2 z) that run to the right and up
    double at = 0.0;                 ///< m, along the third axis
    bool upside_down = false;        ///< the second axis runs downwards
};

/// m along the two axes of a cut.
struct Window {
    double left = 0.0, right = 0.0, bottom = 0.0, top = 0.0;
    [[nodiscard]] double width() const { return right - left; }
    [[nodiscard]] double height() const { return top - bottom; }
    [[nodiscard]] bool holds(const Point& p) const {
        return p.x >= left && p.x <= right && p.y >= bottom && p.y <= top;
    }
};

/// A region where the plane cuts it.
struct Piece {
    std::uint16_t region = 0;
    std::vector<Point> outline;  ///< m, x across and y up
};

/// A straight piece of line between two regions that people tell apart.
struct Edge {
    Point from, to;
    enum class Kind {
        inner,
        surface,
        end
    } kind = Kind::inner;  ///< material-material, material-air, where the
                           ///< model ends
};

/// Heat flow density in the plane, W/m2; `size` counts the third direction too.
struct Flow {
    double across = 0.0, up = 0.0, size = 0.0;
};

/// Points are in m of the plane: x across, y up.
class Slice {
public:
    /// `model` and `solution` have to outlive it. temperatures [environment] K.
    Slice(const conduction::Model& model, const conduction::Steady& solution,
          std::span<const double> temperatures, const Cut& cut);

    [[nodiscard]] const Cut& cut() const { return cut_; }
    [[nodiscard]] const conduction::Model& model() const { return model_; }
    [[nodiscard]] const std::vector<Piece>& pieces() const { return pieces_; }
    /// Temperatures at the corners of the cells, on those cells that are of material, K.
    [[nodiscard]] const ScalarGrid& temperatures() const { return field_; }
    /// The region that has the say; conduction::no_region where there is none.
    [[nodiscard]] std::uint16_t region_at(const Point& p) const;
    [[nodiscard]] bool is_material(const Point& p) const;
    [[nodiscard]] std::optional<double> temperature(const Point& p) const;
    /// Between the corners of the cell, each the mean of the cells of one conductivity that meet there.
    [[nodiscard]] std::optional<Flow> flow(const Point& p) const;
    /// Sides of the cell at a point, m.
    [[nodiscard]] Point cell_size(const Point& p) const;
    /// All lines between regions of different `words` [region].
    [[nodiscard]] std::vector<Edge> edges(std::span<const std::string> words) const;
    /// Around all material.
    [[nodiscard]] Window whole() const;
    /// Around what matters: where the corners of materials are, and a margin, where the model reaches many
    /// times farther (ground, long legs of wall); else the whole.
    [[nodiscard]] Window worth_seeing() const;

private:
    [[nodiscard]] std::size_t column(double x) const;
    [[nodiscard]] std::size_t row(double y) const;
    [[nodiscard]] std::size_t cell_of(std::size_t i, std::size_t j) const;
    void cut_regions();
    void read_field(std::span<const double> temperatures);
    void carry_on();
    void read_flow(std::span<const double> temperatures);
    /// The cell at a point, or the filled one nearest to it: the rest of a cell that is mostly air.
    [[nodiscard]] std::optional<std::size_t> filled_near(const Point& p) const;
    /// Shares of the way through a cell, held within it.
    [[nodiscard]] Point within(std::size_t cell, const Point& p) const;

    const conduction::Model& model_;
    const conduction::Steady& solution_;
    Cut cut_;
    std::size_t third_ = 2, layer_ = 0;
    std::vector<Piece> pieces_;
    std::vector<Window> bounds_;  // of the pieces
    ScalarGrid field_;
    std::vector<std::array<Flow, 4>> flow_;  // [cell] at its corners: lower left, lower right, upper left ...
};

}  // namespace warmside::drawing
