// Two-dimensional plan of straight through cuts: free rectangles that are split at each placed piece
// (guillotine heuristics; common practice in nesting, no source), many rules tried, the best kept.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <fmt/format.h>
#include <numeric>
#include <optional>
#include <tuple>

#include "takeoff/cutting.h"

namespace warmside::takeoff {

namespace {

/// Sizes with one kerf added, so that pieces side by side leave room for the saw.
struct Size {
    std::int64_t width = 0, height = 0;
    [[nodiscard]] double area() const { return static_cast<double>(width) * static_cast<double>(height); }
};
struct Free {
    std::size_t sheet = 0;
    std::int64_t x = 0, y = 0;
    Size size;
};

enum class Order { area, long_side, height, width, perimeter };
enum class Fit { least_area, short_side, long_side, lowest };
enum class Split { shorter_rest, longer_rest, across, along };
struct Rules {
    Order order;
    Fit fit;
    Split split;
    bool turn_first;  ///< pieces that may turn lie down first
};

struct Attempt {
    std::vector<PlacedRectangle> placed;
    std::size_t sheets = 0;
    double largest_rest = 0.0;  ///< area of the largest free rectangle: of two plans with as many sheets the
                                ///< one with the more useful offcut is kept
};

std::int64_t key_of(const Size& size, Order order) {
    switch (order) {
        case Order::area: return static_cast<std::int64_t>(size.area() / 1024.0);
        case Order::long_side: return std::max(size.width, size.height);
        case Order::height: return size.height;
        case Order::width: return size.width;
        case Order::perimeter: return size.width + size.height;
    }
    return 0;
}

/// Smaller is better.
std::tuple<double, double, double> score(const Free& place, const Size& piece, Fit fit) {
    const auto over_width = static_cast<double>(place.size.width - piece.width);
    const auto over_height = static_cast<double>(place.size.height - piece.height);
    const auto sheet = static_cast<double>(place.sheet);
    switch (fit) {
        case Fit::least_area:
            return {place.size.area() - piece.area(), std::min(over_width, over_height), sheet};
        case Fit::short_side:
            return {std::min(over_width, over_height), std::max(over_width, over_height), sheet};
        case Fit::long_side:
            return {std::max(over_width, over_height), std::min(over_width, over_height), sheet};
        case Fit::lowest: return {sheet, static_cast<double>(place.y), static_cast<double>(place.x)};
    }
    return {};
}

class Cutter {
public:
    Cutter(const std::vector<Size>& sizes, const std::vector<bool>& may_turn, Size sheet, Rules rules)
        : sizes_(sizes), may_turn_(may_turn), sheet_(sheet), rules_(rules) {}

    Attempt run(std::vector<std::size_t> order) {
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            const auto left = key_of(sizes_[a], rules_.order), right = key_of(sizes_[b], rules_.order);
            return left != right ? left > right : sizes_[a].area() > sizes_[b].area();
        });
        for (const std::size_t piece : order) place(piece);
        for (const Free& free : free_) out_.largest_rest = std::max(out_.largest_rest, free.size.area());
        return std::move(out_);
    }

private:
    struct Choice {
        std::size_t free = 0;
        bool turned = false;
        std::tuple<double, double, double> score;
    };

    [[nodiscard]] Size turned(std::size_t piece, bool turn) const {
        const Size& size = sizes_[piece];
        return turn ? Size{size.height, size.width} : size;
    }
    void consider(std::size_t piece, bool turn, std::optional<Choice>& best) const {
        const Size size = turned(piece, turn);
        for (std::size_t f = 0; f < free_.size(); ++f) {
            if (free_[f].size.width < size.width || free_[f].size.height < size.height) continue;
            const auto its = score(free_[f], size, rules_.fit);
            if (!best || its < best->score) best = Choice{f, turn, its};
        }
    }
    void place(std::size_t piece) {
        std::optional<Choice> best;
        const bool first = rules_.turn_first && may_turn_[piece];
        consider(piece, first, best);
        if (may_turn_[piece]) consider(piece, !first, best);
        if (!best) {
            free_.push_back({out_.sheets++, 0, 0, sheet_});
            const Size upright = turned(piece, first);
            const bool fits = upright.width <= sheet_.width && upright.height <= sheet_.height;
            best = Choice{free_.size() - 1, fits ? first : !first, {}};
        }
        const Free target = free_[best->free];
        free_.erase(free_.begin() + static_cast<std::ptrdiff_t>(best->free));
        out_.placed.push_back({target.sheet, piece, Exact::eighths_of_micrometre(target.x),
                               Exact::eighths_of_micrometre(target.y), best->turned});
        split(target, turned(piece, best->turned));
    }
    /// The rest beside the piece and the rest above it; one of them gets the corner.
    void split(const Free& target, const Size& piece) {
        const std::int64_t over_width = target.size.width - piece.width;
        const std::int64_t over_height = target.size.height - piece.height;
        bool corner_above = false;
        switch (rules_.split) {
            case Split::shorter_rest: corner_above = over_width < over_height; break;
            case Split::longer_rest: corner_above = over_width >= over_height; break;
            case Split::across: corner_above = true; break;
            case Split::along: corner_above = false; break;
        }
        const Size beside{over_width, corner_above ? piece.height : target.size.height};
        const Size above{corner_above ? target.size.width : piece.width, over_height};
        if (beside.width > 0) free_.push_back({target.sheet, target.x + piece.width, target.y, beside});
        if (above.height > 0) free_.push_back({target.sheet, target.x, target.y + piece.height, above});
    }

    const std::vector<Size>& sizes_;
    const std::vector<bool>& may_turn_;
    Size sheet_;
    Rules rules_;
    std::vector<Free> free_;
    Attempt out_;
};

std::vector<Rules> all_rules() {
    std::vector<Rules> out;
    for (const Order order : {Order::area, Order::long_side, Order::height, Order::width, Order::perimeter})
        for (const Fit fit : {Fit::least_area, Fit::short_side, Fit::long_side, Fit::lowest})
            for (const Split split : {Split::shorter_rest, Split::longer_rest, Split::across, Split::along})
                for (const bool turn_first : {false, true}) out.push_back({order, fit, split, turn_first});
    return out;
}

Result<void> check(const SheetPlan& plan) {
    if (plan.sheet_width <= Exact{} || plan.sheet_height <= Exact{} || plan.kerf < Exact{})
        return fail(Code::out_of_range, fmt::format("{}: the sheet needs a size", plan.name));
    for (const Rectangle& piece : plan.pieces) {
        const bool sized = piece.width > Exact{} && piece.height > Exact{} && piece.count >= 0;
        const bool upright = piece.width <= plan.sheet_width && piece.height <= plan.sheet_height;
        const bool lying =
            piece.may_turn && piece.height <= plan.sheet_width && piece.width <= plan.sheet_height;
        if (sized && (upright || lying)) continue;
        const std::string mark = piece.mark.empty() ? std::string("a piece") : piece.mark;
        return fail(Code::out_of_range,
                    fmt::format("{}: {} of {} x {} does not come out of a sheet of {} x {}", plan.name, mark,
                                units::millimetres(piece.width.metres(), 1),
                                units::millimetres(piece.height.metres(), 1),
                                units::millimetres(plan.sheet_width.metres(), 1),
                                units::millimetres(plan.sheet_height.metres(), 1)));
    }
    return {};
}

double area_of(Exact width, Exact height) {
    return width.metres() * height.metres();
}

}  // namespace

Result<SheetPlan> sheet_plan(std::string name, std::vector<Rectangle> pieces, Exact width, Exact height,
                             Exact kerf, const Control& control) {
    SheetPlan plan{.name = std::move(name),
                   .sheet_width = width,
                   .sheet_height = height,
                   .kerf = kerf,
                   .pieces = std::move(pieces)};
    if (auto good = check(plan); !good) return fail(std::move(good).error());
    std::vector<Size> sizes;
    std::vector<bool> may_turn;
    std::vector<std::size_t> order;
    double area = 0.0;
    for (std::size_t i = 0; i < plan.pieces.size(); ++i) {
        const Rectangle& piece = plan.pieces[i];
        sizes.push_back({(piece.width + kerf).count(), (piece.height + kerf).count()});
        may_turn.push_back(piece.may_turn);
        order.insert(order.end(), static_cast<std::size_t>(piece.count), i);
        area += piece.count * area_of(piece.width, piece.height);
    }
    if (order.empty()) return plan;
    // Less a little, so that pieces that fill their sheets exactly are not rounded up to one more.
    plan.bound = std::ceil(area / area_of(width, height) - 1e-9);

    const Size sheet{(width + kerf).count(), (height + kerf).count()};
    std::optional<Attempt> best;
    for (const Rules& rules : all_rules()) {
        if (control.stop.stopped()) return fail(Code::stopped, fmt::format("{}: stopped", plan.name));
        Attempt attempt = Cutter(sizes, may_turn, sheet, rules).run(order);
        if (best && std::tuple(attempt.sheets, -attempt.largest_rest) >=
                        std::tuple(best->sheets, -best->largest_rest))
            continue;
        best = std::move(attempt);
        if (static_cast<double>(best->sheets) <= plan.bound) break;
    }
    plan.placed = std::move(best->placed);
    std::stable_sort(plan.placed.begin(), plan.placed.end(),
                     [](const PlacedRectangle& a, const PlacedRectangle& b) { return a.sheet < b.sheet; });
    plan.sheets = best->sheets;
    plan.used = area / (static_cast<double>(plan.sheets) * area_of(width, height));
    return plan;
}

}  // namespace warmside::takeoff
