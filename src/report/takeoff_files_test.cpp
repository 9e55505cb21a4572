#include "report/takeoff_files.h"

#include <doctest/doctest.h>
#include <unistd.h>
#include <zlib.h>

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <string>

#include "report/frame_files.h"

namespace {

using namespace warmside;
using units::Exact;

takeoff::Order made_up() {
    takeoff::Order order;
    order.items.push_back({.kind = "lumber",
                           .name = "2x6 spruce-pine-fir Stud, 8 ft",
                           .price_key = "2x6",
                           .net = 4.0,
                           .waste = 0.03,
                           .waste_source = "culls, \"by eye\"",
                           .gross = 4.8768,
                           .unit = "m",
                           .count = 2.0,
                           .package = "piece of 2.438 m"});
    takeoff::CutPlan plan;
    plan.name = "2x6 spruce-pine-fir Stud";
    plan.pieces = {{Exact::sixty_fourths_of_inch(60 * 64), 2, "S1 & S2 (south)"},
                   {Exact::millimetres(400), 2, "X"}};
    plan.stock = {{Exact::sixty_fourths_of_inch(96 * 64)}};
    plan.patterns = {{0, {1, 1}, 2, Exact::millimetres(511)}};
    plan.cost = plan.bound = 4.8768;
    plan.proven = true;
    order.lumber.push_back(plan);
    auto sheets =
        takeoff::sheet_plan("osb 7/16 in", {{Exact::millimetres(600), Exact::millimetres(900), 2}},
                            Exact::millimetres(1220), Exact::millimetres(2440), Exact::millimetres(3));
    order.sheets.push_back(std::move(*sheets));
    order.notes = {"no boxes <in> the order"};
    return order;
}

std::uint32_t number(const std::string& bytes, std::size_t at, int size) {
    std::uint32_t value = 0;
    for (int i = size - 1; i >= 0; --i)
        value = value << 8 | static_cast<unsigned char>(bytes.at(at + static_cast<std::size_t>(i)));
    return value;
}

std::string inflated(const std::string& packed, std::size_t size) {
    std::string out(size, '\0');
    z_stream stream{};
    REQUIRE(inflateInit2(&stream, -MAX_WBITS) == Z_OK);
    std::string in = packed;
    stream.next_in = reinterpret_cast<Bytef*>(in.data());
    stream.avail_in = static_cast<uInt>(in.size());
    stream.next_out = reinterpret_cast<Bytef*>(out.data());
    stream.avail_out = static_cast<uInt>(out.size());
    CHECK(inflate(&stream, Z_FINISH) == Z_STREAM_END);
    inflateEnd(&stream);
    return out;
}

/// The members of a ZIP archive by its central directory (PKWARE APPNOTE 4.3.12, 4.3.16).
std::map<std::string, std::string> unzip(const std::string& bytes) {
    std::map<std::string, std::string> out;
    const std::size_t end = bytes.rfind("PK\x05\x06");
    REQUIRE(end != std::string::npos);
    std::size_t at = number(bytes, end + 16, 4);
    for (std::uint32_t n = number(bytes, end + 10, 2); n > 0; --n) {
        REQUIRE(bytes.compare(at, 4, "PK\x01\x02") == 0);
        const std::uint32_t method = number(bytes, at + 10, 2), packed = number(bytes, at + 20, 4);
        const std::uint32_t size = number(bytes, at + 24, 4), name = number(bytes, at + 28, 2);
        const std::size_t local = number(bytes, at + 42, 4);
        const std::size_t data = local + 30 + number(bytes, local + 26, 2) + number(bytes, local + 28, 2);
        const std::string content = bytes.substr(data, packed);
        out[bytes.substr(at + 46, name)] = method == 0 ? content : inflated(content, size);
        at += 46 + name + number(bytes, at + 30, 2) + number(bytes, at + 32, 2);
    }
    return out;
}

/// The bytes of a workbook that was written to a file of its own.
std::string workbook() {
    std::string path = (std::filesystem::temp_directory_path() / "warmside-test-XXXXXX").string();
    const int file = mkstemp(path.data());
    REQUIRE(file >= 0);
    close(file);
    const auto done = report::takeoff_xlsx(made_up(), "a house, w2", path);
    std::ifstream in(path, std::ios::binary);
    std::string bytes{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    std::filesystem::remove(path);
    REQUIRE(done);
    return bytes;
}

}  // namespace

TEST_CASE("an order as CSV: a header, CR LF, quotes doubled (RFC 4180)") {
    const std::string csv = report::order_csv(made_up());
    CHECK(csv ==
          "kind,what,price_key,net,waste,gross,unit,count,package,waste_source\r\n"
          "lumber,\"2x6 spruce-pine-fir Stud, 8 ft\",2x6,4.0000,0.0300,4.8768,m,2,piece of 2.438 m,"
          "\"culls, \"\"by eye\"\"\"\r\n");
}

TEST_CASE("cutting and sheet plans as CSV name every piece") {
    CHECK(report::cuts_csv(made_up()) ==
          "plan,pattern,sticks,stick_m,piece_m,pieces_in_stick,which,rest_m\r\n"
          "2x6 spruce-pine-fir Stud,1,2,2.4384000,1.5240000,1,S1 & S2 (south),0.5110000\r\n"
          "2x6 spruce-pine-fir Stud,1,2,2.4384000,0.4000000,1,X,0.5110000\r\n");
    const std::string sheets = report::sheets_csv(made_up());
    CHECK(std::count(sheets.begin(), sheets.end(), '\n') == 3);
    CHECK(sheets.find("osb 7/16 in,1,0.0000000,0.0000000,0.6000000,0.9000000,no,\r\n") != std::string::npos);
}

TEST_CASE(
    "boxes as CSV: place and size in the panel, what holds them, whether they pierce the airtight layer") {
    framing::Panel panel{.name = "south"};
    panel.members.push_back({.mark = "S4"});
    panel.boxes.push_back({.name = "receptacle 1",
                           .kind = assembly::BoxKind::wall_switch,
                           .title = "a box",
                           .box = {{units::Exact::millimetres(100), units::Exact::millimetres(300), {}},
                                   {units::Exact::millimetres(150), units::Exact::millimetres(380),
                                    units::Exact::millimetres(89)}},
                           .pierces_airtight = true,
                           .mark = "E1"});
    CHECK(
        report::boxes_csv({.panels = {panel}}) ==
        "panel,mark,name,kind,body,u_m,v_m,w_m,along_u_m,along_v_m,along_w_m,held_by,own_block,inner_cavity,"
        "pierces_airtight\r\n"
        "south,E1,receptacle 1,switch,a "
        "box,0.100000,0.300000,0.000000,0.050000,0.080000,0.089000,S4,no,no,yes\r\n");
}

TEST_CASE("the workbook reads back: sheets, texts and numbers; equal orders give equal bytes") {
    const std::string book = workbook();
    auto files = unzip(book);
    CHECK(files.at("xl/workbook.xml").find("name=\"Cutting plan\"") != std::string::npos);
    CHECK(files.at("xl/workbook.xml").find("name=\"Sheet plan\"") != std::string::npos);
    const std::string& texts = files.at("xl/sharedStrings.xml");
    for (const char* text :
         {"2x6 spruce-pine-fir Stud, 8 ft", "1 x 60 in + 1 x 400.0 mm", "S1 &amp; S2 (south)",
          "no boxes &lt;in&gt; the order", "no plan needs less lumber (proven)"})
        CHECK_MESSAGE(texts.find(text) != std::string::npos, text);
    // Net, of the first item, is the fifth cell of the second row.
    CHECK(files.at("xl/worksheets/sheet1.xml").find("<c r=\"E2\" s=\"3\"><v>4</v></c>") != std::string::npos);
    // Two equal sticks are two rows.
    CHECK(files.at("xl/worksheets/sheet2.xml").find("<row r=\"3\"") != std::string::npos);
    CHECK(files.at("xl/worksheets/sheet2.xml").find("<row r=\"4\"") == std::string::npos);
    CHECK(files.at("docProps/core.xml").find("2000-01-01T00:00:00Z") != std::string::npos);
    CHECK(workbook() == book);
}

TEST_CASE("a workbook that cannot be written is a problem") {
    const auto done = report::takeoff_xlsx(made_up(), "a house, w2", "no such folder/book.xlsx");
    REQUIRE_FALSE(done);
    CHECK(done.error().code == Code::input_output);
}
