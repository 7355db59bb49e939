#pragma once
// The part of a count that asks for lots the ledger does not list: typed, or read from their labels. It opens
// with one line; a scan, or the button, brings the next.
#include "core/desk/views/ReceiveScan.h"

#include <QString>
#include <QStringList>

#include <optional>
#include <string>
#include <vector>

class QLabel;

namespace kitround::ui {

class RecordForm;
class ScanField;

struct CountedLine { // a lot the form lists: its field, its number where it has one
    std::string field;
    QString lot;
    Eaches byLedger;
};

class FoundLots {
public:
    // Borrows the form; the lines are those the form lists.
    FoundLots(RecordForm &form, desk::AgencyPtr agency, ItemId item, std::vector<CountedLine> listed);
    void add();
    // What was found goes behind the lots of the count, each with its line's fields behind those of `rows`.
    void read(desk::StoreroomCount &count, std::int64_t perUnit, std::vector<std::string> &rows);
    // A problem of the desk at the field of a line of this part.
    static Problem atField(Problem problem, const std::string &line);

private:
    std::optional<Problem> scanned(const QString &text); // what speaks against it
    std::optional<desk::ScanReading> readLabel(const QString &text, Problem &wrong) const;
    // What keeps it from being on a line: how many of it are there is still to be entered above, or no line
    // is left.
    std::optional<Problem> take(const std::string &lot, std::optional<Date> expiresOn,
                                std::optional<Eaches> quantity);
    void showNext();
    bool isEmpty(std::size_t line) const;
    void say(const QStringList &texts, bool isRefused);
    static std::string lotField(std::size_t line);
    static std::string expiryField(std::size_t line);
    static std::string quantityField(std::size_t line);

    RecordForm &form_;
    const desk::AgencyPtr agency_;
    const ItemId item_;
    const std::vector<CountedLine> listed_;
    ScanField *scan_ = nullptr;
    QLabel *says_ = nullptr;
    std::size_t shown_ = 1; // lines
};

} // namespace kitround::ui
