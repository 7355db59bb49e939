// The window and its file: what is said when reading anew fails, older files, backups, the help, the theme
// and the record of changes.
#include "core/desk/Desk.h"
#include "core/desk/words/HelpWords.h"
#include "core/store/Opening.h"
#include "tests/gui/WindowFixture.h"
#include "tests/support/FileLocks.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Look.h"

#include <QAction>
#include <QDialog>
#include <QDir>
#include <QFile>
#include <QFileDialog>
#include <QFileInfo>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QRegularExpression>
#include <QSettings>
#include <QTabWidget>
#include <QTextEdit>
#include <QTreeView>

#include <map>

namespace kitround::ui {
namespace {

class WindowFiles : public WindowTest {};

TEST_F(WindowFiles, WhatIsSavedIsNotAskedForAgainWhereReadingItAnewFails) {
    openSample();
    const QString file = path("copy.kitround");
    Patient patient = session().agency()->snapshot().patients.front();
    patient.phone = "555-0123";
    ASSERT_TRUE(QFile::setPermissions(file, QFileDevice::WriteOwner)); // no new connection can read it
    EXPECT_FALSE(session().write(QStringLiteral("Changed the phone"),
                                 [&](desk::Desk &desk) { return desk.save(patient); }));
    ASSERT_TRUE(waitFor([] { return Ask::lastSaid().startsWith(QStringLiteral("Saved. ")); }))
        << Ask::lastSaid().toStdString();
    EXPECT_TRUE(find<QLabel>("lastChange").text().startsWith(QStringLiteral("Saved. ")));
    EXPECT_TRUE(session().isOpen());
    ASSERT_NE(session().agency(), nullptr) << "what is known stays";
    EXPECT_FALSE(session().isBusy());
    ASSERT_TRUE(QFile::setPermissions(file, QFileDevice::ReadOwner | QFileDevice::WriteOwner));
    session().refresh();
    waitComputed();
    EXPECT_EQ(session().agency()->index().patient(patient.id)->phone, "555-0123");
    EXPECT_TRUE(find<QLabel>("lastChange").text().contains(QStringLiteral("Changed the phone")));
}

// A dialog that looks into the open file takes its locks away (core/store/HeldFiles.h).
TEST_F(WindowFiles, ChoosingAFileBesideTheOpenOneLeavesItsLocksAlone) {
    openSample();
    const QString file = path("copy.kitround");
    ASSERT_TRUE(test::isLockedForOthers(file.toStdString()));
    const QString before = QDir::currentPath();
    ASSERT_TRUE(QDir::setCurrent(dir_->path()));
    Ask::setSilent(false);
    const auto lookAround = [&](QWidget &form) {
        auto *dialog = qobject_cast<QFileDialog *>(&form);
        ASSERT_NE(dialog, nullptr);
        dialog->setViewMode(QFileDialog::Detail);
        dialog->setDirectory(dir_->path());
        const auto *list = dialog->findChild<QTreeView *>(QStringLiteral("treeView"));
        ASSERT_NE(list, nullptr);
        const auto kindOf = [&](const QString &name) {
            const QAbstractItemModel *model = list->model();
            for (int row = 0; row < model->rowCount(list->rootIndex()); ++row)
                if (model->index(row, 0, list->rootIndex()).data().toString() == name)
                    return model->index(row, 2, list->rootIndex()).data().toString();
            return QString();
        };
        const QString name = QFileInfo(file).fileName();
        EXPECT_TRUE(waitFor([&] { return kindOf(name) == QStringLiteral("KITROUND file"); }, 5000))
            << kindOf(name).toStdString();
        leave(form);
    };
    for (int time = 0; time < 2; ++time) { // the second one opens where the first was left
        withNextForm(lookAround);
        EXPECT_FALSE(Ask::openFile(window_.get(), QStringLiteral("Open"), QStringLiteral("*.kitround;;*")));
        EXPECT_TRUE(test::isLockedForOthers(file.toStdString())) << "opening, " << time;
    }
    withNextForm([](QWidget &form) { leave(form); });
    EXPECT_FALSE(Ask::saveFile(window_.get(), QStringLiteral("Save"), QStringLiteral("*"), file + u'2'));
    EXPECT_TRUE(test::isLockedForOthers(file.toStdString())) << "saving";
    Ask::setSilent(true);
    QDir::setCurrent(before);
}

TEST_F(WindowFiles, TheOpenFileIsNotWrittenOver) {
    openSample();
    const QString file = path("copy.kitround");
    Ask::nextText(file);
    EXPECT_FALSE(Ask::saveFile(window_.get(), QStringLiteral("Save"), QStringLiteral("*"), {}));
    EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("Choose another name")))
        << Ask::lastSaid().toStdString();
}

TEST_F(WindowFiles, AnOlderFileIsBroughtUpBesideTheWindowWhichSaysSo) {
    const QString file = path("older.kitround");
    const auto known = store::builtInMigrations();
    ASSERT_TRUE(store::createFile(file.toStdString(), {known.first(known.size() - 1), {}}));
    window_->openFile(file);
    EXPECT_TRUE(find<QLabel>("startBusy").text().startsWith(QStringLiteral("Bringing the file")))
        << find<QLabel>("startBusy").text().toStdString();
    EXPECT_TRUE(session().isBusy());
    ASSERT_TRUE(waitFor([&] { return !session().isBusy(); }));
    EXPECT_FALSE(desk::isOfOlderVersion(file.toStdString()));
}

TEST_F(WindowFiles, TheCalendarSaysThatItWorksNotThatNoFileIsOpen) {
    QString said;
    auto *empty = find<QWidget>("calendarPage").findChild<QLabel *>(QStringLiteral("emptyText"));
    ASSERT_NE(empty, nullptr);
    QObject::connect(&session(), &Session::opened, window_.get(), [&] { said = empty->text(); });
    openSample();
    EXPECT_TRUE(said.startsWith(QStringLiteral("Working out"))) << said.toStdString();
}

TEST_F(WindowFiles, TheHelpOpensAtThePageInFrontAndItsKeysAreTheWindows) {
    openSample();
    window_->showPage(QStringLiteral("stock"));
    auto *help = window_->findChild<QAction *>(QStringLiteral("actionHelp"));
    ASSERT_NE(help, nullptr);
    EXPECT_EQ(help->shortcut(), QKeySequence(QKeySequence::HelpContents));
    help->trigger();
    EXPECT_TRUE(find<QDialog>("helpWindow").isVisible());
    auto &topics = find<QListWidget>("helpTopics");
    EXPECT_GE(topics.visualItemRect(topics.item(0)).height(), Look::kHit) << "a row as in every list";
    EXPECT_EQ(find<QListWidget>("helpTopics").currentItem()->data(Qt::UserRole).toString(),
              QStringLiteral("stock"));
    EXPECT_TRUE(find<QTextEdit>("helpText").toPlainText().contains(QStringLiteral("running dry")));
    window_->showPage(QStringLiteral("calendar"));
    help->trigger();
    EXPECT_EQ(find<QListWidget>("helpTopics").currentItem()->data(Qt::UserRole).toString(),
              QStringLiteral("calendar"));
    QList<QKeySequence> keys;
    for (const QAction *action : window_->findChildren<QAction *>())
        keys += action->shortcuts();
    QStringList pages;
    for (const desk::HelpTopic &topic : desk::helpTopics()) {
        pages << topic.page;
        for (const desk::HelpStep &step : topic.steps)
            EXPECT_TRUE(step.keys.isEmpty() ||
                        keys.contains(QKeySequence(step.keys, QKeySequence::PortableText)))
                << step.keys.toStdString() << ": " << step.text.toStdString();
    }
    const auto &places = find<QListWidget>("workplaces");
    for (int i = 0; i < places.count(); ++i)
        EXPECT_TRUE(pages.contains(places.item(i)->data(Qt::UserRole).toString())) << i;
}

// As it is read: without the key's mark, the dots of what asks more, and a number behind.
QString plainLabel(QString text) {
    text.remove(u'&').remove(QStringLiteral("…"));
    return text.section(QStringLiteral(" ("), 0, 0).trimmed();
}

TEST_F(WindowFiles, EveryNameTheHelpQuotesStandsInTheWindow) {
    openSample();
    QStringList labels;
    const auto &places = find<QListWidget>("workplaces");
    std::map<QString, QString> pages;
    for (int i = 0; i < places.count(); ++i) {
        labels << places.item(i)->text();
        pages[places.item(i)->data(Qt::UserRole).toString()] = places.item(i)->text();
    }
    for (const QTabWidget *tabs : window_->findChildren<QTabWidget *>())
        for (int i = 0; i < tabs->count(); ++i)
            labels << plainLabel(tabs->tabText(i));
    for (const QAction *action : window_->findChildren<QAction *>())
        labels << plainLabel(action->text());
    for (const QPushButton *button : window_->findChildren<QPushButton *>())
        labels << plainLabel(button->text());
    const QRegularExpression quoted(QStringLiteral("\"([^\"]+)\""));
    int told = 0;
    for (const desk::HelpTopic &topic : desk::helpTopics()) {
        if (!topic.page.isEmpty()) {
            EXPECT_TRUE(topic.title.startsWith(pages[topic.page])) << topic.title.toStdString();
        }
        for (const desk::HelpStep &step : topic.steps)
            for (auto match = quoted.globalMatch(step.text); match.hasNext(); ++told) {
                const QString name = match.next().captured(1);
                EXPECT_TRUE(labels.contains(name)) << name.toStdString();
            }
    }
    EXPECT_GE(told, 20);
}

TEST_F(WindowFiles, ABackupIsNamedForItsAgencyAndSaysHowItIsOpened) {
    openSample();
    const QString name = backupName(*session().agency());
    EXPECT_TRUE(name.endsWith(QStringLiteral("-2026-11-19.kitround"))) << name.toStdString();
    const QString first =
        QString::fromStdString(session().agency()->settings().agencyName).section(u' ', 0, 0).toLower();
    EXPECT_TRUE(name.startsWith(first)) << name.toStdString();
    Ask::nextText(path("kept.kitround"));
    window_->findChild<QAction *>(QStringLiteral("actionBackup"))->trigger();
    ASSERT_TRUE(waitFor([&] {
        return find<QLabel>("lastChange").text().contains(QStringLiteral("File > Open"));
    })) << Ask::lastSaid().toStdString();
    EXPECT_EQ(QSettings().value(QStringLiteral("backupFolder")).toString(),
              QFileInfo(path("kept.kitround")).absolutePath());
    QSettings().remove(QStringLiteral("backupFolder"));
}

TEST_F(WindowFiles, TheThemeChangesOnceTheMenuIsGoneAndOneOfTwoIsTicked) {
    auto *light = window_->findChild<QAction *>(QStringLiteral("actionLight"));
    auto *dark = window_->findChild<QAction *>(QStringLiteral("actionDark"));
    dark->trigger();
    EXPECT_TRUE(waitFor([] { return Look::theme() == Theme::Dark; }));
    EXPECT_TRUE(dark->isChecked());
    EXPECT_FALSE(light->isChecked());
    EXPECT_EQ(window_->palette().color(QPalette::Window), Look::colour(Role::Ground, Theme::Dark));
    light->trigger();
    EXPECT_TRUE(waitFor([] { return Look::theme() == Theme::Light; }));
    EXPECT_FALSE(dark->isChecked());
    EXPECT_TRUE(window_->updatesEnabled());
    QSettings().remove(QStringLiteral("theme"));
}

TEST_F(WindowFiles, TheRecordOfChangesIsReadFoundOpenedAndCopied) {
    openSample();
    Patient patient = session().agency()->snapshot().patients.front();
    patient.phone = "555-0144";
    ASSERT_FALSE(session().write(QStringLiteral("Changed the phone"),
                                 [&](desk::Desk &desk) { return desk.save(patient); }));
    waitComputed();
    window_->showPage(QStringLiteral("settings"));
    find<QTabWidget>("settingsTabs").setCurrentIndex(2);
    auto &table = find<DenseTable>("auditTable");
    ASSERT_GT(table.model()->rowCount(), 0);
    for (int row = 0; row < table.model()->rowCount(); ++row)
        EXPECT_FALSE(table.model()->index(row, 6).data().toString().contains(u'{')) << row;
    find<QLineEdit>("auditWords").setText(QStringLiteral("555-0144"));
    ASSERT_TRUE(waitFor([&] { return table.model()->rowCount() == 1; }));
    EXPECT_TRUE(table.model()->index(0, 6).data().toString().contains(QStringLiteral("→ 555-0144")));
    EXPECT_TRUE(find<QPlainTextEdit>("auditWhole").toPlainText().contains(QStringLiteral("555-0144")));
    withNextForm([](QWidget &form) {
        EXPECT_EQ(form.objectName(), QStringLiteral("auditEntry"));
        EXPECT_TRUE(form.findChild<QPlainTextEdit *>(QStringLiteral("auditEntryText"))
                        ->toPlainText()
                        .contains(QStringLiteral("555-0144")));
        leave(form);
    });
    table.setFocus();
    QTest::keyClick(&table, Qt::Key_Return);
    Ask::nextText(path("changes.csv"));
    find<QPushButton>("auditCsv").click();
    QFile csv(path("changes.csv"));
    ASSERT_TRUE(csv.open(QIODevice::ReadOnly)) << Ask::lastSaid().toStdString();
    EXPECT_TRUE(csv.readLine().startsWith("number,at,user,action,kind"));
    EXPECT_FALSE(csv.readAll().contains("555-0144")) << "who somebody is stays in the file";
}

} // namespace
} // namespace kitround::ui
