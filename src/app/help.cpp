#include "app/help.h"

#include <array>
#include <string>
#include <utility>

namespace warmside::app {

namespace {

constexpr std::string_view overview_text =
    R"(warmside - what a super-insulated wall, roof or floor is worth, and whether it stays dry

Write your house as one text file, then ask:

  warmside new FILE             a commented starter house file
  warmside answer HOUSE.toml    the whole job: each rung of each ladder, worth and dryness
  warmside heat HOUSE.toml      what each assembly is worth, framing included
  warmside dry HOUSE.toml       whether it stays dry, hour by hour, for years, and why
  warmside detail DETAIL.toml   a joint, bracket or edge that you draw yourself: flows, temperatures
  warmside frame HOUSE.toml     the members of its walls, floors and roofs, placed and checked
  warmside takeoff HOUSE.toml   what to buy, how to cut it, what it costs
  warmside why HOUSE.toml PATH  how one figure came about
  warmside open HOUSE.toml      a page in your browser that follows the file as you edit it
  warmside places [WORD]        the places whose weather is built in
  warmside materials [WORD]     the materials, membranes and lumber that are built in
  warmside proof [ID]           recompute the published checks on this machine

Each takes --help, --json and --strict. Inch-pound and SI stand side by side.

Exit: 0 done, 1 failed under --strict, 2 the input has a problem, 3 no solution.

First-order engineering aid. Local code and a licensed professional decide.
)";

constexpr std::string_view common_options =
    R"(  --json          one JSON document on standard output, SI units
  --strict        exit 1 when a verdict is not "dry", a check fails or the house file draws a warning
)";

struct Help {
    std::string_view command, head, own_options, tail;
};

constexpr std::array helps{
    Help{"answer",
         R"(warmside answer - the whole job: what each rung is worth, and whether it stays dry

Usage: warmside answer HOUSE.toml [--out DIR] [--rung NAME] [--causes] [options]

)",
         R"(  --out DIR       also write report.html and answer.json there (the folder is made)
  --rung NAME     only this rung
  --causes        also what wets each assembly, the rain leak that it survives and what helps most,
                  found by running it again: some seconds more a rung
)",
         R"(
Exit: 0 done, 1 failed under --strict, 2 the input has a problem, 3 no solution.
Example: warmside answer examples/heron-ridge/house.toml --out out/heron-ridge
)"},
    Help{"heat",
         R"(warmside heat - what an assembly is worth, framing included

Usage: warmside heat HOUSE.toml [--rung NAME] [--out DIR] [options]

Layer by layer with the conductivity used and where it comes from, then the R stair: from the
R printed on the packages down to what the wall is worth.

)",
         R"(  --rung NAME     only this rung
  --out DIR       also write there pictures of temperatures and of heat flow (SVG and PNG)
  --dark          PNG light on dark; an SVG follows its reader
)",
         R"(
Exit: 0 done, 1 failed under --strict, 2 the input has a problem, 3 no solution.
Example: warmside heat examples/heron-ridge/house.toml --rung w3
)"},
    Help{"dry",
         R"(warmside dry - whether an assembly stays dry, and why

Usage: warmside dry HOUSE.toml [--rung NAME] [--out DIR] [options]

Three years hour by hour: north and the face with most driving rain, bay and framing, the place's
year and a colder, damper, rainier one. The worst decides; the answer says what it rests on.
Ctrl-C leaves the rungs that are judged: printed, and written if there is a DIR.

)",
         R"(  --rung NAME     only this rung
  --no-causes     the verdict alone, quicker: not what wets the assembly, the rain leak that it survives
                  and the change that helps most
  --years N       length of each run, 2 to 20; 3 without it
  --out DIR       also write there, for each rung, pictures of the run that decides (SVG and PNG:
                  humidity over depth and time, moisture of each layer) and verdicts.csv
  --temperature   the picture of temperature over depth and time too
  --dark          PNG light on dark; an SVG follows its reader
  --csv           tables too: the faces of the layers, and the moisture of each layer, hour by hour
  --depth D       this depth from the inner face in place of the faces: "120 mm", "4 3/4 in"; again
                  for more
  --every TIME    means over "1 day", "1 week" or any whole hours in place of each hour
  --run WORDS     pictures and tables of all runs that have these words in their names, such as
                  "north framing stressed"
)",
         R"(
Exit: 0 done, 1 failed under --strict, 2 the input has a problem, 3 no solution.
Example: warmside dry examples/heron-ridge/house.toml --rung w3
)"},
    Help{"detail",
         R"(warmside detail - heat through a joint, bracket or edge that you draw yourself

Usage: warmside detail DETAIL.toml [--out DIR] [--tolerance SHARE] [options]

Rectangles, polygons or boxes with their materials, the air that they face, and points whose
temperature you want; docs/detail.md has the keys. The grid is refined until the heat flows are
within the tolerance. Coupling coefficients, flows, the coldest surface of each air with its
temperature factor, and how far off the figures may be.

)",
         R"(  --out DIR       also write there pictures of temperatures and of heat flow, SVG and PNG
  --tolerance S   in place of the file's: "0.1 %", 0.001 % to 10 %
  --dark          PNG light on dark; an SVG follows its reader
)",
         R"(
Exit: 0 done, 1 the detail file draws a warning (with --strict), 2 the input has a problem,
3 no solution.
Example: warmside detail examples/details/eave.toml --out out/eave
)"},
    Help{"frame",
         R"(warmside frame - every member of walls, floors and roofs, placed; and does it carry?

Usage: warmside frame HOUSE.toml [--rung NAME] [--out DIR] [options]

Studs on their module from each corner, plates, kings, jacks, headers, sills, cripples, corners,
backing, furring, battens, joists, rafters or trusses; how much of the face is wood; then each check
that the loads of the house file allow, with its rule. First order: local code and a licensed
professional decide.

)",
         R"(  --rung NAME     only this rung
  --out DIR       also write there a framing elevation of each wall, floor and roof, and of each wall's
                  furring and battens (SVG and PNG), RUNG-members.csv and RUNG-boxes.csv
  --dark          PNG light on dark; an SVG follows its reader
)",
         R"(
Exit: 0 done, 1 a check fails (with --strict), 2 the input has a problem, 3 no solution.
Example: warmside frame examples/heron-ridge/house.toml --rung w3 --out out/frame
)"},
    Help{"takeoff",
         R"(warmside takeoff - what to buy, how to cut it, what it costs

Usage: warmside takeoff HOUSE.toml [--rung NAME] [--prices BOOK.toml] [--out DIR] [options]

Lumber by section, grade and stock length with the cheapest way to cut it (proven, or how far it may
be off), sheets, insulation, membranes, tape, fasteners, with the waste that is added; then the cost
of the whole frame, floors and roofs too. Prices that come with the program are invented.

)",
         R"(  --rung NAME     only this rung
  --prices BOOK   a price book of your own, over the built-in one (docs/prices.md)
  --out DIR       also write there the order and the cuts of each rung as CSV and XLSX
)",
         R"(
Exit: 0 done, 2 the input has a problem or a price is missing, 3 no solution.
Example: warmside takeoff examples/heron-ridge/house.toml --rung w3 --out out/takeoff
)"},
    Help{"why",
         R"(warmside why - how one figure came about: equation, inputs, where each comes from

Usage: warmside why HOUSE.toml [PATH] [options]

PATH is a figure's place in the answer. Without PATH, all paths are listed.

)",
         "",
         R"(
Exit: 0 done, 2 the input has a problem, 3 no solution.
Example: warmside why examples/heron-ridge/house.toml ladder/wall/w3/clear_r
)"},
    Help{"new",
         R"(warmside new - a commented starter house file

Usage: warmside new FILE [options]

Nothing is overwritten: a file that is there already is an error.

)",
         "",
         R"(
Exit: 0 done, 2 the file is there already or cannot be written.
Example: warmside new my-house.toml
)"},
    Help{"places",
         R"(warmside places - the places whose weather is built in, with sources

Usage: warmside places [WORD] [options]

)",
         "",
         R"(
Exit: 0 done, 1 nothing found (with --strict).
Example: warmside places minnesota
)"},
    Help{"materials",
         R"(warmside materials - the materials, membranes and lumber that are built in, with sources

Usage: warmside materials [WORD] [options]

)",
         "",
         R"(
Exit: 0 done, 1 nothing found (with --strict).
Example: warmside materials wool
)"},
    Help{"proof",
         R"(warmside proof - recompute the published checks on this machine

Usage: warmside proof [ID] [options]

Each row is one value of a standard, handbook or paper, what this program gets, the tolerance and
how well the value is known: seen, quoted, memory, computed or practice; transcribed where value and
data come from one copy of a table. Only seen and quoted count as validation; computed is
verification. A value that we miss stays in the list as a known gap.

)",
         R"(  ID              only checks whose id begins so, such as moisture or thermal/hof27
  --all           every row in the terminal, not only those that do not pass
)",
         R"(
Exit: 0 done, 1 a check fails (with --strict), 3 a check could not be run.
Example: warmside proof air
)"},
    Help{"open",
         R"(warmside open - a page in your browser that follows the house file as you edit it

Usage: warmside open HOUSE.toml [--port N] [options]

Prints its address and serves it to this machine only, until Ctrl-C. Save the file in your editor:
steady figures come first, then the carpets as they are computed, then the verdicts.

)",
         R"(  --port N        the port to use; any free one without it
)",
         R"(
Exit: 0 stopped by you, 2 the input has a problem.
Example: warmside open examples/heron-ridge/house.toml
)"},
};

}  // namespace

std::string_view overview() {
    return overview_text;
}

std::string_view help_of(std::string_view command) {
    // Joined once; a help text lives as long as the program.
    static const auto texts = [] {
        std::array<std::pair<std::string_view, std::string>, helps.size()> joined;
        for (std::size_t i = 0; i < helps.size(); ++i) {
            joined[i] = {helps[i].command, std::string(helps[i].head) + std::string(helps[i].own_options) +
                                               std::string(common_options) + std::string(helps[i].tail)};
        }
        return joined;
    }();
    for (const auto& [name, text] : texts) {
        if (name == command) return text;
    }
    return {};
}

}  // namespace warmside::app
