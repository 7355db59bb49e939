#include "ui/shared/Printing.h"

#include "core/desk/views/LocalTimes.h"
#include "ui/print/PaperPdf.h"
#include "ui/shared/Ask.h"
#include "ui/shared/Session.h"

#include <QDesktopServices>
#include <QDir>
#include <QFileInfo>
#include <QPrintDialog>
#include <QPrinter>
#include <QPrinterInfo>
#include <QSaveFile>
#include <QUrl>

namespace kitround::ui {
namespace {

void note(Session &session, const desk::Paper &paper) {
    if (!session.isReadOnly())
        (void)session.desk().notePrinted(paper.title.toStdString()); // a paper is not refused for its note
}

// A paper says who printed it and when: the copy on the wall may be an old one.
desk::Paper signedNow(Session &session, const desk::Paper &paper) {
    return desk::signedBy(paper, session.userName(),
                          desk::localTimeOf(*session.agency(), session.clock().now()));
}

void print(QWidget *window, Session &session, const desk::Paper &paper) {
    if (QPrinterInfo::availablePrinterNames().isEmpty()) {
        Ask::tell(window, QObject::tr("No printer"),
                  QObject::tr("This computer has no printer set up. Save the paper as PDF instead."));
        return;
    }
    QPrinter printer(QPrinter::HighResolution);
    printer.setPageOrientation(paper.landscape ? QPageLayout::Landscape : QPageLayout::Portrait);
    printer.setDocName(paper.title);
    QPrintDialog dialog(&printer, window);
    dialog.setOption(QAbstractPrintDialog::PrintToFile,
                     false); // its file dialog looks into files: FileDialog.h
    if (dialog.exec() != QDialog::Accepted)
        return;
    paint(signedNow(session, paper), printer);
    note(session, paper);
}

} // namespace

void tellSaved(QWidget *window, const QString &file) {
    const QFileInfo info(file);
    const QString folder = QDir::toNativeSeparators(info.absolutePath());
    const auto step =
        Ask::choose(window, QObject::tr("Saved"),
                    QObject::tr("Saved “%1” in the folder %2.").arg(info.fileName(), folder),
                    {QObject::tr("&Open it"), QObject::tr("Show the &folder")}, QObject::tr("&Done"));
    if (!step)
        return;
    const QString wanted = *step == 0 ? info.absoluteFilePath() : info.absolutePath();
    if (!QDesktopServices::openUrl(QUrl::fromLocalFile(wanted)))
        Ask::tell(window, QObject::tr("Not opened"),
                  QObject::tr("This computer has no program set up to open it. It is saved as %1.")
                      .arg(QDir::toNativeSeparators(info.absoluteFilePath())));
}

bool savePaper(QWidget *window, Session &session, const desk::Paper &paper) {
    const auto file = Ask::saveFile(window, QObject::tr("Save as PDF"), QObject::tr("PDF (*.pdf)"),
                                    desk::fileNameOf(paper) + QStringLiteral(".pdf"));
    if (!file)
        return false;
    if (const auto written = writePdf(signedNow(session, paper), *file); !written) {
        Ask::problem(window, written.error());
        return false;
    }
    note(session, paper);
    tellSaved(window, *file);
    return true;
}

bool saveTable(QWidget *window, Session &session, const desk::Table &table) {
    const auto file = Ask::saveFile(window, QObject::tr("Save as CSV"), QObject::tr("CSV (*.csv)"),
                                    QString::fromStdString(table.key) + QStringLiteral(".csv"));
    if (!file)
        return false;
    QSaveFile out(*file);
    const std::string text = desk::asCsv(table);
    if (!out.open(QIODevice::WriteOnly) || out.write(QByteArray::fromStdString(text)) < 0 || !out.commit()) {
        Problem refused;
        refused.code = ProblemCode::FileReadOnly;
        refused.field = file->toStdString();
        Ask::problem(window, refused);
        return false;
    }
    if (!session.isReadOnly())
        (void)session.desk().notePrinted(table.title + " (CSV)");
    tellSaved(window, *file);
    return true;
}

std::optional<PaperWay> askPaperWay(QWidget *window, const QString &title) {
    const auto step = Ask::choose(window, title, QObject::tr("Print this paper, or save it as a PDF file?"),
                                  {QObject::tr("Print"), QObject::tr("Save as PDF")});
    if (!step)
        return std::nullopt;
    return *step == 0 ? PaperWay::Print : PaperWay::Pdf;
}

void givePaper(QWidget *window, Session &session, const desk::Paper &paper, PaperWay way) {
    if (way == PaperWay::Print)
        print(window, session, paper);
    else
        savePaper(window, session, paper);
}

void offerPaper(QWidget *window, Session &session, const desk::Paper &paper) {
    if (const auto way = askPaperWay(window, paper.title))
        givePaper(window, session, paper, *way);
}

} // namespace kitround::ui
