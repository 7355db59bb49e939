#pragma once
// A table of one good record and ways to spoil it, each of which must be named, and nothing beside it.
#include "core/records/Validate.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace kitround::test {

template <class Record>
struct Spoiled {
    const char *how;
    void (*spoil)(Record &);
    ProblemCode code;
    std::string field;
    int row = 0;
};

template <class Record>
void expectEachNamed(const Record &good, const std::vector<Spoiled<Record>> &table) {
    const Problems none = validate(good);
    ASSERT_TRUE(none.empty()) << "the good record is refused: " << debugText(none.front());
    for (const Spoiled<Record> &row : table) {
        Record record = good;
        row.spoil(record);
        const Problems found = validate(record);
        ASSERT_EQ(found.size(), 1U) << row.how << (found.empty() ? "" : ": " + debugText(joined(found)));
        EXPECT_EQ(found[0].code, row.code) << row.how << ": " << debugText(found[0]);
        EXPECT_EQ(found[0].field, row.field) << row.how;
        EXPECT_EQ(found[0].row, row.row) << row.how;
    }
}

template <class Record>
void expectAllowed(const Record &good, const char *what, void (*change)(Record &)) {
    Record record = good;
    change(record);
    const Problems found = validate(record);
    EXPECT_TRUE(found.empty()) << what << ": " << debugText(found.front());
}

} // namespace kitround::test
