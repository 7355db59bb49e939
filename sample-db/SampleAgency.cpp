#include "sample-db/SampleAgency.h"

#include "sample-db/CallHistory.h"
#include "sample-db/SampleText.h"

#include <QFile>

// The library is static: its text must be asked for by name, outside any namespace.
static void loadSampleText() {
    Q_INIT_RESOURCE(sample_text);
}

namespace kitround::sample {
namespace {

std::string resourceText(std::string_view name) {
    QFile file(QStringLiteral(":/sample/") +
               QString::fromUtf8(name.data(), static_cast<qsizetype>(name.size())));
    if (!file.open(QIODevice::ReadOnly))
        return {}; // read as a table without a head, which is a fault with the file's name
    return file.readAll().toStdString();
}

} // namespace

Result<void> buildSampleAgency(const std::string &path, std::optional<Date> today,
                               const ProgressSink &progress) {
    loadSampleText();
    auto parts = readSampleText(resourceText, today.value_or(kSampleDay));
    if (!parts)
        return parts.error();
    return writeScenario(path, withCalls(completed(std::move(*parts))), progress);
}

} // namespace kitround::sample
