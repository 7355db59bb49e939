#pragma once
// The visitors a Mapping is handed (see Mapping.h).
#include "core/store/mapping/Codec.h"
#include "core/store/mapping/Mapping.h"

#include <QSqlQuery>
#include <QVariantList>

#include <vector>

namespace kitround::store {

// A row's values in the order of the columns, and each list's rows.
struct RowImage {
    QVariantList values;
    std::vector<std::vector<QVariantList>> lists;
    friend bool operator==(const RowImage &, const RowImage &) = default;
};

struct NameVisitor {
    std::vector<QString> names;
    template <class T>
    void operator()(const char *name, T &) {
        names.push_back(QString::fromLatin1(name));
    }
    template <class P>
    void point(const char *latitude, const char *longitude, P &) {
        names.push_back(QString::fromLatin1(latitude));
        names.push_back(QString::fromLatin1(longitude));
    }
};
struct ListNames {
    QString table;
    std::vector<QString> columns;
};
struct ListNameVisitor {
    std::vector<ListNames> found;
    template <class Vector, class Columns>
    void list(const char *table, Vector &, Columns columns) {
        typename Vector::value_type example{};
        NameVisitor visitor;
        columns(visitor, example);
        found.push_back({QString::fromLatin1(table), std::move(visitor.names)});
    }
};

struct PutVisitor {
    QVariantList values;
    template <class T>
    void operator()(const char *, const T &field) {
        values.push_back(Codec<T>::put(field));
    }
    void point(const char *, const char *, const std::optional<GeoPoint> &point) {
        values.push_back(point ? QVariant(point->latitude) : QVariant());
        values.push_back(point ? QVariant(point->longitude) : QVariant());
    }
};
struct PutListVisitor {
    std::vector<std::vector<QVariantList>> lists;
    template <class Vector, class Columns>
    void list(const char *, const Vector &elements, Columns columns) {
        std::vector<QVariantList> &rows = lists.emplace_back();
        rows.reserve(elements.size());
        for (const auto &element : elements) {
            PutVisitor visitor;
            columns(visitor, element);
            rows.push_back(std::move(visitor.values));
        }
    }
};
template <class R>
RowImage imageOf(const R &record) {
    PutVisitor fields;
    Mapping<R>::columns(fields, record);
    PutListVisitor lists;
    Mapping<R>::lists(lists, record);
    return {std::move(fields.values), std::move(lists.lists)};
}

// Reads columns from `at` on; `bad` names the first that could not be read.
struct TakeVisitor {
    const QSqlQuery &row;
    int at = 0;
    const char *bad = nullptr;
    template <class T>
    void operator()(const char *name, T &field) {
        if (!Codec<T>::take(row.value(at++), field) && !bad)
            bad = name;
    }
    void point(const char *name, const char *, std::optional<GeoPoint> &point) {
        std::optional<double> latitude, longitude;
        (*this)(name, latitude);
        (*this)(name, longitude);
        point.reset();
        if (latitude && longitude)
            point = GeoPoint{*latitude, *longitude};
    }
};
// Appends the row's element to the list number `wanted`.
struct TakeListVisitor {
    TakeVisitor fields;
    std::size_t wanted;
    std::size_t seen = 0;
    template <class Vector, class Columns>
    void list(const char *, Vector &elements, Columns columns) {
        if (seen++ == wanted)
            columns(fields, elements.emplace_back());
    }
};

// Which rows of other tables the record names.
struct Reference {
    std::string field;
    const char *table;
    std::int64_t id;
};
struct ReferenceVisitor {
    std::vector<Reference> found;
    template <class T>
    void operator()(const char *, const T &) {}
    template <class Tag>
    void operator()(const char *name, const Id<Tag> &id) {
        if (id.isSet())
            found.push_back({name, kTableOf<Tag>, id.value()});
    }
    template <class Tag>
    void operator()(const char *name, const std::optional<Id<Tag>> &id) {
        if (id)
            found.push_back({name, kTableOf<Tag>, id->value()});
    }
    void point(const char *, const char *, const std::optional<GeoPoint> &) {}
    template <class Vector, class Columns>
    void list(const char *, const Vector &elements, Columns columns) {
        for (const auto &element : elements)
            columns(*this, element);
    }
};
template <class R>
std::vector<Reference> referencesOf(const R &record) {
    ReferenceVisitor visitor;
    Mapping<R>::columns(visitor, record);
    Mapping<R>::lists(visitor, record);
    return std::move(visitor.found);
}

} // namespace kitround::store
