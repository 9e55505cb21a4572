#include "framing/frame.h"

namespace warmside::framing {

namespace {

struct RoleRow {
    const char* name;
    const char* mark;
    Region region;
};

const RoleRow& row_of(Role role) {
    // In the order of Role.
    static const std::array<RoleRow, 27> rows{{
        {"bottom plate", "BP", Region::plates},
        {"top plate", "TP", Region::plates},
        {"stud", "S", Region::field},
        {"king stud", "K", Region::openings},
        {"jack stud", "J", Region::openings},
        {"cripple above", "CA", Region::field},
        {"cripple below", "CB", Region::field},
        {"header", "H", Region::openings},
        {"header filler", "HF", Region::openings},
        {"sill", "SL", Region::openings},
        {"corner stud", "C", Region::corners},
        {"partition backing", "B", Region::field},
        {"blocking", "BL", Region::field},
        {"fire block", "FB", Region::field},
        {"furring", "F", Region::none},
        {"batten", "BT", Region::none},
        {"buck", "BK", Region::openings},
        {"rim board", "R", Region::none},
        {"joist", "JO", Region::none},
        {"bearing beam", "BB", Region::none},
        {"rafter", "RA", Region::none},
        {"ridge", "RI", Region::none},
        {"hip", "HP", Region::none},
        {"valley", "VA", Region::none},
        {"ceiling joist", "CJ", Region::none},
        {"lookout", "LO", Region::none},
        {"truss", "T", Region::none},
    }};
    return rows[static_cast<std::size_t>(role)];
}

}  // namespace

const char* name_of(Role role) {
    return row_of(role).name;
}

const char* mark_of(Role role) {
    return row_of(role).mark;
}

Region region_of(Role role) {
    return row_of(role).region;
}

}  // namespace warmside::framing
