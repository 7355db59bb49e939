#include "ui/setup/ImportDialog.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/DialogSize.h"
#include "ui/shared/Look.h"
#include "ui/shared/RowsTable.h"
#include "ui/shared/Session.h"
#include "ui/shared/WrappedLabel.h"

#include <QComboBox>
#include <QDir>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

struct ReadFile {
    std::string bytes;
    desk::ImportPreview preview;
};

// The sign is a word; the colour only helps to find it.
QString signOf(const desk::ImportRow &row) {
    return !row.faults.isEmpty()  ? QObject::tr("fault")
           : !row.calls.isEmpty() ? QObject::tr("look or call")
                                  : QObject::tr("good");
}
int weightOf(const desk::ImportRow &row) { // faults first, where the table is sorted by it
    return !row.faults.isEmpty() ? 0 : !row.calls.isEmpty() ? 1 : 2;
}
std::optional<Role> inkOf(const desk::ImportRow &row) {
    if (!row.faults.isEmpty())
        return Role::Act;
    return row.calls.isEmpty() ? std::nullopt : std::optional(Role::Watch);
}
// Each on a line of its own, what goes in last.
QString wholeOf(const desk::ImportRow &row) {
    QStringList lines = row.faults + row.calls;
    if (!row.what.isEmpty())
        lines << QObject::tr("Goes in: %1").arg(row.what);
    return lines.join(QLatin1Char('\n'));
}
bool asksNothing(const desk::ImportRow &row) {
    return row.faults.isEmpty() && row.calls.isEmpty();
}
constexpr int kToDo = 3, kGoesIn = 4; // the columns of those heads

std::vector<RowsColumn<desk::ImportRow>> previewColumns() {
    using Row = desk::ImportRow;
    return {{.head = QObject::tr("Row"),
             .text = [](const Row &r) { return QString::number(r.row); },
             .sortBy = [](const Row &r) { return QVariant(r.row); },
             .isNumber = true},
            {.head = QObject::tr("Sign"),
             .text = signOf,
             .sortBy = [](const Row &r) { return QVariant(weightOf(r)); },
             .ink = inkOf},
            {.head = QObject::tr("Record"), .text = [](const Row &r) { return r.who; }},
            {.head = QObject::tr("What to do"),
             .text = [](const Row &r) { return (r.faults + r.calls).join(u' '); },
             .ink = inkOf,
             .tip = wholeOf},
            {.head = QObject::tr("What goes in"),
             .text = [](const Row &r) { return r.what; },
             .tip = [](const Row &r) { return r.what; }}};
}

// On a connection of its own: the copy and the rows may take seconds, and the window goes on.
struct ImportOrder {
    std::string agency, backup, bytes, fileName;
    desk::ListKind kind = desk::ListKind::Patients;
    std::optional<Date> asOf;
    UserId user;
    const Clock *clock = nullptr;
};
Result<desk::Imported> importBeside(const ImportOrder &order, std::stop_token stop,
                                    const ProgressSink &progress) {
    desk::OpenOptions options;
    options.asOf = order.asOf;
    options.loadNow = false;
    auto opened = desk::Desk::open(order.agency, options, *order.clock, stop, progress);
    if (!opened)
        return opened.error();
    desk::Desk &desk = **opened;
    desk.setUser(order.user);
    desk.setReloadAfterWrites(false); // the window reads it anew
    if (const auto kept = desk.backupTo(order.backup, stop, progress); !kept)
        return kept.error();
    return desk.importList(order.kind, order.bytes, order.fileName);
}

} // namespace

ImportDialog::ImportDialog(Session &session, QWidget *parent) : QDialog(parent), session_(session) {
    setObjectName(QStringLiteral("importDialog"));
    setWindowTitle(tr("Bring in a list"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kPage, Look::kPage, Look::kPage);
    layout->setSpacing(Look::kInside);
    makeSource(*layout);
    state_ = new WrappedLabel(QString(), this);
    state_->setObjectName(QStringLiteral("importState"));
    state_->setFont(Look::strongFont());
    layout->addWidget(state_);
    RowsTable<desk::ImportRow>::Texts texts;
    texts.objectName = QStringLiteral("importTable");
    texts.title = tr("Rows of the list");
    texts.stretched = kToDo;
    texts.names = {2};
    table_ = new RowsTable<desk::ImportRow>(texts, previewColumns(), this);
    table_->showWhole(wholeOf);
    layout->addWidget(table_, 1);
    makeFoot(*layout);
    keepSize(*this, QSize(1100, 680));
    connect(&session_, &Session::closed, this, &QDialog::reject);
    showKind();
}

ImportDialog::~ImportDialog() = default;

void ImportDialog::makeSource(QVBoxLayout &layout) {
    auto *row = new QHBoxLayout;
    row->setSpacing(Look::kInside);
    auto *label = new QLabel(tr("&List"), this);
    kind_ = new QComboBox(this);
    kind_->setObjectName(QStringLiteral("importKind"));
    kind_->setAccessibleName(tr("Which list"));
    label->setBuddy(kind_);
    // In the order in which one list needs the other.
    for (const desk::ListKind each :
         {desk::ListKind::Items, desk::ListKind::Nurses, desk::ListKind::Patients, desk::ListKind::Counts})
        kind_->addItem(desk::words(each), static_cast<qint64>(each));
    empty_ = new QPushButton(tr("&Save an empty list to fill in…"), this);
    empty_->setObjectName(QStringLiteral("importEmpty"));
    words_ = new QPushButton(tr("&Words a cell may hold…"), this);
    words_->setObjectName(QStringLiteral("importWords"));
    open_ = new QPushButton(tr("&Open a list…"), this);
    open_->setObjectName(QStringLiteral("importOpen"));
    row->addWidget(label);
    row->addWidget(kind_);
    row->addWidget(empty_);
    row->addWidget(words_);
    row->addWidget(open_);
    row->addStretch(1);
    layout.addLayout(row);
    columns_ = new WrappedLabel(QString(), this);
    columns_->setObjectName(QStringLiteral("importColumns"));
    layout.addWidget(columns_);
    connect(kind_, &QComboBox::currentIndexChanged, this, &ImportDialog::showKind);
    connect(empty_, &QPushButton::clicked, this, &ImportDialog::saveEmpty);
    connect(words_, &QPushButton::clicked, this, [this] {
        Ask::tell(this, tr("Words a cell may hold: %1").arg(desk::words(kind())),
                  desk::importWordsText(kind()));
    });
    connect(open_, &QPushButton::clicked, this, &ImportDialog::openList);
}

void ImportDialog::makeFoot(QVBoxLayout &layout) {
    undo_ = new WrappedLabel(tr("What was brought in is not taken back row by row. Before it goes in, a copy "
                                "of the agency is kept "
                                "beside the file: to go back to how it was, open that copy."),
                             this);
    undo_->setObjectName(QStringLiteral("importUndo"));
    layout.addWidget(undo_);
    auto *row = new QHBoxLayout;
    row->setSpacing(Look::kInside);
    bringIn_ = new QPushButton(tr("&Bring it in"), this);
    bringIn_->setObjectName(QStringLiteral("importDo"));
    bringIn_->setProperty("isMain", true);
    close_ = new QPushButton(tr("Close"), this);
    close_->setObjectName(QStringLiteral("importClose"));
    row->addStretch(1);
    row->addWidget(bringIn_);
    row->addWidget(close_);
    layout.addLayout(row);
    for (QPushButton *button : {empty_, words_, open_, bringIn_, close_})
        button->setAutoDefault(false); // Enter in the table opens nothing and writes nothing
    connect(bringIn_, &QPushButton::clicked, this, &ImportDialog::bringIn);
    connect(close_, &QPushButton::clicked, this, &QDialog::reject);
}

desk::ListKind ImportDialog::kind() const {
    return static_cast<desk::ListKind>(kind_->currentData().toLongLong());
}

void ImportDialog::showKind() {
    columns_->setText(desk::importColumnsText(kind()));
    if (file_.isEmpty())
        clearRows(tr("No list is open. Save an empty one and fill it in, or open one that is filled in."));
    else
        read(); // the same file as another list
}

void ImportDialog::clearRows(const QString &why) {
    bytes_.clear();
    isGood_ = false;
    table_->setRows({});
    state_->setText(why);
    Look::setInk(state_, Role::Ink);
    setBusy({});
}

void ImportDialog::setBusy(const QString &stage) {
    const bool isFree = stage.isEmpty();
    if (!isFree)
        state_->setText(stage);
    for (QWidget *part : {static_cast<QWidget *>(kind_), static_cast<QWidget *>(empty_),
                          static_cast<QWidget *>(open_), static_cast<QWidget *>(close_)})
        part->setEnabled(isFree || (part == close_ && !isWriting_));
    bringIn_->setEnabled(isFree && isGood_ && !session_.isReadOnly());
}

void ImportDialog::saveEmpty() {
    const auto name = exchange::nameOf(kind());
    const QString preset =
        QString::fromLatin1(name.data(), static_cast<qsizetype>(name.size())) + QStringLiteral(".csv");
    const auto file = Ask::saveFile(this, tr("Save an empty list"), QStringLiteral("CSV (*.csv)"), preset);
    if (!file)
        return;
    if (const auto saved = desk::saveEmptyList(kind(), file->toStdString()); !saved) {
        Ask::problem(this, saved.error());
        return;
    }
    Look::setInk(state_, Role::Ink);
    state_->setText(
        tr("Saved %1 with the names of the columns. Fill it in with a spreadsheet, save it as CSV, "
           "and open it here.")
            .arg(QDir::toNativeSeparators(*file)));
}

void ImportDialog::openList() {
    if (const auto file = Ask::openFile(this, tr("Open a list"), QStringLiteral("CSV (*.csv);;*"))) {
        file_ = *file;
        read();
    }
}

void ImportDialog::read() {
    if (reading_)
        reading_->abandon();
    clearRows({});
    setBusy(tr("Reading %1…").arg(QFileInfo(file_).fileName()));
    reading_ = BackgroundJob::start(
        this,
        [agency = session_.agency(), which = kind(),
         path = file_.toStdString()](std::stop_token, const ProgressSink &) -> Result<ReadFile> {
            auto bytes = desk::readListFile(path);
            if (!bytes)
                return bytes.error();
            desk::ImportPreview preview = desk::previewImport(*agency, which, *bytes);
            return ReadFile{std::move(*bytes), std::move(preview)};
        },
        [this](Result<ReadFile> done) {
            if (done) {
                showPreview(std::move(done->bytes), std::move(done->preview));
                return;
            }
            file_.clear();
            clearRows(desk::words(done.error()));
            Look::setInk(state_, Role::Act);
        });
}

void ImportDialog::showPreview(std::string bytes, desk::ImportPreview preview) {
    bytes_ = std::move(bytes);
    isGood_ = preview.mayGoIn();
    constexpr qsizetype kMostLines = 5; // the rows keep their room below
    QStringList said = preview.ofFile.mid(0, kMostLines);
    if (const qsizetype more = preview.ofFile.size() - kMostLines; more > 0)
        said << tr("and %1 more").arg(desk::numberText(more));
    if (!preview.rows.empty())
        said << desk::importCountText(preview);
    const int count = static_cast<int>(preview.rows.size());
    const auto worst = std::ranges::min_element(preview.rows, {}, weightOf); // the first with a fault
    const int first = static_cast<int>(worst - preview.rows.begin());
    const bool isAllPlain = std::ranges::all_of(preview.rows, asksNothing);
    table_->setRows(std::move(preview.rows));
    table_->table()->fitColumns(isAllPlain ? kGoesIn : kToDo); // the wide one is the one with words in it
    if (count > 0)
        table_->table()->selectSourceRow(first);
    state_->setText(said.join(QLatin1Char('\n')));
    Look::setInk(state_, isGood_ ? Role::Ink : Role::Act);
    bringIn_->setText(!isGood_     ? tr("&Bring it in")
                      : count == 1 ? tr("&Bring in 1 row")
                                   : tr("&Bring in %1 rows").arg(desk::numberText(count)));
    setBusy({});
    table_->takeFocus();
}

void ImportDialog::bringIn() {
    if (!isGood_ || isWriting_)
        return;
    ImportOrder order;
    order.agency = session_.desk().path();
    order.backup = desk::backupBeforeImport(order.agency, session_.today());
    order.bytes = bytes_;
    order.fileName = QFileInfo(file_).fileName().toStdString();
    order.kind = kind();
    order.asOf = session_.desk().asOf();
    order.user = session_.desk().user();
    order.clock = &session_.clock();
    isWriting_ = true;
    setBusy(tr("Keeping a copy of the agency, then writing…"));
    BackgroundJob::start(
        this,
        [order](std::stop_token stop, const ProgressSink &progress) {
            return importBeside(order, stop, progress);
        },
        [this, backup = QString::fromStdString(order.backup)](Result<desk::Imported> done) {
            isWriting_ = false;
            finish(done, backup);
        });
}

void ImportDialog::finish(const Result<desk::Imported> &done, const QString &backup) {
    if (!done) {
        setBusy({});
        Ask::problem(this, done.error());
        read(); // as the agency is now
        return;
    }
    // It was written on another connection: told here, and read anew.
    (void)session_.write(desk::importAddedText(*done), [](desk::Desk &) { return Result<void>(); });
    file_.clear();
    bringIn_->setText(tr("&Bring it in"));
    clearRows(tr("%1\nThe agency as it was before is kept as %2.")
                  .arg(desk::importDoneText(*done), QDir::toNativeSeparators(backup)));
}

void ImportDialog::reject() {
    if (!isWriting_)
        QDialog::reject();
}

} // namespace kitround::ui
