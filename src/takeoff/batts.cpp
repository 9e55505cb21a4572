#include "takeoff/batts.h"

#include <algorithm>
#include <cmath>

namespace warmside::takeoff {

namespace {

/// A piece to be cut, `width` across the batt.
struct Cut {
    Exact width, length;
};

class Filler {
public:
    Filler(const PackageSize& size, const BattRule& rule) : size_(size), rule_(rule) { out_.size = size; }

    void bay(const Bay& bay) {
        if (bay.across < rule_.least || bay.along < rule_.least) return;
        ++out_.bays;
        Exact left = bay.across;
        for (; left > size_.width; left = left - size_.width) column(size_.width, bay.along);
        if (left < rule_.least) return;
        const bool whole = left + rule_.squeeze >= size_.width;
        column(whole ? size_.width : std::min(size_.width, left + rule_.friction), bay.along);
    }

    BattPlan finish() {
        out_.cut = cuts_.size();
        out_.cut_from = pack();
        double area = static_cast<double>(out_.whole);
        for (const Cut& cut : cuts_)
            area += cut.width.metres() * cut.length.metres() / (size_.width.metres() * size_.length.metres());
        out_.bound = std::ceil(area - 1e-9);
        return out_;
    }

private:
    void column(Exact width, Exact along) {
        for (; along >= size_.length; along = along - size_.length) {
            if (width == size_.width)
                ++out_.whole;
            else
                cuts_.push_back({width, size_.length});
        }
        if (along >= rule_.least) cuts_.push_back(laid({width, along}));
    }
    /// Share of the batt's width that pieces side by side use.
    [[nodiscard]] double used(Exact width) const {
        return static_cast<double>(size_.width.count() / width.count()) * width.metres();
    }
    /// Wool has no direction: a piece lies the way that leaves less beside it.
    [[nodiscard]] Cut laid(const Cut& cut) const {
        const bool may = cut.length <= size_.width && cut.width <= size_.length;
        return may && used(cut.length) > used(cut.width) ? Cut{cut.length, cut.width} : cut;
    }

    std::size_t pack() {
        std::sort(cuts_.begin(), cuts_.end(), [](const Cut& a, const Cut& b) {
            return a.length != b.length ? a.length > b.length : a.width > b.width;
        });
        std::vector<Exact> rooms;  // along each batt
        std::vector<Exact> rows;   // across each row; rows come in order of their length
        for (const Cut& cut : cuts_) {
            const auto row =
                std::find_if(rows.begin(), rows.end(), [&](Exact room) { return room >= cut.width; });
            if (row != rows.end()) {
                *row = *row - cut.width;
                continue;
            }
            rows.push_back(size_.width - cut.width);
            auto batt =
                std::find_if(rooms.begin(), rooms.end(), [&](Exact room) { return room >= cut.length; });
            if (batt == rooms.end()) batt = rooms.insert(rooms.end(), size_.length);
            *batt = *batt - cut.length;
        }
        return rooms.size();
    }

    const PackageSize& size_;
    const BattRule& rule_;
    std::vector<Cut> cuts_;
    BattPlan out_;
};

}  // namespace

BattPlan fill_with_batts(const std::vector<Bay>& bays, const PackageSize& size, const BattRule& rule) {
    Filler filler(size, rule);
    for (const Bay& bay : bays) filler.bay(bay);
    return filler.finish();
}

const PackageSize* batt_for(const std::vector<PackageSize>& sizes, Exact bay) {
    const PackageSize* best = nullptr;
    const PackageSize* widest = nullptr;
    for (const PackageSize& size : sizes) {
        if (!widest || size.width > widest->width) widest = &size;
        if (size.width >= bay && (!best || size.width < best->width)) best = &size;
    }
    return best ? best : widest;
}

}  // namespace warmside::takeoff
