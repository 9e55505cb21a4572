// Order, cutting plans and sheet plans as files: CSV for scripts, one XLSX workbook for people.
#pragma once

#include <string>

#include "base/result.h"
#include "takeoff/quantities.h"

namespace warmside::report {

/// One row an item: kind, name, price key, net, waste, gross, unit, count, package, source of the waste. SI.
[[nodiscard]] std::string order_csv(const takeoff::Order& order);

/// One row a piece of a pattern: plan, pattern, how many sticks, stick length (m), piece length (m), how many
/// in a stick, what the piece is, rest of the stick (m).
[[nodiscard]] std::string cuts_csv(const takeoff::Order& order);

/// One row a placed piece: plan, sheet, its corner and size (m), turned, what it is.
[[nodiscard]] std::string sheets_csv(const takeoff::Order& order);

/// The same as a workbook with the sheets "Order", "Cutting plan" (each stick; inches where a length is whole
/// in 64ths, else mm), "Pieces", "Sheet plan" and "Notes". The bytes depend on the order alone: the date
/// inside is fixed.
///
/// The library writes to a path only, so this is the one place outside of app that a file is opened in: at a
/// path that app has made for it and moves to its place when all is well (write_file_with, app/files.h). On a
/// Problem what lies at `path` is worth nothing. The library keeps its parts in unnamed temporary files
/// meanwhile.
///
/// title    of the document, "Heron Ridge house, w2"
/// path     of a file that may be overwritten
/// Problem  input_output (no memory, no room, no such folder)
/// Source   Office Open XML by libxlsxwriter
[[nodiscard]] Result<void> takeoff_xlsx(const takeoff::Order& order, const std::string& title,
                                        const std::string& path);

}  // namespace warmside::report
