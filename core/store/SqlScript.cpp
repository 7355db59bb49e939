#include "core/store/SqlScript.h"

#include <QRegularExpression>

namespace kitround::store {
namespace {

// The index after a string, quoted name or comment that starts at `at`; `at` itself where none does.
qsizetype afterQuoted(const QString &script, qsizetype at) {
    const QChar c = script[at];
    if (c == u'\'' || c == u'"') {
        const qsizetype end = script.indexOf(c, at + 1);
        return end < 0 ? script.size() : end + 1;
    }
    if (script.mid(at, 2) == QLatin1String("--")) {
        const qsizetype end = script.indexOf(u'\n', at);
        return end < 0 ? script.size() : end;
    }
    if (script.mid(at, 2) == QLatin1String("/*")) {
        const qsizetype end = script.indexOf(QLatin1String("*/"), at);
        return end < 0 ? script.size() : end + 2;
    }
    return at;
}

bool isComplete(const QString &statement) {
    static const QRegularExpression trigger(QStringLiteral("^\\s*(--[^\\n]*\\n\\s*)*CREATE\\s+TRIGGER\\b"),
                                            QRegularExpression::CaseInsensitiveOption);
    static const QRegularExpression ended(QStringLiteral(";\\s*END\\s*$"),
                                          QRegularExpression::CaseInsensitiveOption);
    return !trigger.match(statement).hasMatch() || ended.match(statement).hasMatch();
}

} // namespace

QStringList statementsOf(const QString &script) {
    QStringList statements;
    QString current;
    for (qsizetype at = 0; at < script.size();) {
        if (const qsizetype after = afterQuoted(script, at); after > at) {
            if (script[at] == u'\'' || script[at] == u'"')
                current += QStringView(script).mid(at, after - at);
            at = after;
        } else if (script[at] == u';' && isComplete(current)) {
            if (!current.trimmed().isEmpty())
                statements.push_back(current.trimmed());
            current.clear();
            ++at;
        } else {
            current += script[at++];
        }
    }
    if (!current.trimmed().isEmpty())
        statements.push_back(current.trimmed());
    return statements;
}

} // namespace kitround::store
