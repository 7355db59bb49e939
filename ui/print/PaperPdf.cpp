#include "ui/print/PaperPdf.h"

#include <QBuffer>
#include <QFile>
#include <QFontMetricsF>
#include <QPagedPaintDevice>
#include <QPainter>
#include <QPdfWriter>
#include <QSaveFile>

#include <algorithm>
#include <optional>
#include <vector>

namespace kitround::ui {
namespace {

constexpr double kPoint = 1.0; // the painter is scaled so that a unit is a point (1/72 inch)
constexpr double kLine = 13 * kPoint;
constexpr double kGap = 8 * kPoint;
constexpr double kCell = 4 * kPoint;
constexpr double kPageNumber = 60 * kPoint;
constexpr double kBarNames = 130 * kPoint;
constexpr double kBarRow = 16 * kPoint;
constexpr double kMostShare = 1.25;      // longer bars are cut; their figure says so
constexpr double kWriteIn = 48 * kPoint; // least room for writing by hand: a tick, initials
constexpr double kWriteInMost = 3 * kWriteIn;

QFont face(double points, QFont::Weight weight = QFont::Normal) {
    QFont font(QStringLiteral("DejaVu Sans"));
    font.setStyleHint(QFont::SansSerif);
    font.setPixelSize(1);
    font.setPixelSize(static_cast<int>(points)); // a unit is a point here, so pixel size is point size
    font.setWeight(weight);
    return font;
}

// Lays text out top to bottom and starts new pages; knows nothing of what it draws.
class Sheet {
public:
    Sheet(QPagedPaintDevice &device, const desk::Paper &paper)
        : device_(device), paper_(paper), painter_(&device) {
        const QRectF page = device.pageLayout().paintRectPoints();
        const double scale = static_cast<double>(device.logicalDpiX()) / 72.0;
        painter_.scale(scale, scale);
        width_ = page.width();
        height_ = page.height();
        measureFoot();
        drawFoot();
    }

    double width() const { return width_; }
    int pages() const { return page_; }

    void text(const QString &words, const QFont &font, double above = 0) {
        painter_.setFont(font);
        y_ += above;
        const QRectF bounds = painter_.boundingRect(QRectF(0, 0, width_, 10000), Qt::TextWordWrap, words);
        need(bounds.height());
        painter_.drawText(QRectF(0, y_, width_, bounds.height()), Qt::TextWordWrap, words);
        y_ += bounds.height();
    }
    void gap(double height) { y_ += height; }
    void newPage() {
        if (y_ <= 0)
            return;
        device_.newPage();
        ++page_;
        y_ = 0;
        drawFoot();
    }
    // True where a new page was begun to make room.
    bool need(double height) {
        if (y_ + height <= bottom_ || y_ <= 0)
            return false;
        newPage();
        return true;
    }
    struct Laid { // a table measured, ready to be drawn
        desk::Table table;
        std::vector<double> widths;
        std::vector<QString> head;
        double headHeight = 0, firstHeight = 0;
        double beginning() const { return headHeight + firstHeight; }
    };
    Laid lay(const desk::Table &whole);
    void table(const Laid &laid);
    double heightOf(const QString &words, const QFont &font);
    void bars(const desk::ShareBars &picture);

private:
    void barHeads(const desk::ShareBars &picture, double slot);
    void bar(const desk::ShareBars::Bar &bar, double left, double full);
    std::vector<double> columnWidths(const desk::Table &table) const;
    static int wrapOf(const QString &words, const QFont &font, double width);
    double rowHeight(const std::vector<QString> &cells, const std::vector<double> &widths, const QFont &font);
    void row(const std::vector<QString> &cells, const std::vector<double> &widths, const desk::Table &table,
             const QFont &font, double height);
    // The foot wraps before the page number; what is printed ends above it.
    void measureFoot() {
        painter_.setFont(face(7.5));
        const QRectF room(0, 0, width_ - kPageNumber, 10000);
        const double height = painter_.boundingRect(room, Qt::TextWordWrap, paper_.foot).height();
        footTop_ = height_ - 0.2 * kLine - std::max(kLine, height);
        bottom_ = footTop_ - 0.8 * kLine;
    }
    void drawFoot() {
        painter_.setFont(face(7.5));
        painter_.setPen(QColor(0x55, 0x55, 0x55));
        const double rule = footTop_ - 0.2 * kLine;
        painter_.drawLine(QPointF(0, rule), QPointF(width_, rule));
        const double height = height_ - footTop_;
        painter_.drawText(QRectF(0, footTop_, width_ - kPageNumber, height), Qt::TextWordWrap, paper_.foot);
        painter_.drawText(QRectF(width_ - kPageNumber, footTop_, kPageNumber, height), Qt::AlignRight,
                          QObject::tr("Page %1").arg(page_));
        painter_.setPen(Qt::black);
    }

    QPagedPaintDevice &device_;
    const desk::Paper &paper_;
    QPainter painter_;
    double width_ = 0, height_ = 0, footTop_ = 0, bottom_ = 0, y_ = 0;
    int page_ = 1;
};

QString cell(const std::string &text) {
    return QString::fromStdString(text);
}

double longestPart(const QFontMetricsF &metrics, const QString &text, QChar between) {
    double longest = 0;
    for (const QString &part : text.split(between))
        longest = std::max(longest, metrics.horizontalAdvance(part));
    return longest;
}

double longestLine(const QFontMetricsF &metrics, const QString &text) {
    return longestPart(metrics, text, QLatin1Char('\n'));
}

double longestWord(const QFontMetricsF &metrics, QString text) {
    return longestPart(metrics, text.replace(QLatin1Char('\n'), QLatin1Char(' ')), QLatin1Char(' '));
}

// What no column can do without is given first; what room is left goes, a little at a time, to the column
// whose longest text takes most lines: rows are then as low as they can be.
std::vector<double> sharedOut(const std::vector<double> &natural, const std::vector<double> &least,
                              double room) {
    constexpr double kStep = 4, kEnough = 0.01;
    std::vector<double> widths = least;
    for (const double width : least)
        room -= width;
    while (room > kEnough) {
        std::size_t tallest = widths.size();
        for (std::size_t c = 0; c < widths.size(); ++c)
            if (widths[c] + kEnough < natural[c] &&
                (tallest == widths.size() || natural[c] / widths[c] > natural[tallest] / widths[tallest]))
                tallest = c;
        if (tallest == widths.size())
            break;
        const double step = std::min({kStep, room, natural[tallest] - widths[tallest]});
        widths[tallest] += step;
        room -= step;
    }
    return widths;
}

// A head may wrap between words, into about two lines while the page has room; cells keep their natural width
// then. Where it has none, texts wrap, in no column below its longest word. Columns without any text are
// written in by hand: they keep room for that, as much as their head takes in one line (what is asked for in
// more words is answered in more), and share what is left over.
std::vector<double> Sheet::columnWidths(const desk::Table &table) const {
    const QFontMetricsF metrics(face(8)), headMetrics(face(8, QFont::DemiBold));
    std::vector<double> widths, least;
    std::vector<std::size_t> blank;
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        double word = longestWord(headMetrics, cell(table.columns[c].name));
        double widest = std::max(word, headMetrics.horizontalAdvance(cell(table.columns[c].name)) / 2);
        for (const auto &cells : table.rows) {
            widest = std::max(widest, longestLine(metrics, cell(cells[c])));
            word = std::max(word, longestWord(metrics, cell(cells[c])));
        }
        const bool isBlank = !table.rows.empty() && std::ranges::all_of(table.rows, [&](const auto &cells) {
            return cells[c].empty();
        });
        if (isBlank) {
            blank.push_back(c);
            word = std::max(word, std::clamp(headMetrics.horizontalAdvance(cell(table.columns[c].name)),
                                             kWriteIn, kWriteInMost));
            widest = word;
        }
        widths.push_back(widest + 2 * kCell + 1);
        least.push_back(std::min(word + 2 * kCell + 1, width_ / 4));
    }
    double total = 0;
    for (const double w : widths)
        total += w;
    if (total > width_) {
        widths = sharedOut(widths, least, width_);
        total = width_;
    }
    for (const std::size_t c : blank)
        widths[c] += std::max(0.0, width_ - total) / static_cast<double>(blank.size());
    if (blank.empty() && total < width_ && !widths.empty() && table.columns.back().align == desk::Align::Left)
        widths.back() += width_ - total;
    return widths;
}

double Sheet::heightOf(const QString &words, const QFont &font) {
    painter_.setFont(font);
    return painter_.boundingRect(QRectF(0, 0, width_, 10000), Qt::TextWordWrap, words).height();
}

// Between words where they fit, so that what is measured is what is drawn; inside one only where it must be.
int Sheet::wrapOf(const QString &words, const QFont &font, double width) {
    return longestWord(QFontMetricsF(font), words) > width ? int(Qt::TextWrapAnywhere)
                                                           : int(Qt::TextWordWrap);
}

double Sheet::rowHeight(const std::vector<QString> &cells, const std::vector<double> &widths,
                        const QFont &font) {
    painter_.setFont(font);
    double height = kLine;
    for (std::size_t c = 0; c < cells.size(); ++c)
        height =
            std::max(height, painter_.boundingRect(QRectF(0, 0, widths[c] - 2 * kCell, 10000),
                                                   wrapOf(cells[c], font, widths[c] - 2 * kCell), cells[c])
                                     .height() +
                                 3);
    return height;
}

void Sheet::row(const std::vector<QString> &cells, const std::vector<double> &widths,
                const desk::Table &table, const QFont &font, double height) {
    painter_.setFont(font);
    double x = 0;
    for (std::size_t c = 0; c < cells.size(); ++c) {
        const QRectF box(x + kCell, y_ + 1.5, widths[c] - 2 * kCell, height - 2);
        const int align = table.columns[c].align == desk::Align::Right ? Qt::AlignRight : Qt::AlignLeft;
        painter_.drawText(box, align | wrapOf(cells[c], font, box.width()), cells[c]);
        x += widths[c];
    }
    y_ += height;
    painter_.setPen(QPen(QColor(0xbb, 0xbb, 0xbb), 0.4));
    painter_.drawLine(QPointF(0, y_), QPointF(x, y_));
    painter_.setPen(Qt::black);
}

Sheet::Laid Sheet::lay(const desk::Table &whole) {
    Laid laid;
    laid.table = desk::asRead(whole);
    laid.widths = columnWidths(laid.table);
    for (const desk::Column &column : laid.table.columns)
        laid.head.push_back(cell(column.name));
    laid.headHeight = rowHeight(laid.head, laid.widths, face(8, QFont::DemiBold));
    laid.firstHeight = 2 * kLine;
    if (!laid.table.rows.empty()) {
        std::vector<QString> first;
        for (const std::string &text : laid.table.rows.front())
            first.push_back(cell(text));
        laid.firstHeight = std::max(laid.firstHeight, rowHeight(first, laid.widths, face(8)));
    }
    return laid;
}

void Sheet::table(const Laid &laid) {
    const auto &[table, widths, head, headHeight, firstHeight] = laid;
    const QFont headFont = face(8, QFont::DemiBold), font = face(8);
    need(headHeight + firstHeight);
    row(head, widths, table, headFont, headHeight);
    std::vector<std::vector<QString>> rows;
    std::vector<double> heights;
    const auto fontOf = [&](std::size_t i) {
        return table.endsWithSum && i + 1 == table.rows.size() ? headFont : font;
    };
    for (const auto &cells : table.rows) {
        std::vector<QString> texts;
        for (const std::string &text : cells)
            texts.push_back(cell(text));
        heights.push_back(rowHeight(texts, widths, fontOf(rows.size())));
        rows.push_back(std::move(texts));
    }
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (beginsPage(heights, i, bottom_ - y_)) {
            newPage();
            row(head, widths, table, headFont, headHeight); // the head again on every page
        }
        row(rows[i], widths, table, fontOf(i), heights[i]);
    }
    if (table.rows.empty())
        text(QObject::tr("None."), font, 2);
    for (const std::string &note : table.notes)
        text(cell(note), face(7.5), 3);
}

void Sheet::barHeads(const desk::ShareBars &picture, double slot) {
    painter_.setFont(face(8, QFont::DemiBold));
    for (qsizetype c = 0; c < picture.columns.size(); ++c)
        painter_.drawText(QRectF(kBarNames + slot * static_cast<double>(c), y_, slot - kCell, kLine),
                          Qt::AlignLeft | Qt::AlignVCenter, picture.columns[c]);
    y_ += kLine;
}

// More than full is darker and bold, so that a copy in black and white says it too.
void Sheet::bar(const desk::ShareBars::Bar &bar, double left, double full) {
    const bool isOver = bar.share > 1;
    const int grey = isOver ? 0xb0 : 0xdc;
    painter_.fillRect(QRectF(left, y_ + 2, full * std::min(bar.share, kMostShare), kBarRow - 4),
                      QColor(grey, grey, grey));
    painter_.setPen(QPen(QColor(0x55, 0x55, 0x55), 0.6));
    painter_.drawLine(QPointF(left + full, y_), QPointF(left + full, y_ + kBarRow));
    painter_.setPen(Qt::black);
    painter_.setFont(face(8, isOver ? QFont::DemiBold : QFont::Normal));
    painter_.drawText(QRectF(left + 3, y_, full * kMostShare, kBarRow), Qt::AlignLeft | Qt::AlignVCenter,
                      bar.text);
}

void Sheet::bars(const desk::ShareBars &picture) {
    if (picture.columns.isEmpty())
        return;
    const double slot = (width_ - kBarNames) / static_cast<double>(picture.columns.size());
    const double full = (slot - kGap) / kMostShare;
    need(kLine + 2 * kBarRow);
    barHeads(picture, slot);
    for (const desk::ShareBars::Row &row : picture.rows) {
        if (need(kBarRow))
            barHeads(picture, slot); // the head again on every page
        painter_.setFont(face(8));
        const QString name =
            QFontMetricsF(painter_.font()).elidedText(row.name, Qt::ElideRight, kBarNames - kCell);
        painter_.drawText(QRectF(0, y_, kBarNames - kCell, kBarRow), Qt::AlignLeft | Qt::AlignVCenter, name);
        for (std::size_t c = 0; c < row.bars.size(); ++c)
            bar(row.bars[c], kBarNames + slot * static_cast<double>(c), full);
        y_ += kBarRow;
    }
    text(picture.key, face(7.5), 3);
}

} // namespace

bool beginsPage(const std::vector<double> &heights, std::size_t row, double room) {
    const bool isBeforeLast = row > 0 && row + 2 == heights.size();
    return heights[row] > room || (isBeforeLast && heights[row] + heights[row + 1] > room);
}

int paint(const desk::Paper &paper, QPagedPaintDevice &device) {
    Sheet sheet(device, paper);
    sheet.text(paper.title, face(15, QFont::DemiBold));
    if (!paper.subtitle.isEmpty())
        sheet.text(paper.subtitle, face(9), 2);
    sheet.gap(kGap);
    bool isFirst = true;
    for (const desk::Paper::Section &section : paper.sections) {
        if (section.startsPage && !isFirst)
            sheet.newPage();
        isFirst = false;
        std::optional<Sheet::Laid> laid;
        if (section.table)
            laid = sheet.lay(*section.table);
        if (!section.heading.isEmpty()) {
            // A heading is not left alone at the foot: what it names begins on the same page.
            double beginning = kLine;
            if (!section.lines.isEmpty())
                beginning = sheet.heightOf(section.lines.front(), face(9)) + 1;
            else if (section.bars)
                beginning = kLine + 2 * kBarRow + 3;
            else if (laid)
                beginning = laid->beginning() + 3;
            const QFont font = face(11, QFont::DemiBold);
            sheet.need(std::max(4 * kLine, kGap + sheet.heightOf(section.heading, font) + 2 + beginning));
            sheet.text(section.heading, font, kGap);
            sheet.gap(2);
        }
        for (const QString &line : section.lines)
            sheet.text(line, face(9), 1);
        if (section.bars) {
            sheet.gap(3);
            sheet.bars(*section.bars);
        }
        if (laid) {
            sheet.gap(3);
            sheet.table(*laid);
        }
        sheet.gap(kGap);
    }
    return sheet.pages();
}

Result<void> writePdf(const desk::Paper &paper, const QString &file) {
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    {
        QPdfWriter writer(&buffer);
        writer.setPageSize(QPageSize(QPageSize::Letter));
        writer.setPageOrientation(paper.landscape ? QPageLayout::Landscape : QPageLayout::Portrait);
        writer.setPageMargins(QMarginsF(14, 12, 14, 12), QPageLayout::Millimeter);
        writer.setResolution(300);
        writer.setTitle(paper.title);
        writer.setCreator(QStringLiteral("Kitround"));
        paint(paper, writer);
    }
    QSaveFile target(file);
    if (!target.open(QIODevice::WriteOnly))
        return Problem{
            ProblemCode::FileNotReadable, file.toStdString(), {target.errorString().toStdString()}};
    if (target.write(bytes) != bytes.size() || !target.commit())
        return Problem{ProblemCode::DiskFull, file.toStdString(), {target.errorString().toStdString()}};
    QFile::setPermissions(file, QFile::ReadOwner | QFile::WriteOwner); // papers hold health information
    return {};
}

} // namespace kitround::ui
