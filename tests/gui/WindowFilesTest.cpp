// The window and its file: what is said when reading anew fails, older files, backups, the help, the theme
// and the record of changes.
#include "core/desk/Desk.h"
#include "core/desk/words/HelpWords.h"
#include "core/store/Opening.h"
#include "tests/gui/WindowFixture.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Look.h"

#include <QAction>
#include <QDialog>
#include <QFile>
#include <QFileInfo>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QSettings>
#include <QTabWidget>
#include <QTextEdit>

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
