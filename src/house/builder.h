// How build() goes about it. Inner part of build.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "assembly/geometry.h"
#include "house/build.h"
#include "house/ground_contact.h"
#include "house/outdoors.h"
#include "house/rooms.h"

namespace warmside::house {

class Builder {
public:
    Builder(const BuildInput& input, const RoomData& data);
    [[nodiscard]] Result<Building> all();

private:
    using Owners = std::vector<Share>;
    /// A chain between two places.
    struct Stand {
        std::string name;
        double area = 0.0;
        std::size_t zone = 0;
        std::size_t beyond = none, boundary = none;
        Owners owners;
    };

    // build.cpp
    void add_rooms();
    void add_mass();
    void add_air();
    void add_junctions();
    [[nodiscard]] Result<void> add_walls();
    [[nodiscard]] Result<void> add_wall(const assembly::Face& face, double net);
    [[nodiscard]] Result<void> add_openings();
    void add_sun(const OpeningSun& sun, std::size_t element);

    // build_top.cpp
    [[nodiscard]] Result<void> add_roofs();
    [[nodiscard]] Result<void> add_roof(const assembly::Roof& roof, const assembly::RoofArea& area);
    [[nodiscard]] Result<void> add_attic(const assembly::Roof& roof, const assembly::RoofArea& area,
                                         const assembly::Assembly& ceiling);
    [[nodiscard]] Result<void> add_slopes(const assembly::Roof& roof, const assembly::RoofArea& area,
                                          const assembly::Assembly& roofing);

    // build_bottom.cpp
    [[nodiscard]] Result<void> add_floors();
    [[nodiscard]] Result<void> add_floor(const assembly::Floor& floor, double area);
    [[nodiscard]] Result<void> add_slab(const assembly::Floor& floor, double area, double depth);
    [[nodiscard]] Result<void> add_heated_basement(const assembly::Foundation& foundation, double area);
    [[nodiscard]] Result<void> add_hung_floor(const assembly::Floor& floor, double area);
    [[nodiscard]] Result<void> add_floor_over_space(const assembly::Floor& floor, double area);
    [[nodiscard]] Result<std::size_t> lower_space(const assembly::Floor& floor,
                                                  const assembly::Foundation* foundation, double area);
    [[nodiscard]] Result<void> add_ground_floor(std::size_t zone, const Chain& layers, double area,
                                                double perimeter, double wall_thickness, double depth,
                                                const std::string& name);
    [[nodiscard]] Result<void> add_ground_wall(std::size_t zone, const Chain& wall, double width,
                                               double depth, double floor_equivalent,
                                               const std::string& name);
    [[nodiscard]] Result<void> add_bare_wall(std::size_t zone, const Chain& wall, double area,
                                             const std::string& name);

    // build_parts.cpp
    [[nodiscard]] Result<Chain> chain(const assembly::Assembly& assembly);
    [[nodiscard]] const assembly::Assembly* built(const std::string& name, assembly::Part part) const;
    [[nodiscard]] std::size_t outside(const Outer& outer);
    void put(const Chain& chain, Stand stand);
    void put(const GroundContact& contact, Stand stand);
    void link(Link link, Owners owners);
    [[nodiscard]] Series outdoor_air() const;
    [[nodiscard]] static Owners framed(Loss::Kind kind, const std::string& name, const Chain& chain);
    [[nodiscard]] static Owners whole(Loss::Kind kind, const std::string& name);
    [[nodiscard]] Soil soil(const assembly::Foundation* foundation) const;
    [[nodiscard]] const assembly::Foundation* foundation(assembly::Foundation::Kind kind) const;
    [[nodiscard]] assembly::Assembly boards(assembly::Part part, double tilt,
                                            std::vector<std::pair<const char*, double>> layers) const;
    void note(std::string text);
    [[nodiscard]] bool steady() const { return in_.design.has_value(); }
    [[nodiscard]] bool heated(const std::string& storey) const;

    const BuildInput& in_;
    const RoomData& data_;
    const assembly::House& house_;
    assembly::Areas areas_;
    Building out_;
    std::vector<std::pair<Outer, std::size_t>> outers_;  // with their boundary
    std::vector<std::pair<std::string, Chain>> chains_;  // by assembly
    const assembly::Storey* lowest_ = nullptr;
    double grade_ = 0.0;      // m, level of the ground outside, in the storeys' levels
    double perimeter_ = 0.0;  // m, of the lowest storey's outline
};

/// The element's films: inside and beyond in their convective part; what of 1/R is above the radiant part.
inline constexpr double radiant_film = 5.13;  ///< W/(m2 K), ISO 52016-1:2017 annex B (memory)
[[nodiscard]] double convective_part(double film);

}  // namespace warmside::house
