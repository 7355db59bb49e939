#pragma once
// How the words of this program are made translatable: one context, found by lupdate.
#include <QCoreApplication>
#include <QString>

namespace kitround::desk {

class Text {
    Q_DECLARE_TR_FUNCTIONS(kitround)
};
inline QString fromStd(const std::string &text) {
    return QString::fromStdString(text);
}
QString numberText(std::int64_t value); // of people's counts, with commas: "12,505"
// One decimal, none where it would be .0.
QString shortNumber(double value);
// A difference: "+12", "−3" with a minus as it is typeset, "0".
QString signedText(std::int64_t difference);
// "1 visit", "3 visits": the two forms are given whole, with %1 for the number.
QString counted(std::int64_t count, const QString &one, const QString &many);

} // namespace kitround::desk
