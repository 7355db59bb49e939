#include "core/desk/views/VisitFinding.h"

#include "core/desk/words/Text.h"

#include <algorithm>

namespace kitround::desk {
namespace {

QString withoutAccents(const QString &text) {
    QString plain;
    for (const QChar c : text.normalized(QString::NormalizationForm_D).toCaseFolded())
        if (c.category() != QChar::Mark_NonSpacing)
            plain += c;
    return plain;
}

// "Q-146" and "P.J." as they are typed in haste.
QString lettersOf(const QString &text) {
    QString letters;
    for (const QChar c : text)
        if (c.isLetterOrNumber())
            letters += c;
    return letters;
}

QStringList wordsOf(const QString &text) {
    return withoutAccents(text).simplified().split(u' ', Qt::SkipEmptyParts);
}

bool isFoundByWords(const VisitCard &card, const QString &nurse, const QStringList &wanted) {
    if (wanted.isEmpty())
        return false;
    const QString texts = withoutAccents(QStringList{card.name, nurse, card.kind}.join(u'\n'));
    const QString code = lettersOf(withoutAccents(card.code)),
                  initials = lettersOf(withoutAccents(card.initials));
    return std::ranges::all_of(wanted, [&](const QString &word) {
        const QString letters = lettersOf(word);
        return texts.contains(word) ||
               (!letters.isEmpty() && (code.contains(letters) || initials == letters));
    });
}

} // namespace

bool isFoundBy(const VisitCard &card, const QString &nurse, const QString &text) {
    return isFoundByWords(card, nurse, wordsOf(text));
}

std::size_t foundInWeek(const WeekBoard &week, const QString &text) {
    const QStringList wanted = wordsOf(text);
    const auto count = [&](const std::vector<VisitCard> &cards, const QString &nurse) {
        return static_cast<std::size_t>(std::ranges::count_if(
            cards, [&](const VisitCard &card) { return isFoundByWords(card, nurse, wanted); }));
    };
    std::size_t found = count(week.tray, {});
    for (const BoardRow &row : week.rows)
        for (const BoardDay &day : row.days)
            found += count(day.past, row.name) + count(day.cards, row.name);
    return found;
}

QString foundText(const Found &found, const QString &text) {
    const QString sought = text.simplified();
    if (sought.isEmpty())
        return {};
    if (found.of > 0)
        return found.at > 0 ? Text::tr("%1 of %2").arg(found.at).arg(found.of)
                            : Text::tr("%1 found").arg(found.of);
    if (!found.isDay || found.inWeek == 0)
        return Text::tr("no visit of \"%1\" this week").arg(sought);
    return Text::tr("no visit of \"%1\" on this day, %2 this week")
        .arg(sought, QString::number(found.inWeek));
}

} // namespace kitround::desk
