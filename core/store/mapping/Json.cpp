#include "core/store/mapping/Json.h"

#include <cstdio>

namespace kitround::store {
namespace {

void appendText(QByteArray &json, const QByteArray &utf8) {
    json += '"';
    for (char c : utf8) {
        switch (c) {
        case '"':
            json += "\\\"";
            break;
        case '\\':
            json += "\\\\";
            break;
        case '\n':
            json += "\\n";
            break;
        case '\r':
            json += "\\r";
            break;
        case '\t':
            json += "\\t";
            break;
        default:
            if (static_cast<unsigned char>(c) < 0x20) {
                char escaped[8];
                std::snprintf(escaped, sizeof escaped, "\\u%04x", static_cast<unsigned>(c));
                json += escaped;
            } else {
                json += c;
            }
        }
    }
    json += '"';
}

void appendValue(QByteArray &json, const QVariant &value) {
    if (value.isNull())
        json += "null";
    else if (value.typeId() == QMetaType::LongLong)
        json += QByteArray::number(value.toLongLong());
    else if (value.typeId() == QMetaType::Double)
        json += QByteArray::number(value.toDouble(), 'g', 17);
    else
        appendText(json, value.toString().toUtf8());
}

void appendFields(QByteArray &json, const std::vector<QString> &columns, const QVariantList &values) {
    for (std::size_t i = 0; i < columns.size(); ++i) {
        if (i > 0)
            json += ',';
        json += '"';
        json += columns[i].toLatin1();
        json += "\":";
        appendValue(json, values[static_cast<qsizetype>(i)]);
    }
}

} // namespace

QByteArray jsonText(const QString &text) {
    QByteArray json;
    appendText(json, text.toUtf8());
    return json;
}

QByteArray jsonOf(const TableSql &table, const RowImage &image) {
    QByteArray json;
    json.reserve(512);
    json += '{';
    appendFields(json, table.columns, image.values);
    for (std::size_t i = 0; i < table.lists.size(); ++i) {
        if (image.lists[i].empty())
            continue;
        json += ",\"";
        json += table.lists[i].table.toLatin1();
        json += "\":[";
        for (std::size_t row = 0; row < image.lists[i].size(); ++row) {
            json += row > 0 ? ",{" : "{";
            appendFields(json, table.lists[i].columns, image.lists[i][row]);
            json += '}';
        }
        json += ']';
    }
    json += '}';
    return json;
}

} // namespace kitround::store
