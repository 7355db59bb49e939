#pragma once
// The bricks of validate(): each looks at one fact of one field and adds a Problem where it does not hold.
// Private to this folder.
#include "core/base/Date.h"
#include "core/base/Id.h"
#include "core/base/Problem.h"
#include "core/base/Quantity.h"
#include "core/records/People.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace kitround {

class Checks {
public:
    Problems take() { return std::move(found_); }
    // Problems found from now on carry this 1-based place in a list; 0 ends it.
    void atRow(std::size_t row) { row_ = static_cast<int>(row); }

    void add(ProblemCode code, std::string_view field, std::vector<std::string> args = {});
    // Lengths are counted in characters of UTF-8; text of blanks only is empty.
    void text(std::string_view field, const std::string &value, std::size_t most);
    void requiredText(std::string_view field, const std::string &value, std::size_t most);
    void range(std::string_view field, std::int64_t value, std::int64_t least, std::int64_t most);
    // Below zero says so (Negative); above `most` is OutOfRange.
    void countTo(std::string_view field, std::int64_t value, std::int64_t most);
    void real(std::string_view field, double value, double least, double most);
    void minuteOfDay(std::string_view field, Minutes minute); // 0..1439
    void moment(std::string_view field, LocalTime at) { minuteOfDay(field, at.minute); }
    void moment(std::string_view field, const std::optional<LocalTime> &at);
    // Clock times of one day, `to` exclusive and up to 24:00.
    void stretch(std::string_view fromField, Minutes from, std::string_view toField, Minutes to);
    void notEmpty(std::string_view field, bool isEmpty);

    template <class Tag>
    void known(std::string_view field, Id<Tag> id) {
        notEmpty(field, !id.isSet());
    }
    // `end` may equal `start`.
    void endNotBefore(std::string_view field, Date start, const std::optional<Date> &end);
    void endAfter(std::string_view field, Date start, Date end);
    void endNotBefore(std::string_view field, LocalTime start, const std::optional<LocalTime> &end);
    void languages(const std::vector<std::string> &tags);
    void address(const Address &address);

    template <class T>
    void noTwice(std::string_view field, const std::vector<T> &values) {
        for (std::size_t i = 0; i < values.size(); ++i)
            for (std::size_t j = 0; j < i; ++j)
                if (values[i] == values[j]) {
                    atRow(i + 1);
                    add(ProblemCode::Duplicate, field);
                    atRow(0);
                    break;
                }
    }
    template <class List, class Check>
    void each(const List &list, Check check) {
        for (std::size_t i = 0; i < list.size(); ++i) {
            atRow(i + 1);
            check(list[i]);
        }
        atRow(0);
    }

private:
    Problems found_;
    int row_ = 0;
};

} // namespace kitround
