// Writes the items of a sealing plan. Inner part of sealing_plan.
#pragma once

#include "assembly/geometry.h"
#include "leakage/sealing.h"

namespace warmside::leakage {

class SealingList {
public:
    SealingList(const assembly::House& house, const assembly::Assembly& wall, const ComponentTable& table,
                SealingPlan& out);
    [[nodiscard]] bool any_storey() const { return !faces_.empty(); }
    void walls(const std::vector<framing::Panel>& panels);
    void boxes(const std::optional<std::vector<BoxInWall>>& boxes);
    void tops();    ///< ceilings and roofs
    void floors();  ///< over crawl spaces, basements and the open
    void penetrations();
    void vents();

private:
    /// A face of a heated storey.
    struct Wall {
        const assembly::Face* face = nullptr;
        const assembly::Storey* storey = nullptr;
        const assembly::Assembly* assembly = nullptr;
        double length = 0.0, net = 0.0;  ///< m, m2 with the gable, without openings
        bool sealed = false, concrete = false;
    };
    SealItem& add(SealKind kind, std::string_view row, double quantity, std::string what, bool sealed,
                  bool stands_in = false);
    SealItem& add(SealKind kind, std::string_view row, double quantity, std::string what, const Wall& wall,
                  bool stands_in = false);
    void note(Severity severity, std::string what, Place where);
    void field(const Wall& wall, const std::vector<framing::Panel>& panels);
    void bottom(const Wall& wall);
    void top(const Wall& wall);
    void openings(const Wall& wall);
    void sheet(const assembly::Assembly* assembly, std::string_view part, double area,
               std::string_view open_row);
    [[nodiscard]] bool lowest(const assembly::Storey& storey) const;
    [[nodiscard]] bool heated_above(const assembly::Storey& storey) const;
    [[nodiscard]] bool under_roof(const assembly::Storey& storey) const;
    /// The floor under the lowest storey, where it is over no ground.
    [[nodiscard]] const assembly::Floor* raised_floor() const;

    const assembly::House& house_;
    const ComponentTable& table_;
    SealingPlan& out_;
    std::vector<Wall> faces_;
    assembly::Areas areas_;
    bool top_sealed_ = true;
};

}  // namespace warmside::leakage
