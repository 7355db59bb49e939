#include "ui/reorders/ReverseReceipt.h"

#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

#include <algorithm>
#include <utility>

namespace kitround::ui {
namespace {

constexpr qsizetype kShownLines = 2; // of a receipt, in a choice

QString receiptText(const Receipt &receipt, const desk::Agency &agency) {
    QStringList lines;
    for (const ReceiptLine &line : receipt.lines) {
        const Lot *lot = agency.index().lot(line.lot);
        lines << QObject::tr("%1 × %2, lot %3")
                     .arg(QString::number(line.quantity.count()), desk::itemName(agency.index(), line.item),
                          lot ? QString::fromStdString(lot->number) : QObject::tr("unknown"));
    }
    if (const qsizetype more = lines.size() - kShownLines; more > 0)
        lines = lines.mid(0, kShownLines) << QObject::tr("and %1 more").arg(more);
    const QString slip = receipt.packingSlip.empty()
                             ? QObject::tr("no slip number")
                             : QObject::tr("slip %1").arg(QString::fromStdString(receipt.packingSlip));
    return QObject::tr("%1, %2: %3")
        .arg(desk::momentText(receipt.at), slip, lines.join(QStringLiteral("; ")));
}

std::vector<Choice> receiptChoices(const desk::Agency &agency, const ReceiptFilter &fits) {
    std::vector<const Receipt *> found;
    for (const Receipt &receipt : agency.snapshot().receipts)
        if (fits(receipt))
            found.push_back(&receipt);
    std::ranges::stable_sort(found, [](const Receipt *a, const Receipt *b) {
        return std::pair(b->at, b->id) < std::pair(a->at, a->id); // the newest first
    });
    std::vector<Choice> choices;
    for (const Receipt *receipt : found)
        choices.push_back({receiptText(*receipt, agency), receipt->id.value()});
    return choices;
}

} // namespace

bool hasReceipt(const desk::Agency &agency, const ReceiptFilter &fits) {
    return std::ranges::any_of(agency.snapshot().receipts, fits);
}

void reverseReceipt(QWidget *window, Session &session, const ReceiptFilter &fits) {
    const std::vector<Choice> choices = receiptChoices(*session.agency(), fits);
    if (choices.empty()) {
        Ask::tell(window, QObject::tr("Reverse a receipt"),
                  QObject::tr("Nothing is booked in here that could be reversed."));
        return;
    }
    RecordForm form(QObject::tr("Reverse a receipt"), window);
    form.addNote(QObject::tr("What came is booked out again by contrary movements, and its order is open for "
                             "it again. Both stay on record."));
    form.addChoice("receipt_id", QObject::tr("Receipt"), choices, choices.front().value);
    form.addText("why", QObject::tr("Why"), {});
    form.setSaveText(QObject::tr("Reverse this receipt"));
    form.require({"why"});
    form.onSave([&] { return std::pair(ReceiptId(form.choiceOf("receipt_id")), form.textOf("why")); },
                [&](const std::pair<ReceiptId, std::string> &asked) {
                    return session.write(QObject::tr("Reversed a receipt"), [&](desk::Desk &d) {
                        return d.reverseReceipt(asked.first, asked.second);
                    });
                });
    form.exec();
}

} // namespace kitround::ui
