#include "app/headless/Output.h"

#include <QFileInfo>
#include <QSaveFile>

#include <algorithm>
#include <cstdio>

namespace kitround::headless {
namespace {

constexpr int kUsualWidth = 132;

int textWidth() {
    bool isNumber = false;
    const int columns = qEnvironmentVariableIntValue("COLUMNS", &isNumber);
    return isNumber ? std::clamp(columns, 60, 400) : kUsualWidth;
}

Problem noWrite(const QString &where, bool isFull) {
    Problem problem;
    problem.code = isFull ? ProblemCode::DiskFull : ProblemCode::FileReadOnly;
    problem.field = where.toStdString();
    return problem;
}

Result<void> writeOut(const std::string &text) {
    const bool written = std::fwrite(text.data(), 1, text.size(), stdout) == text.size();
    if (!written || std::fflush(stdout) != 0)
        return noWrite(QStringLiteral("standard output"), true);
    return {};
}

Result<void> writeFile(const QString &path, const std::string &text) {
    QSaveFile file(path);
    if (!file.open(QIODevice::WriteOnly))
        return noWrite(path, false);
    // Copies hold people's data: for their owner only, like the agency file.
    file.setPermissions(QFileDevice::ReadOwner | QFileDevice::WriteOwner);
    file.write(text.data(), static_cast<qint64>(text.size()));
    if (!file.commit())
        return noWrite(path, true);
    return {};
}

QString withKey(const QString &path, const std::string &key) {
    const QFileInfo info(path);
    const QString suffix = info.suffix().isEmpty() ? QString() : u'.' + info.suffix();
    return info.path() + u'/' + info.completeBaseName() + u'-' + QString::fromStdString(key) + suffix;
}

} // namespace

Result<void> writeText(const QString &text) {
    return writeOut(text.toStdString());
}

void complain(const QString &line) {
    const std::string text = "kitround-headless: " + line.toStdString() + "\n";
    std::fwrite(text.data(), 1, text.size(), stderr);
}

Result<void> writeTables(const std::vector<desk::Table> &all, const Arguments &arguments,
                         const QString &asOf) {
    std::vector<desk::Table> tables;
    for (const desk::Table &table : all)
        if (arguments.table.isEmpty() || arguments.table.toStdString() == table.key)
            tables.push_back(table);
    if (arguments.format == Format::Csv) {
        for (std::size_t t = 0; t < tables.size(); ++t) {
            const std::string text = desk::asCsv(tables[t]);
            const QString path = t == 0 ? arguments.out : withKey(arguments.out, tables[t].key);
            if (auto done = arguments.out.isEmpty() ? writeOut(text) : writeFile(path, text); !done)
                return done;
        }
        return {};
    }
    std::string text;
    if (arguments.format == Format::Json)
        text = desk::asJson(tables, arguments.verb.toStdString(), asOf.toStdString());
    else
        for (std::size_t t = 0; t < tables.size(); ++t)
            text += (t == 0 ? "" : "\n") + desk::asText(tables[t], textWidth());
    return arguments.out.isEmpty() ? writeOut(text) : writeFile(arguments.out, text);
}

} // namespace kitround::headless
