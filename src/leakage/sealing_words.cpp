// What each kind of leak is called and what the crew does about it. Common practice, no source.
#include <array>

#include "leakage/sealing.h"

namespace warmside::leakage {

namespace {

struct Words {
    const char* name;
    const char* work;
};

constexpr std::array words{
    Words{"laps of the airtight layer", "tape every lap and end; press the tape down on something firm"},
    Words{"face without an airtight layer", "give it an airtight layer, or name the one it has"},
    Words{"sole plate joint", "gasket or bead under the plate; seal the airtight layer to the floor"},
    Words{"sill on the foundation", "sill gasket on a level wall, and a bead of sealant inside"},
    Words{"rim joist", "carry the airtight layer past the floor, or seal a block into each joist bay"},
    Words{"top plate joint", "seal the airtight layer to the plate, or carry it on over it"},
    Words{"joint of wall and ceiling",
          "lap the wall's airtight layer on the ceiling's and tape them together"},
    Words{"corner", "carry the layer round the corner with slack; tape its joint"},
    Words{"electrical box", "gasketed airtight box, or a collar taped to the layer; seal the wires in it"},
    Words{"pipe",
          "rubber collar taped to the layer, or a bead all round; plumbing stacks move, so no foam alone"},
    Words{"wire", "collar or sealant round each wire; none through one hole together"},
    Words{"duct", "collar taped to the layer; seal the duct's own seams up to there"},
    Words{"flue", "sheet metal and high-temperature sealant to the clearance that its maker asks"},
    Words{"hatch", "gasket all round, and latches that press the lid on it"},
    Words{"recessed light", "leave it out, or mount it below the airtight layer in a furred ceiling"},
    Words{"open hole", "close it with a sheet taped to the layer"},
    Words{"vent with a damper", "damper that shuts by itself; seal its sleeve to the layer"},
    Words{"window frame in the wall", "tape or backer rod and sealant between frame and layer, all round"},
    Words{"window's own crack", "good seals and a lock that draws them tight; fixed where it need not open"},
    Words{"door frame in the wall", "tape or backer rod and sealant between frame and layer, threshold too"},
    Words{"door's own crack", "seals on all four sides; set the threshold to them"},
};
static_assert(words.size() == static_cast<std::size_t>(SealKind::door) + 1);

}  // namespace

const char* name_of(SealKind kind) {
    return words[static_cast<std::size_t>(kind)].name;
}
const char* work_of(SealKind kind) {
    return words[static_cast<std::size_t>(kind)].work;
}

}  // namespace warmside::leakage
