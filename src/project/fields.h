// Every key of the house file, once: the reader, the suggestions and docs/house-file.md come from this table.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "units/quantity.h"
#include "units/reader.h"

namespace warmside::project {

/// One key of one kind of table.
struct Field {
    enum class Kind {
        text,
        flag,
        integer,
        quantity,
        length,
        word,
        level,
        month,
        pitch,
        corner,
        corners,
        pair,
        texts,
        table,
        list,
        range,
        point,
        price,
        amount,
        clock
    };
    std::string_view table;  ///< "assembly", "layer"
    std::string_view key;
    Kind kind = Kind::text;
    bool required = false;
    std::string_view standard;  ///< what holds when the key is absent, for people; empty: nothing
    std::string_view meaning;   ///< one phrase
    const units::Dimension* dimension = nullptr;  ///< kinds quantity and level
    units::Limits limits = {};                    ///< SI; kinds quantity, length, level and integer
    std::string_view words = {};                  ///< kinds word and level, separated by commas
    std::string_view example = {};                ///< how it is written, where it is needed
};

/// One kind of table: `[assembly.NAME]`.
struct Chapter {
    std::string_view table;    ///< as in Field
    std::string_view heading;  ///< how it is written
    std::string_view about;    ///< one sentence
};

[[nodiscard]] std::span<const Chapter> chapters();
[[nodiscard]] std::span<const Field> fields();
/// Those of them that say how the house is lived in, heated, ventilated and paid for.
[[nodiscard]] std::vector<Field> service_fields();
/// The same of the detail file (detail.h); the names of its tables begin with "detail".
[[nodiscard]] std::span<const Chapter> detail_chapters();
[[nodiscard]] std::span<const Field> detail_fields();
/// The keys of one kind of table of either file.
[[nodiscard]] std::vector<const Field*> fields_of(std::string_view table);
/// Null when the table has no such key.
[[nodiscard]] const Field* field(std::string_view table, std::string_view key);
/// The words of a field.
[[nodiscard]] std::vector<std::string> words_of(const Field& field);

/// The table of docs/house-file.md or docs/detail.md for one kind of table, Markdown.
[[nodiscard]] std::string describe_fields(std::string_view table);

}  // namespace warmside::project
