#include "report/takeoff_files.h"

#include <fmt/format.h>
#include <xlsxwriter.h>

#include <algorithm>
#include <ctime>
#include <memory>

#include "report/csv.h"
#include "units/quantity.h"

namespace warmside::report {
namespace {

using takeoff::CutPlan;
using takeoff::Item;
using takeoff::Order;
using takeoff::Pattern;
using takeoff::SheetPlan;

constexpr int length_decimals = 4;
// 1 January 2000: any fixed date would do, so that equal orders give equal bytes.
constexpr std::time_t fixed_date = 946684800;

/// Inches where whole in 64ths, else mm: what the saw is set to.
std::string saw_text(units::Exact length) {
    constexpr std::int64_t sixty_fourth = 3175;
    if (length.count() % sixty_fourth == 0) return units::inches(length.metres(), 64);
    return fmt::format("{:.1f} mm", length.metres() * 1e3);
}

std::string pieces_text(const CutPlan& plan, const Pattern& pattern) {
    std::string out;
    for (std::size_t i = 0; i < pattern.cut.size(); ++i) {
        if (pattern.cut[i] == 0) continue;
        out += fmt::format("{}{} x {}", out.empty() ? "" : " + ", pattern.cut[i],
                           saw_text(plan.pieces[i].length));
    }
    return out;
}

struct Close {
    void operator()(lxw_workbook* book) const { workbook_close(book); }
};

/// Writes cell after cell, row after row.
class Table {
public:
    Table(lxw_workbook* book, const char* name, lxw_format* head) : head_(head) {
        sheet_ = workbook_add_worksheet(book, name);
    }
    void columns(std::initializer_list<std::pair<const char*, double>> names) {
        for (const auto& [name, width] : names) {
            worksheet_set_column(sheet_, column_, column_, width, nullptr);
            worksheet_write_string(sheet_, row_, column_++, name, head_);
        }
        worksheet_freeze_panes(sheet_, 1, 0);
        end_row();
    }
    Table& text(const std::string& cell) {
        worksheet_write_string(sheet_, row_, column_++, cell.c_str(), nullptr);
        return *this;
    }
    Table& number(double cell, lxw_format* format) {
        worksheet_write_number(sheet_, row_, column_++, cell, format);
        return *this;
    }
    void end_row() {
        ++row_;
        column_ = 0;
    }

private:
    lxw_worksheet* sheet_ = nullptr;
    lxw_format* head_ = nullptr;
    lxw_row_t row_ = 0;
    lxw_col_t column_ = 0;
};

struct Formats {
    lxw_format *head, *whole, *two, *four, *percent;
    explicit Formats(lxw_workbook* book)
        : head(workbook_add_format(book)),
          whole(workbook_add_format(book)),
          two(workbook_add_format(book)),
          four(workbook_add_format(book)),
          percent(workbook_add_format(book)) {
        format_set_bold(head);
        format_set_num_format(whole, "0");
        format_set_num_format(two, "0.00");
        format_set_num_format(four, "0.0000");
        format_set_num_format(percent, "0.0 %");
    }
};

void write_order(lxw_workbook* book, const Formats& formats, const Order& order) {
    Table table(book, "Order", formats.head);
    table.columns({{"kind", 11},
                   {"what", 44},
                   {"count", 9},
                   {"package", 28},
                   {"net", 11},
                   {"waste", 9},
                   {"gross", 11},
                   {"unit", 7},
                   {"waste from", 60},
                   {"price key", 30}});
    for (const Item& item : order.items) {
        table.text(item.kind).text(item.name).number(item.count, formats.whole).text(item.package);
        table.number(item.net, formats.two)
            .number(item.waste, formats.percent)
            .number(item.gross, formats.two);
        table.text(item.unit).text(item.waste_source).text(item.price_key).end_row();
    }
}

void write_cuts(lxw_workbook* book, const Formats& formats, const Order& order) {
    Table table(book, "Cutting plan", formats.head);
    table.columns(
        {{"lumber", 34}, {"stick", 9}, {"from", 14}, {"pieces", 60}, {"rest", 14}, {"rest, m", 10}});
    for (const CutPlan& plan : order.lumber) {
        int stick = 0;
        for (const Pattern& pattern : plan.patterns) {
            for (int n = 0; n < pattern.times; ++n) {
                table.text(plan.name).number(++stick, formats.whole);
                table.text(saw_text(plan.stock[pattern.stock].length)).text(pieces_text(plan, pattern));
                table.text(saw_text(pattern.rest)).number(pattern.rest.metres(), formats.four).end_row();
            }
        }
    }
}

void write_pieces(lxw_workbook* book, const Formats& formats, const Order& order) {
    Table table(book, "Pieces", formats.head);
    table.columns({{"lumber", 34}, {"length", 14}, {"length, m", 10}, {"count", 8}, {"which", 100}});
    // A cell of a workbook holds at most 32,767 characters.
    constexpr std::size_t longest = 32'000;
    for (const CutPlan& plan : order.lumber) {
        for (const auto& piece : plan.pieces) {
            table.text(plan.name).text(saw_text(piece.length)).number(piece.length.metres(), formats.four);
            table.number(piece.count, formats.whole).text(piece.mark.substr(0, longest)).end_row();
        }
    }
}

void write_sheets(lxw_workbook* book, const Formats& formats, const Order& order) {
    Table table(book, "Sheet plan", formats.head);
    table.columns(
        {{"material", 30}, {"sheet", 8}, {"x", 12}, {"y", 12}, {"width", 12}, {"height", 12}, {"for", 40}});
    for (const SheetPlan& plan : order.sheets) {
        for (const auto& placed : plan.placed) {
            const auto& piece = plan.pieces[placed.piece];
            table.text(plan.name).number(static_cast<double>(placed.sheet + 1), formats.whole);
            table.text(saw_text(placed.x)).text(saw_text(placed.y));
            table.text(saw_text(placed.turned ? piece.height : piece.width));
            table.text(saw_text(placed.turned ? piece.width : piece.height)).text(piece.mark).end_row();
        }
    }
}

void write_notes(lxw_workbook* book, const Formats& formats, const Order& order) {
    Table table(book, "Notes", formats.head);
    table.columns({{"note", 110}});
    for (const CutPlan& plan : order.lumber)
        table
            .text(fmt::format("{}: {}", plan.name,
                              plan.proven
                                  ? std::string("no plan needs less lumber (proven)")
                                  : fmt::format("at most {:.3f} % above the least", 100.0 * plan.gap())))
            .end_row();
    for (const std::string& note : order.notes) table.text(note).end_row();
}

Result<void> write_book(const Order& order, const std::string& title, const std::string& path) {
    std::unique_ptr<lxw_workbook, Close> book(workbook_new(path.c_str()));
    if (!book) return fail(Code::input_output, "the workbook cannot be made");
    std::string name = title;
    lxw_doc_properties properties{};
    properties.title = name.data();
    properties.created = fixed_date;
    workbook_set_properties(book.get(), &properties);
    const Formats formats(book.get());
    write_order(book.get(), formats, order);
    write_cuts(book.get(), formats, order);
    write_pieces(book.get(), formats, order);
    write_sheets(book.get(), formats, order);
    write_notes(book.get(), formats, order);
    if (const lxw_error error = workbook_close(book.release()); error != LXW_NO_ERROR)
        return fail(Code::input_output,
                    fmt::format("the workbook cannot be written: {}", lxw_strerror(error)));
    return {};
}

}  // namespace

std::string order_csv(const Order& order) {
    Csv csv;
    for (const char* name :
         {"kind", "what", "price_key", "net", "waste", "gross", "unit", "count", "package", "waste_source"})
        csv.cell(name);
    csv.end_row();
    for (const Item& item : order.items) {
        csv.cell(item.kind).cell(item.name).cell(item.price_key).cell(item.net, length_decimals);
        csv.cell(item.waste, length_decimals).cell(item.gross, length_decimals).cell(item.unit);
        csv.cell(item.count, 0).cell(item.package).cell(item.waste_source).end_row();
    }
    return csv.take();
}

std::string cuts_csv(const Order& order) {
    Csv csv;
    for (const char* name :
         {"plan", "pattern", "sticks", "stick_m", "piece_m", "pieces_in_stick", "which", "rest_m"})
        csv.cell(name);
    csv.end_row();
    for (const CutPlan& plan : order.lumber) {
        int number = 0;
        for (const Pattern& pattern : plan.patterns) {
            ++number;
            for (std::size_t i = 0; i < pattern.cut.size(); ++i) {
                if (pattern.cut[i] == 0) continue;
                csv.cell(plan.name).cell(number, 0).cell(pattern.times, 0);
                csv.cell(plan.stock[pattern.stock].length.metres(), length_decimals + 3);
                csv.cell(plan.pieces[i].length.metres(), length_decimals + 3).cell(pattern.cut[i], 0);
                csv.cell(plan.pieces[i].mark).cell(pattern.rest.metres(), length_decimals + 3).end_row();
            }
        }
    }
    return csv.take();
}

std::string sheets_csv(const Order& order) {
    Csv csv;
    for (const char* name : {"plan", "sheet", "x_m", "y_m", "width_m", "height_m", "turned", "which"})
        csv.cell(name);
    csv.end_row();
    for (const SheetPlan& plan : order.sheets) {
        for (const auto& placed : plan.placed) {
            const auto& piece = plan.pieces[placed.piece];
            const auto width = placed.turned ? piece.height : piece.width;
            const auto height = placed.turned ? piece.width : piece.height;
            csv.cell(plan.name).cell(static_cast<double>(placed.sheet + 1), 0);
            for (const auto length : {placed.x, placed.y, width, height})
                csv.cell(length.metres(), length_decimals + 3);
            csv.cell(placed.turned ? "yes" : "no").cell(piece.mark).end_row();
        }
    }
    return csv.take();
}

Result<void> takeoff_xlsx(const Order& order, const std::string& title, const std::string& path) {
    try {
        return write_book(order, title, path);
    } catch (const std::exception& error) {
        return fail(Code::input_output, fmt::format("the workbook cannot be written: {}", error.what()));
    }
}

}  // namespace warmside::report
