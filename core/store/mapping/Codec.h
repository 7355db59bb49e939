#pragma once
// How one field stands in one column. put() gives what is bound, take() reads it back and is false where the
// file says something the type cannot hold.
#include "core/base/Date.h"
#include "core/base/Id.h"
#include "core/base/Quantity.h"
#include "core/store/mapping/Words.h"

#include <QString>
#include <QVariant>

#include <array>
#include <cstring>
#include <optional>
#include <string>
#include <type_traits>

namespace kitround::store {

// ISO text without a detour through the heap; empty where it is not plain ASCII or too long.
class AsciiText {
public:
    explicit AsciiText(const QString &text) {
        if (text.size() > qsizetype(bytes_.size()))
            return;
        for (QChar c : text) {
            if (c.unicode() > 127) {
                size_ = 0;
                return;
            }
            bytes_[size_++] = static_cast<char>(c.unicode());
        }
    }
    std::string_view view() const { return {bytes_.data(), size_}; }

private:
    std::array<char, 24> bytes_{};
    std::size_t size_ = 0;
};

template <class T>
struct Codec;

template <>
struct Codec<std::string> {
    static QVariant put(const std::string &value) { return QString::fromStdString(value); }
    static bool take(const QVariant &column, std::string &value) {
        value = column.toString().toStdString();
        return column.typeId() == QMetaType::QString;
    }
};

template <class T>
requires std::is_integral_v<T>
struct Codec<T> {
    static QVariant put(T value) { return QVariant::fromValue(static_cast<qlonglong>(value)); }
    static bool take(const QVariant &column, T &value) {
        value = static_cast<T>(column.toLongLong());
        return column.typeId() == QMetaType::LongLong;
    }
};

template <>
struct Codec<double> {
    static QVariant put(double value) { return value; }
    static bool take(const QVariant &column, double &value) {
        value = column.toDouble();
        return column.typeId() == QMetaType::Double;
    }
};

template <class E>
requires std::is_enum_v<E>
struct Codec<E> {
    static QVariant put(E value) { return QString(wordOf(value)); }
    static bool take(const QVariant &column, E &value) {
        const std::optional<E> found = enumOf<E>(column.toString());
        value = found.value_or(E{});
        return found.has_value();
    }
};

template <class Tag>
struct Codec<Quantity<Tag>> {
    static QVariant put(Quantity<Tag> value) { return QVariant::fromValue(qlonglong(value.count())); }
    static bool take(const QVariant &column, Quantity<Tag> &value) {
        value = Quantity<Tag>::of(column.toLongLong());
        return column.typeId() == QMetaType::LongLong;
    }
};

template <class Tag>
struct Codec<Id<Tag>> { // an unset id is NULL: a column that must have one says so
    static QVariant put(Id<Tag> value) {
        return value.isSet() ? QVariant(qlonglong(value.value())) : QVariant();
    }
    static bool take(const QVariant &column, Id<Tag> &value) {
        value = Id<Tag>(column.toLongLong());
        return column.isNull() || column.typeId() == QMetaType::LongLong;
    }
};

template <>
struct Codec<PackSize> {
    static QVariant put(PackSize value) { return Codec<Eaches>::put(value.eachesPerCase); }
    static bool take(const QVariant &column, PackSize &value) {
        return Codec<Eaches>::take(column, value.eachesPerCase);
    }
};

template <class S> // sets that know their bits
requires std::is_same_v<S, WeekdaySet> || std::is_same_v<S, SkillSet>
struct Codec<S> {
    static QVariant put(S value) { return QVariant::fromValue(qlonglong(value.bits())); }
    static bool take(const QVariant &column, S &value) {
        value = S::fromBits(static_cast<unsigned>(column.toUInt()));
        return column.typeId() == QMetaType::LongLong;
    }
};

template <>
struct Codec<Date> {
    static QVariant put(Date value) { return QString::fromStdString(value.toIso()); }
    static bool take(const QVariant &column, Date &value) {
        const auto read = Date::fromIso(AsciiText(column.toString()).view());
        value = read.value_or(Date());
        return read.has_value();
    }
};

template <>
struct Codec<LocalTime> {
    static QVariant put(LocalTime value) { return QString::fromStdString(toIso(value)); }
    static bool take(const QVariant &column, LocalTime &value) {
        const auto read = localTimeFromIso(AsciiText(column.toString()).view());
        value = read.value_or(LocalTime{});
        return read.has_value();
    }
};

template <>
struct Codec<Instant> {
    static QVariant put(Instant value) { return QString::fromStdString(value.toIso()); }
    static bool take(const QVariant &column, Instant &value) {
        const auto read = Instant::fromIso(AsciiText(column.toString()).view());
        value = read.value_or(Instant());
        return read.has_value();
    }
};

template <class T>
struct Codec<std::optional<T>> {
    static QVariant put(const std::optional<T> &value) { return value ? Codec<T>::put(*value) : QVariant(); }
    static bool take(const QVariant &column, std::optional<T> &value) {
        if (column.isNull()) {
            value.reset();
            return true;
        }
        return Codec<T>::take(column, value.emplace());
    }
};

} // namespace kitround::store
