#include "project/read.h"

#include <algorithm>
#include <cctype>
#include <exception>
#include <fmt/format.h>
#include <numeric>
#include <tuple>

#include "base/embedded.h"
#include "project/draft.h"
#include "project/syntax.h"

namespace warmside::project {

namespace {

constexpr std::size_t most_problems = 200;

// Sorts by what `rank` gives, problems of equal rank in the order in which they were found.
template <class Rank>
void order_by(Problems& problems, Rank rank) {
    std::vector<std::size_t> order(problems.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return std::pair(rank(problems[a]), a) < std::pair(rank(problems[b]), b);
    });
    Problems sorted;
    sorted.reserve(problems.size());
    for (const std::size_t i : order) sorted.push_back(std::move(problems[i]));
    problems = std::move(sorted);
}

bool is_same(const Problem& a, const Problem& b) {
    return a.where == b.where && a.what == b.what;
}

void read_tables(Draft& draft, const toml::table& root) {
    read_front(draft, root);
    Section all(root, "file", "the file", draft.problems);
    all.finish();
    read_own_materials(draft, root);
    read_assemblies(draft, root);
    read_geometry(draft, root);
    read_practice(draft, root);
    read_services(draft, root);
    link(draft, root);
}

bool is_name(std::string_view name) {
    return !name.empty() && name.size() <= 60 && name.front() != ' ' && name.back() != ' ' &&
           std::none_of(name.begin(), name.end(), [](unsigned char c) {
               return c < 32 || c == 127 || c == '/' || c == '"' || c == '\\';
           });
}

}  // namespace

void tidy(Problems& problems, const std::string& file) {
    for (Problem& each : problems) {
        if (each.where.file.empty()) each.where.file = file;
    }
    const auto place = [](const Problem& p) { return std::pair(p.where.line, p.where.column); };
    order_by(problems, place);
    problems.erase(std::unique(problems.begin(), problems.end(), is_same), problems.end());
    if (problems.size() <= most_problems) return;
    const auto more = problems.size() - most_problems;
    // Errors first: cutting must not make a faulty file look sound.
    order_by(problems, [](const Problem& p) { return p.severity == Severity::error ? 0 : 1; });
    problems.resize(most_problems);
    order_by(problems, place);
    problems.push_back({.code = problems.front().code,
                        .severity = Severity::note,
                        .what = fmt::format("and {} more problems, not shown", more),
                        .where = {file, 0, 0}});
}

void each_named(Notes& draft, const toml::table& root, std::string_view kind, std::size_t most,
                const std::function<void(const std::string&, const toml::table&)>& read) {
    const auto* tables = root[kind].as_table();
    if (!tables) {
        if (root.contains(kind)) {
            draft.error(Code::wrong_type, fmt::format("{} is not a table of tables", kind),
                        units::place_of(*root.get(kind)), fmt::format("[{}.NAME]", kind));
        }
        return;
    }
    struct Entry {
        std::string name;
        const toml::node* node;
    };
    std::vector<Entry> entries;
    for (const auto& [key, node] : *tables) entries.push_back({std::string(key.str()), &node});
    std::sort(entries.begin(), entries.end(), [](const Entry& a, const Entry& b) {
        const auto at = [](const Entry& e) {
            const auto& begin = e.node->source().begin;
            return std::tuple(begin.line, begin.column, std::string_view(e.name));
        };
        return at(a) < at(b);
    });
    if (entries.size() > most) {
        draft.error(Code::out_of_range,
                    fmt::format("{} tables [{}.NAME], more than {}", entries.size(), kind, most),
                    units::place_of(*entries[most].node));
        entries.resize(most);
    }
    for (const Entry& entry : entries) {
        const auto* table = entry.node->as_table();
        if (!table) {
            draft.error(Code::wrong_type, fmt::format("{}.{} is not a table", kind, entry.name),
                        units::place_of(*entry.node), fmt::format("[{}.NAME]", kind));
        } else if (!is_name(entry.name)) {
            draft.error(Code::out_of_range,
                        fmt::format("\"{}\" cannot be a name, in [{}.NAME]", entry.name.substr(0, 60), kind),
                        units::place_of(*entry.node), "a name of 1 to 60 characters without / \\ or \"");
            draft.lost.insert(fmt::format("{}.{}", kind, entry.name));
        } else {
            read(entry.name, *table);
        }
    }
}

std::string listed(const std::vector<std::string>& known) {
    std::string out;
    for (std::size_t i = 0; i < known.size() && i < 10; ++i) out += (i > 0 ? ", " : "") + known[i];
    return known.size() > 10 ? out + ", ..." : out;
}

Reading read_house(std::string_view file_name, std::string_view text) {
    Reading reading;
    const std::string file(file_name);
    if (text.size() > most_bytes) {
        reading.problems.push_back(
            {.code = Code::out_of_range,
             .what = fmt::format("the file is {:.1f} MB; a house file has at most {:.0f} MB",
                                 static_cast<double>(text.size()) / 1e6, most_bytes / 1e6),
             .where = {file, 0, 0}});
        return reading;
    }
    auto house = std::make_unique<assembly::House>();
    house->catalogue = material::built_in();
    try {
        Tables tables = parse_tables(file, text);
        reading.problems = std::move(tables.problems);
        Draft draft{{.problems = reading.problems, .lost = std::move(tables.lost)}, *house};
        if (tables.root.contains("detail") && !tables.root.contains("house")) {
            draft.error(Code::unsupported, "this is a detail file, not a house file",
                        units::place_of(*tables.root.get("detail")), "warmside detail");
        } else if (!draft.lost.contains("*")) {
            read_tables(draft, tables.root);
        }
    } catch (const std::exception& slip) {
        // Nothing here throws but the allocator; a file that exhausts it must not end the program.
        reading.problems.push_back({.code = Code::syntax,
                                    .what = fmt::format("the file cannot be read: {}", slip.what()),
                                    .where = {file, 0, 0}});
    }
    tidy(reading.problems, file);
    if (usable(reading.problems)) reading.house = std::move(house);
    return reading;
}

std::string_view starter() {
    return embedded::find("examples/starter.toml").value_or(std::string_view{});
}

}  // namespace warmside::project
